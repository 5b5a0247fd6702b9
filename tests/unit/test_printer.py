"""Only `parts.units` prints a number with a unit: read from the source of every other module, template and script."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.sources import parsed

ROOT = Path(__file__).parents[2]
PRINTER = ROOT / "parts" / "units"
MODULES = [
    path for room in ("parts", "webapp") for path in sorted((ROOT / room).rglob("*.py")) if PRINTER not in path.parents
]
BELOW = "parts/data/sentences.py:"
"""What is wrong with a data file is said below `parts.units`, which reads such files: a limit and its entry's unit."""
PAGES = sorted((ROOT / "webapp").rglob("*.html"))
SCRIPTS = sorted((ROOT / "static").glob("*.js"))

WORDS = (
    "[mck]?m[\u00b2\u00b323]?|inch|inches|ft|feet|foot|thou|kg|g|lb|lbs|oz|s|sec|seconds?|min|minutes?|h|hours?"
    "|deg|degrees?|millimetres?|metres?|ipm|k?N|MPa"
)
SHORT = "[cm]m[\u00b2\u00b323]?|kg|lb|in[\u00b2\u00b3]?|ft|deg"
"""Units that nobody takes for a plural or the rest of a word where no blank stands before them."""
END = r"(?![\w=:])"
ALONE = r" in(?=$|[.,;:)/\u00b2])"
"""Inches; before a word it is the preposition."""
UNIT = re.compile(rf" ({WORDS}){END}|({SHORT}){END}| ?\u00b0| ?[\u00b5\u03bc]m{END}|\u2033|{ALONE}| ?\{{units?\}}")
"""What makes the number before it a quantity."""
PLACE = re.compile(r"\{[^{}]*\}|%[-+ #0]*\d*(?:\.\d+)?[dfgs]")


def quantities(tree: ast.Module) -> Iterator[int]:
    """Yield the lines that format a number with a unit: in an f-string, for `format` or `%`, or joined with +."""
    nodes = list(ast.walk(tree))
    pieces = {id(piece) for node in nodes if isinstance(node, ast.JoinedStr) for piece in node.values}
    told_by = {id(node.body[0].value) for node in nodes if _has_docstring(node)}
    left_out = pieces | told_by
    yield from (
        node.lineno
        for node in nodes
        if isinstance(node, ast.JoinedStr | ast.BinOp | ast.Constant) and id(node) not in left_out and _prints(node)
    )


def _prints(node: ast.expr) -> bool:
    if isinstance(node, ast.JoinedStr):
        return any(_is_unit(node, i) for i in range(1, len(node.values)))
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        return isinstance(node.right, ast.Constant) and _begins(node.right.value) and _is_number(node.left)
    text = node.value if isinstance(node, ast.Constant) else None
    return isinstance(text, str) and any(UNIT.match(text, place.end()) for place in PLACE.finditer(text))


def _has_docstring(node: ast.AST) -> bool:
    body = getattr(node, "body", None)
    return isinstance(body, list) and bool(body) and isinstance(body[0], ast.Expr)


def _is_unit(of: ast.JoinedStr, i: int) -> bool:
    """Whether a piece of an f-string follows a number and is its unit, or a name for one."""
    before, piece = of.values[i - 1], of.values[i]
    if isinstance(piece, ast.Constant):
        inches = piece.value == '"' and not any(_opens_a_quote(each) for each in of.values)
        return isinstance(before, ast.FormattedValue) and (bool(_begins(piece.value)) or inches)
    blank = isinstance(before, ast.Constant) and before.value == " " and i > 1
    after = isinstance(before, ast.FormattedValue) or blank
    return after and bool(re.search(r"\bunits?\b", ast.unparse(piece)))


def _begins(text: object) -> bool:
    return isinstance(text, str) and bool(UNIT.match(text))


def _opens_a_quote(piece: ast.expr) -> bool:
    return isinstance(piece, ast.Constant) and str(piece.value).endswith('="')


def _is_number(node: ast.expr) -> bool:
    """Whether something joined with a unit is text made of a number."""
    return isinstance(node, ast.JoinedStr) or (
        isinstance(node, ast.Call) and ast.unparse(node.func) in ("str", "repr", "format")
    )


JINJA = re.compile(rf"\}}\}} ?({WORDS}|\u00b0|in(?=[.,;:)<])){END}")
SCRIPT = re.compile(rf"\$\{{[^{{}}]*\}} ?({WORDS}|\u00b0){END}|\+ *[\"'`] ?({SHORT}|\u00b0){END}")


def told(path: Path, lines: Iterator[int]) -> Iterator[str]:
    yield from (f"{path.relative_to(ROOT).as_posix()}:{line}" for line in lines)


def lines_with(pattern: re.Pattern[str], text: str) -> Iterator[int]:
    yield from (number for number, line in enumerate(text.splitlines(), start=1) if pattern.search(line))


def test_no_module_but_the_printer_formats_a_number_with_a_unit():
    assert len(MODULES) > 200
    found = [at for path in MODULES for at in told(path, quantities(parsed(path)))]
    assert [at for at in found if not at.startswith(BELOW)] == []


def test_no_page_and_no_script_puts_a_unit_after_a_number():
    assert len(PAGES) > 8
    assert len(SCRIPTS) > 2
    pages = [at for path in PAGES for at in told(path, lines_with(JINJA, path.read_text("utf-8")))]
    scripts = [at for path in SCRIPTS for at in told(path, lines_with(SCRIPT, path.read_text("utf-8")))]
    assert pages + scripts == []


@pytest.mark.parametrize(
    "source",
    [
        'f"{size} mm"', 'f"{size:.2f} mm wide"', 'f"{size:g}mm"', 'f"{turn:.4g}\u00b0 up"', 'f"{warm} \u00b0C"',
        'f"{feed:.0f} mm/min"', 'f"{feed:.0f} in/min"', 'f"{of:.2f} kg ({of / 2:.2f} lb)"', 'f"({long:.1f} in)"',
        'f"{long:.1f} in"', 'f"{area} mm\u00b2"', "f'{long}\"'", 'f"{long} {units}"', 'f"{long}{record.units}"',
        'f"{speed} {units}/min"', 'f"it takes {time} s to read"', 'f"{far:,.0f} m away"', 'f"{turn} degrees"',
        '"{gt:g}{unit}"', '"{} mm".format(size)', '"{size:g} mm wide"', '"%.2f mm" % size', '"at least %d kg" % most',
        'str(size) + " mm"', 'f"{size}" + "mm"',
    ],
)  # fmt: skip
def test_a_quantity_printed_elsewhere_is_found(source):
    assert list(quantities(ast.parse(f"said = {source}"))) == [1]


@pytest.mark.parametrize(
    "source",
    [
        'f"{what} in {say(thick)} plate"', 'f"{count} {noun}s"', 'f"{share} % of the feed"', '"within 35 ft (10.7 m)"',
        'f"od={od} bolt={bolt}"', "f'<path d=\"{data}\"'", 'f"{counted} more of the kind"', 'f"{one} {other}"',
        'f"{megabytes} MB"', 'f"{name}_mm"', 'f"{words}min={low}"',
    ],
)  # fmt: skip
def test_other_text_is_left_alone(source):
    assert list(quantities(ast.parse(f"said = {source}"))) == []


@pytest.mark.parametrize(
    "line", ["<td>{{ size }} mm</td>", "{{ turn }}\u00b0", "{{ long|round(2) }} in</p>", "{{ w }}kg"]
)
def test_a_unit_after_a_number_in_a_page_is_found(line):
    assert list(lines_with(JINJA, line)) == [1]


@pytest.mark.parametrize("line", ["`${size} mm`", 'say(size.toFixed(1) + " mm")', "`${turn}\u00b0`"])
def test_a_unit_after_a_number_in_a_script_is_found(line):
    assert list(lines_with(SCRIPT, line)) == [1]
