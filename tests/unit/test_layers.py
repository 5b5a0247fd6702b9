"""The rooms: imports point down, other rooms are asked through their interfaces, outside libraries have one home each.

Read from the source, so that imports inside functions and for type checking only count too. Each test tells all that
is wrong at once.
"""

import ast
import sys
from collections.abc import Iterator
from fnmatch import fnmatch
from functools import cache
from pathlib import Path

import pytest

from tests.sources import parsed

ROOT = Path(__file__).parents[2]
SOURCES = sorted((ROOT / "parts").rglob("*.py"))
EVERY = [*SOURCES, *sorted((ROOT / "webapp").rglob("*.py"))]

ORDER = """
    cached errors tolerance wanted
    data database workers
    units
    geometry tables
    profile shop
    artwork fasteners finding forming sheets
    truing
    cutting read
    spec
    record remedy rules templates
    numbers catalogue pieces store
    boltup drawing facets picture setup
    export
    part
    checking ways packing reopen
    mating tracing orders
    jobs
    laying
    __init__
"""
"""The rooms, and the modules of the spine between them. What stands in one line doesn't know its neighbours, only the
lines above."""
LAYER = {name: rank for rank, line in enumerate(ORDER.strip().splitlines()) for name in line.split()}
WEB_ORDER = """
    forms wording workers job_words
    openapi
    pages commands files api errors
    app cli
    __init__
    __main__
"""
"""The same of `webapp`: pages and commands don't know each other. The command that serves, and the
worker that answers, wait for the application inside a function, which is named in AROUND."""
WEB_LAYER = {name: rank for rank, line in enumerate(WEB_ORDER.strip().splitlines()) for name in line.split()}
AROUND = {
    ("webapp/commands/serve/command.py", "webapp.create_app"),
    ("webapp/workers/answering.py", "webapp.create_app"),
}
LOOSE = {"app", "files", "api", "errors", "cli", "__main__"}
SPINE = {"cached", "errors", "tolerance", "wanted", "profile", "finding", "record", "part"}

HOMES = {
    "shapely": [
        *("parts/geometry/area/*", "parts/geometry/view.py"),
        *("parts/artwork/*", "parts/templates/sign/*", "parts/templates/outline/*", "parts/tracing/*"),
        "parts/templates/shared/plates/*",
        "parts/sheets/*",
        "parts/facets/*",
    ],
    "contourpy": ["parts/artwork/pictures/*"],
    "PIL": ["parts/artwork/pictures/*", "parts/picture/*", "parts/export/png.py"],
    "fontTools": ["parts/artwork/glyphs/*"],
    "uharfbuzz": ["parts/artwork/glyphs/*"],
    "tinycss2": ["parts/read/svg/*"],
    "scipy": ["parts/sheets/*", "parts/artwork/*", "parts/picture/scene.py"],
    "numpy": [
        *("parts/geometry/*", "parts/sheets/*"),
        *("parts/artwork/*", "parts/templates/sign/*", "parts/templates/outline/*"),
        "parts/drawing/*",
        "parts/facets/*",
        "parts/picture/*",
        "parts/export/png.py",
        "parts/read/*",
        "parts/checking/limited.py",
        "parts/boltup/*",
        *("parts/truing/linear.py", "parts/truing/solve.py", "parts/truing/unchecked.py"),
        *("parts/truing/bend/solve.py", "parts/truing/bend/solution.py"),
    ],
    "ezdxf": ["parts/export/dxf*.py", "parts/read/dxf/*"],
    "pydantic": [
        *(
            "parts/data/*",
            "parts/shop/*",
            "parts/read/*",
            "parts/spec/parameters.py",
            "parts/spec/kinds.py",
            "parts/spec/parameter.py",
        ),
        *("parts/units/gauge.py", "parts/units/inch_sizes.py", "parts/units/entries.py", "parts/fasteners/bolts.py"),
        *(
            "parts/fasteners/distances.py",
            "parts/fasteners/hole_tables.py",
            "parts/fasteners/making.py",
            "parts/cutting/expected.py",
            "parts/forming/air_bending.py",
            "parts/forming/neutral.py",
            "parts/boltup/assumed.py",
        ),
        *("parts/artwork/lettering.py", "parts/artwork/face_table.py"),
        "webapp/openapi/*",
    ],
    "pydantic_core": ["parts/spec/parameters.py", "parts/data/sentences.py", "parts/shop/numbers.py"],
    "cadquery": [],
    "OCP": [
        "parts/export/step.py",
        "parts/export/solid.py",
        "parts/export/fold.py",
        "parts/export/shell.py",
        "parts/export/glb.py",
        "parts/export/step_assembly.py",
    ],
    "reportlab": ["parts/export/pdf*.py"],
    "platformdirs": ["parts/shop/numbers.py", "parts/truing/history/place.py", "webapp/pages/catalogue/kept.py"],
    "sqlalchemy": ["parts/database/*", "parts/truing/history/database.py", "parts/store/*"],
    "spyrrow": ["parts/sheets/strip/child.py"],
    "distributed": ["parts/orders/cluster.py"],
    "tomlkit": ["parts/shop/editing/edit.py"],
    "flask": ["webapp/*"],
    "werkzeug": ["webapp/*"],
    "markupsafe": ["webapp/*"],
    "waitress": ["webapp/commands/serve/listening.py"],
}


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def dotted(path: Path) -> str:
    return named(path).removesuffix(".py").removesuffix("/__init__").replace("/", ".")


KNOWN = {dotted(path): path for path in EVERY}
PACKAGES = {name for name, path in KNOWN.items() if path.name == "__init__.py"}


def room(name: str) -> str:
    """The second word of a dotted name: of `parts.rules.bridge_width`, `rules`."""
    return (*name.split("."), "__init__")[1]


def modules(tree: ast.AST) -> Iterator[tuple[str, ast.stmt]]:
    """Every dotted name that is imported anywhere, `from parts import shop` as parts.shop."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are absolute"
            whole = node.module in ("parts", "webapp")
            yield from ((f"{node.module}.{a.name}" if whole else str(node.module), node) for a in node.names)


@cache
def imports(path: Path) -> list[tuple[str, ast.stmt]]:
    return list(modules(parsed(path)))


def imported(path: Path) -> list[str]:
    return [name for name, _ in imports(path)]


@cache
def _offered(package: str) -> set[str]:
    """The names that an interface binds: imports and functions of its own; of no other module any."""
    if package not in PACKAGES:
        return set()
    body = list(ast.walk(parsed(KNOWN[package])))
    own = {node.name for node in body if isinstance(node, ast.FunctionDef)}
    named = {a.asname or a.name for node in body if isinstance(node, ast.ImportFrom) for a in node.names}
    return own | named


def test_every_room_has_its_place_and_says_what_it_is_for():
    assert {room(dotted(path)) for path in SOURCES} == set(LAYER)
    silent = [name for name in PACKAGES if not (ast.get_docstring(parsed(KNOWN[name])) or "")]
    assert not silent


def test_nothing_but_the_spine_stands_loose():
    assert {path.stem for path in (ROOT / "parts").glob("*.py")} - {"__init__"} == SPINE
    assert {path.stem for path in (ROOT / "webapp").glob("*.py")} - {"__init__"} == LOOSE


def test_imports_point_down():
    wrong = [
        f"{named(path)} may not import parts.{room(name)}"
        for path in SOURCES
        for name in imported(path)
        if name.split(".")[0] == "parts"
        and room(name) != room(dotted(path))
        and LAYER[room(name)] >= LAYER[room(dotted(path))]
    ]
    assert not wrong


def test_imports_of_the_web_point_down():
    wrong = [
        f"{named(path)} may not import {name}"
        for path in sorted((ROOT / "webapp").rglob("*.py"))
        for name in imported(path)
        if name.split(".")[0] == "webapp"
        and (named(path), name) not in AROUND
        and room(name) != room(dotted(path))
        and WEB_LAYER[room(name)] >= WEB_LAYER[room(dotted(path))]
    ]
    assert not wrong


def test_other_rooms_are_asked_through_their_interfaces():
    wrong = [
        f"{named(path)} imports {name}"
        for path in EVERY
        for name in _known_imports(path)
        if name not in PACKAGES
        and room(name) not in SPINE | LOOSE
        and not dotted(path).startswith(".".join(name.split(".")[:2]))
    ]
    assert not wrong


def test_parts_knows_no_web_page_and_no_test():
    wrong = [named(path) for path in SOURCES if {name.split(".")[0] for name in imported(path)} & {"webapp", "tests"}]
    assert not wrong


def test_outside_libraries_stay_at_home():
    ours = {*sys.stdlib_module_names, "parts", "webapp"}
    wrong = [
        f"{library} in {named(path)}"
        for path in EVERY
        for library in {name.split(".")[0] for name in imported(path)} - ours
        if not any(fnmatch(named(path), home) for home in HOMES.get(library, ()))
    ]
    assert not wrong


def test_slow_libraries_are_imported_where_they_are_needed():
    """Importing cadquery takes about 2 s, so it stands inside the function that makes a solid."""
    wrong = []
    for path in EVERY:
        waiting: list[ast.AST] = [parsed(path)]
        while waiting:
            node = waiting.pop()
            for_types = isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
            if isinstance(node, ast.Import | ast.ImportFrom):
                wrong += [named(path) for name, _ in modules(node) if name.split(".")[0] in ("cadquery", "OCP")]
            if not isinstance(node, ast.FunctionDef) and not for_types:
                waiting += ast.iter_child_nodes(node)
    assert not wrong


def test_what_is_alike_keeps_its_order_on_every_processor():
    """By itself `argsort` leaves what is alike in an order of its own, another on each kind of processor."""
    calls = [(path, node) for path in EVERY for node in ast.walk(parsed(path)) if isinstance(node, ast.Call)]
    sorting = [(path, node) for path, node in calls if getattr(node.func, "attr", "") in ("argsort", "argpartition")]
    unstable = [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path, node in sorting
        if not any(each.arg == "kind" and ast.unparse(each.value) == "'stable'" for each in node.keywords)
    ]
    assert sorting
    assert not unstable, 'say kind="stable"'


def test_no_module_imports_itself_round_about():
    follows = {name: _known_imports(path) - {name} for name, path in KNOWN.items()}
    done: set[str] = set()

    def walk(name: str, trail: tuple[str, ...]) -> None:
        assert name not in trail, " -> ".join((*trail, name))
        if name not in done:
            for other in sorted(follows[name]):
                walk(other, (*trail, name))
            done.add(name)

    for name in sorted(KNOWN):
        walk(name, ())


@cache
def _known_imports(path: Path) -> set[str]:
    """The modules imported; of `from parts.rules import loops` the module it means, unless that is offered."""
    names = set()
    for name, node in imports(path):
        aliases = {alias.name for alias in node.names} if isinstance(node, ast.ImportFrom) else set()
        if KNOWN.get(name) != path:
            aliases -= _offered(name)
        deeper = {f"{node.module}.{alias}" for alias in aliases} & set(KNOWN)
        names |= deeper or ({name} & set(KNOWN))
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
