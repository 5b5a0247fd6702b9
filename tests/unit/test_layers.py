"""The order of the modules: imports point down, and outside libraries have one home each.

Read from the source, so that imports inside functions and for type checking only count too.
"""

import ast
import sys
from collections.abc import Iterator, Mapping
from fnmatch import fnmatch
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCES = sorted((ROOT / "parts").rglob("*.py"))
EVERY = [*SOURCES, *sorted((ROOT / "webapp").rglob("*.py"))]

ORDER = """
    errors tolerance condition
    gauge shop_text shop_tree
    units
    geometry shop_data shop_edit hardware
    shop profile finding parameter
    stock measuring machine brake bolting voids bends shop_file way_out
    process pace bend expected truing alike
    job template as_cut
    slowing
    measure bend_table
    record
    artwork read drawing
    shared
    templates rules remedy export
    drawn
    part apart
    own
    batch nest history
    history_csv measuring_sheet
    __init__
"""
"""What stands in one line doesn't know its neighbours, only the lines above."""
LAYER = {name: rank for rank, line in enumerate(ORDER.strip().splitlines()) for name in line.split()}

HOMES = {
    "shapely": ["parts/geometry/view.py"],
    "numpy": [
        "parts/apart.py",
        "parts/geometry/boundary.py",
        "parts/geometry/cells.py",
        "parts/geometry/chords.py",
        "parts/geometry/facing.py",
        "parts/geometry/inscribed.py",
        "parts/geometry/runs.py",
        "parts/geometry/segments.py",
        "parts/geometry/sharp.py",
        "parts/geometry/touches.py",
        "parts/geometry/view.py",
        "parts/geometry/width.py",
        "parts/geometry/tips.py",
        "parts/geometry/extent.py",
        "parts/read/*.py",
        "parts/truing/solve.py",
    ],
    "ezdxf": ["parts/export/dxf*.py", "parts/read/dxf*.py"],
    "pydantic": ["parts/template.py", "parts/parameter.py", "parts/shop*.py", "parts/read/*.py"],
    "pydantic_core": ["parts/template.py", "parts/shop.py"],
    "cadquery": ["parts/export/step.py"],
    "OCP": ["parts/export/step.py"],
    "reportlab": ["parts/export/pdf*.py"],
    "platformdirs": ["parts/shop.py", "parts/history.py"],
    "sqlalchemy": ["parts/history.py"],
    "tomlkit": ["parts/shop_edit.py"],
    "flask": ["webapp/*.py"],
    "werkzeug": ["webapp/*.py"],
    "markupsafe": ["webapp/*.py"],
    "waitress": ["webapp/serve.py"],
}


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def modules(tree: ast.AST) -> Iterator[tuple[str, ast.stmt]]:
    """Every dotted name that is imported anywhere, `from parts import shop` as parts.shop."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are absolute"
            whole = node.module in ("parts", "webapp")
            yield from ((f"{node.module}.{a.name}" if whole else str(node.module), node) for a in node.names)


def imported(path: Path) -> list[str]:
    return [name for name, _ in modules(ast.parse(path.read_text("utf-8")))]


@pytest.mark.parametrize("path", SOURCES, ids=named)
def test_imports_point_down(path):
    own = path.relative_to(ROOT).with_suffix("").parts[1]
    assert own in LAYER, f"{own} has no place in ORDER"
    for name in imported(path):
        first, _, rest = name.partition(".")
        if first != "parts":
            continue
        assert rest, "import what is needed from the package, not the package"
        other = rest.split(".")[0]
        assert other == own or LAYER[other] < LAYER[own], f"{named(path)} may not import parts.{other}"


@pytest.mark.parametrize("path", SOURCES, ids=named)
def test_parts_knows_no_web_page_and_no_test(path):
    assert not {name.split(".")[0] for name in imported(path)} & {"webapp", "tests"}


@pytest.mark.parametrize("path", EVERY, ids=named)
def test_outside_libraries_stay_at_home(path):
    for name in imported(path):
        library = name.split(".")[0]
        if library in sys.stdlib_module_names or library in ("parts", "webapp"):
            continue
        assert library in HOMES, f"{library} has no home"
        assert any(fnmatch(named(path), home) for home in HOMES[library]), f"{library} in {named(path)}"


@pytest.mark.parametrize("path", EVERY, ids=named)
def test_slow_libraries_are_imported_where_they_are_needed(path):
    """Importing cadquery takes about 2 s, so it stands inside the function that makes a solid."""
    waiting: list[ast.AST] = [ast.parse(path.read_text("utf-8"))]
    while waiting:
        node = waiting.pop()
        for_types = isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
        if isinstance(node, ast.Import | ast.ImportFrom):
            assert not {name.split(".")[0] for name, _ in modules(node)} & {"cadquery", "OCP"}
        if not isinstance(node, ast.FunctionDef) and not for_types:
            waiting += ast.iter_child_nodes(node)


def test_no_module_imports_itself_round_about():
    known = {named(path).removesuffix(".py").removesuffix("/__init__").replace("/", "."): path for path in SOURCES}
    follows = {name: _known_imports(path, known) - {name} for name, path in known.items()}
    done: set[str] = set()

    def walk(name: str, trail: tuple[str, ...]) -> None:
        assert name not in trail, " -> ".join((*trail, name))
        if name not in done:
            for other in sorted(follows[name]):
                walk(other, (*trail, name))
            done.add(name)

    for name in sorted(known):
        walk(name, ())


def _known_imports(path: Path, known: Mapping[str, Path]) -> set[str]:
    """The modules imported; of `from parts.rules import loops` the module it means, not its folder."""
    names = set()
    for name, node in modules(ast.parse(path.read_text("utf-8"))):
        aliases = node.names if isinstance(node, ast.ImportFrom) else []
        deeper = {f"{node.module}.{alias.name}" for alias in aliases} & set(known)
        names |= deeper or ({name} & set(known))
    return names


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("import shapely.geometry", ["shapely.geometry"]),
        ("from parts import shop", ["parts.shop"]),
        ("def f():\n    from parts.rules import loops", ["parts.rules"]),
        ("if TYPE_CHECKING:\n    import parts.export.dxf", ["parts.export.dxf"]),
    ],
    ids=["plain", "of the package", "deferred", "for types"],
)
def test_the_reader_sees_every_kind_of_import(text, names):
    assert [name for name, _ in modules(ast.parse(text))] == names
