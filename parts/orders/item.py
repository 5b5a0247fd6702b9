"""Items: what the rows of a table order, one for each value of a series.

`part` is the slug of a template or the path of a DXF or SVG beside the table; `quantity`, `name`, `turns` and `mirror`
are of every part, any other column is a parameter. Values are text and are read when the part is drawn.
"""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path
from typing import Literal, TypeAlias, cast, get_args

from parts.checking import DPI, STROKES_CUT, TOLERANCE
from parts.errors import DeclarationError, PartsError, UnitsError, UnknownTemplate, Unreadable, did_you_mean
from parts.orders.naming import file_name, name_fault
from parts.orders.paths import is_path, path_fault
from parts.part import draw
from parts.shop import usual
from parts.spec import Parameters, Spec
from parts.tables import SERIES_KINDS, Cell, Fault, Row, Table, is_series, series
from parts.templates import FORMER, current, modules, template
from parts.units import echo, parse_count, units_of

Turns: TypeAlias = Literal["any", "quarter", "half", "none"]
TURNS: tuple[Turns, ...] = get_args(Turns)
MOST_QUANTITY = 100_000
MOST_ITEMS = 200_000
PIECE, EVERY_PIECE = "piece", "all"
"""The column that orders one piece of what is drawn in several, and the word for each of them as an item of its own."""
_OWN = ("part", "quantity", "name", "turns", "mirror", PIECE)
_OF_DRAWINGS = (TOLERANCE, DPI, STROKES_CUT)
_YES, _NO = ("yes", "y", "true", "1"), ("no", "n", "false", "0", "")


@dataclass(frozen=True, slots=True)
class Item:
    """One part that is ordered: its row, what to call its files, how many, and how it may lie.

    `part` is as the table has it; `drawing` the file that it is, None of a template.
    """

    row: int
    part: str
    name: str
    quantity: int
    turns: Turns
    mirror: bool
    values: Mapping[str, str]
    drawing: Path | None = None


@dataclass(frozen=True, slots=True)
class Ordered:
    """What can be drawn of a table, and what is wrong with the other rows."""

    items: tuple[Item, ...]
    faults: tuple[Fault, ...]


def read_items(table: Table, folder: Path) -> Ordered:
    """Return what a table orders.

    Args:
        table: as it was read.
        folder: beside which drawings are looked for.

    Raises:
        Unreadable: it has no column `part`, one that no part has, or orders too much.
        DataError: the shop's own file is unusable.
    """
    _refuse_columns(table)
    items: list[Item] = []
    faults: list[Fault] = []
    names: dict[str, int] = {}
    for row in table.rows:
        try:
            of_row = list(_items(row, table, folder))
            for item in of_row:
                if (other := names.get(item.name.casefold())) is not None:
                    raise _Wrong("name", item.name, f"is what row {other} is called too, so its files would be one.")
        except _Wrong as wrong:
            faults += [Fault(row.number, *problem) for problem in wrong.problems]
            continue
        names.update((item.name.casefold(), row.number) for item in of_row)
        items += of_row
        if len(items) > MOST_ITEMS:
            raise Unreadable(f"The table orders over {MOST_ITEMS:,} different parts. Split it.")
    return Ordered(tuple(items), tuple(faults))


class _Wrong(Exception):
    """Why a row can't be made: column, value and message of each reason."""

    def __init__(self, *problem: str, more: Sequence[tuple[str, str, str]] = ()) -> None:
        super().__init__()
        self.problems = (*([cast(tuple[str, str, str], problem)] if problem else []), *more)


def _refuse_columns(table: Table) -> None:
    """Refuse a table without `part`, and a column that no part in it has: whatever it says, it would be left out."""
    if "part" not in table.names:
        near = did_you_mean("part", table.names).replace("did you mean", "is it")
        raise Unreadable(f"The table has no column part, which says what each row is{near}")
    known: dict[str, None] = dict.fromkeys((*_OWN, *Parameters.specs(), *_OF_DRAWINGS))
    asked = (row.cells["part"].text.lower() for row in table.rows if "part" in row.cells)
    slugs = {current(slug, {})[0] for slug in asked}
    for slug in slugs & modules().keys():
        with suppress(DeclarationError):  # which each of its rows is refused for
            known.update(dict.fromkeys(template(slug).parameters.specs()))
    for name in table.names:
        if name not in known and not name.startswith("#"):
            near = did_you_mean(name, known)
            said = f"The column {echo(name)} is a parameter of no part in this table{near}"
            raise Unreadable(f"{said} A column to be left aside is called #{name}.")


def _items(row: Row, table: Table, folder: Path) -> Iterator[Item]:
    """Yield the items of a row, one unless it has a series."""
    _refuse_cells(row)
    texts = {name: cell.text for name, cell in row.cells.items()}
    part = texts.pop("part", "")
    if not part:
        raise _Wrong(
            "part", "", "is empty: name a template, such as gusset-triangle, or a DXF or SVG beside the table."
        )
    if now := FORMER.get(part.lower()):
        part, texts = now.slug, {**now.ahead(texts), **texts}
    drawing = _drawing(part, folder) if is_path(part) else None
    specs = Parameters.specs() if drawing else _specs(part)
    quantity, turns, mirror = _own(texts)
    piece = texts.pop(PIECE, "")
    if piece and drawing:
        raise _Wrong(PIECE, piece, "is of a template that draws several: a drawing is ordered whole.")
    first = Item(row.number, part if drawing else part.lower(), "", quantity, turns, mirror, {}, drawing)
    called = texts.pop("name", "")
    values = {name: _decimal(text, specs.get(name), table) for name, text in texts.items() if name not in _OWN}
    _refuse_unknown(values, specs, part, drawing)
    for chosen in _each(values, specs):
        for one in _pieces(first.part, chosen, piece):
            values_of = {**chosen, **({PIECE: one} if one else {})}
            suffix = {name: text for name, text in values_of.items() if text != values.get(name)}
            name = file_name(row.number, drawing.stem if drawing else first.part, called, suffix)
            yield replace(first, name=name, values=values_of)


def _pieces(slug: str, values: Mapping[str, str], asked: str) -> Sequence[str]:
    """The names of the pieces that a row orders: the one it names, or every one; none of what is made whole."""
    if asked.lower() != EVERY_PIECE:
        return (asked,)
    try:
        return draw(slug, **{**_usual(), **values}).pieces or ("",)
    except PartsError:
        return ("",)  # where it is made, it is told why it can't be


def _usual() -> dict[str, str]:
    return {name: text for name, text in usual().model_dump().items() if text}


def _refuse_cells(row: Row) -> None:
    if faults := [(name, cell.text, cell.fault) for name, cell in row.cells.items() if cell.fault]:
        raise _Wrong(more=faults)
    called = row.cells.get("name", Cell("")).text
    if called and (fault := name_fault(called)):
        raise _Wrong("name", called, fault)


def _drawing(part: str, folder: Path) -> Path:
    if fault := path_fault(part, folder):
        raise _Wrong("part", part, fault)
    return folder / part.replace("\\", "/")


def _specs(slug: str) -> Mapping[str, Spec]:
    try:
        return template(slug.lower()).parameters.specs()
    except (UnknownTemplate, DeclarationError) as error:
        near = did_you_mean(slug, modules())
        message = str(error) if isinstance(error, DeclarationError) else f"is no template{near}"
        raise _Wrong("part", slug, message + ("" if near != "." else " `platewright list` names them.")) from error


def _own(texts: dict[str, str]) -> tuple[int, Turns, bool]:
    """Quantity, turns and mirror, taken out of a row."""
    quantity, turns, mirror = (texts.pop(name, "") for name in ("quantity", "turns", "mirror"))
    wrong: list[tuple[str, str, str]] = []
    try:
        count = parse_count(quantity) if quantity else 1
    except UnitsError as error:
        count = 1
        wrong.append(("quantity", quantity, str(error)))
    if not 1 <= count <= MOST_QUANTITY:
        wrong.append(("quantity", quantity, f"must be 1 to {MOST_QUANTITY:,}; a row that isn't wanted is deleted."))
    turned = next((each for each in TURNS if each == (turns.lower() or "quarter")), None)
    if turned is None:
        wrong.append(("turns", turns, f"must be one of {', '.join(TURNS)}{did_you_mean(turns, TURNS)}"))
    if (mirrored := mirror.lower()) not in (*_YES, *_NO):
        wrong.append(("mirror", mirror, "must be yes or no."))
    if wrong or turned is None:
        raise _Wrong(more=wrong)
    return count, turned, mirrored in _YES


def _decimal(text: str, spec: Spec | None, table: Table) -> str:
    """A number with its decimal comma as a point, where no comma parts cells; a text as it is."""
    if not table.decimal_comma or (spec and spec.kind in ("text", "choice")):
        return text
    before, comma, after = text.partition(",")
    is_decimal = comma and before[-1:].isdigit() and after[:1].isdigit() and text.count(",") == 1
    if is_decimal:
        return f"{before}.{after}"
    pieces = text.split("..")
    return "..".join(_decimal(piece, spec, table) for piece in pieces) if comma and len(pieces) == 2 else text


def _refuse_unknown(values: Mapping[str, str], specs: Mapping[str, Spec], part: str, drawing: Path | None) -> None:
    known = (*specs, *_OF_DRAWINGS) if drawing else specs
    whose = "a drawing" if drawing else part
    wrong = [
        (name, text, f"isn't a parameter of {whose}{did_you_mean(name, known)} Leave the cell empty in this row.")
        for name, text in values.items()
        if name not in known
    ]
    if wrong:
        raise _Wrong(more=wrong)


def _each(values: Mapping[str, str], specs: Mapping[str, Spec]) -> Iterator[dict[str, str]]:
    """Yield the values of each part that a row orders: every value of a series with every one of another."""
    units = units_of(values.get("units") or usual().model_dump().get("units"))
    ways: list[tuple[str, ...]] = []
    for name, text in values.items():
        spec = specs.get(name)
        try:
            of_series = spec and spec.kind in SERIES_KINDS and is_series(text)
            ways.append(series(text, spec.kind, units) if spec and of_series else (text,))
        except UnitsError as error:
            raise _Wrong(name, text, str(error)) from error
    for chosen in product(*ways):
        yield dict(zip(values, chosen, strict=True))
