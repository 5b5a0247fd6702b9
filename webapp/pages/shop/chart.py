"""The cut chart of a process for one group of materials: a row a thickness, a column a quantity.

The file keeps each column by itself, and a column of the shop's own replaces the built-in one whole. The chart shows
what holds; where a cell is changed, its column becomes the shop's own, the built-in values that stay in it included
and named as such. A cell left empty is no row: there the value is on the straight line between its neighbours.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from parts import shop
from parts.cutting import Between, between
from parts.data import COPIED, OWN, kind_of
from parts.errors import UnitsError
from parts.shop import ALIASES, ANY, SeriesRow, as_table, builtin, setting_of
from parts.shop.editing import Change
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Units, parse_length
from webapp.pages.shop.fields import QuantityKind, read, said, shown, unit_of

SPARE_ROWS = 3
"""Empty rows at the end, for thicknesses that the chart hasn't yet."""

MOST_ROWS = 200
"""More rows than any chart has; a form with more isn't this page's."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A column: its name in the file, the name of its value in a row, and what it is called."""

    name: str
    value: str
    label: str
    kind: QuantityKind


QUANTITIES = (
    Quantity("kerf", "kerf_mm", "Kerf", "length"),
    Quantity("feed", "feed_mm_s", "Feed", "speed"),
    Quantity("pierce_diameter", "diameter_mm", "Pierce diameter", "length"),
    Quantity("pierce_time", "time_s", "Pierce time", "seconds"),
)


@dataclass(frozen=True, slots=True)
class Held:
    """A row of a column as it holds: its texts on the page, its own tables in the file, and whose it is."""

    thickness: str
    value: str
    thickness_mm: float
    row: Mapping[str, Any]
    is_own: bool


@dataclass(frozen=True, slots=True)
class Chart:
    """The cut chart of one process and one group, in one unit, over one state of the shop's tree."""

    own: Mapping[str, Any]
    process: str
    group: str
    units: Units

    def path(self, quantity: Quantity) -> tuple[str, ...]:
        """Return the table of a column in the file."""
        return ("processes", self.process, quantity.name, self.group)

    def is_own(self, quantity: Quantity) -> bool:
        """Whether the column is the shop's own."""
        return bool(_rows(self.own, self.path(quantity)))

    def held(self, quantity: Quantity) -> list[Held]:
        """Return the rows that hold: the shop's own column, else the built-in, else those for any group."""
        any_group = (*self.path(quantity)[:-1], ANY)
        for path in (self.path(quantity), any_group):
            for tree in (self.own, builtin()):
                if rows := _rows(tree, path):
                    return list(self._held(quantity, rows, is_own=tree is self.own))
        return []

    def _held(self, quantity: Quantity, rows: Sequence[Any], *, is_own: bool) -> Iterator[Held]:
        for row in map(as_table, rows):
            thickness, value = _entry(row, "thickness_mm"), _entry(row, quantity.value)
            if thickness and value:
                text = shown(*thickness, "length", self.units)
                mine = is_own and not str(row.get("source", "")).startswith(COPIED)
                yield Held(text, shown(*value, quantity.kind, self.units), _mm(text, self.units), row, mine)

    def texts(self) -> dict[str, str]:
        """Return what the chart shows before anything is typed, by the names of the fields."""
        columns = [(quantity, self.held(quantity)) for quantity in QUANTITIES]
        every: list[Held] = []
        for _, held in columns:
            every += [row for row in held if _at(every, row.thickness_mm) is None]
        every.sort(key=lambda row: row.thickness_mm)
        out: dict[str, str] = {}
        for place, at in enumerate(every):
            out[f"{place}.thickness"] = at.thickness
            for quantity, held in columns:
                if row := _at(held, at.thickness_mm):
                    out[f"{place}.{quantity.name}"] = row.value
        return out

    def changes(self, typed: Mapping[str, str], was: Mapping[str, str], source: str = "") -> Iterator[Change]:
        """Yield a change for each column in which something was typed; `source` is said of each row typed in."""
        for quantity in QUANTITIES:
            if list(_cells(quantity, typed)) != list(_cells(quantity, was)):
                rows = [self._row(quantity, cell, was, source) for cell in self.sorted_cells(quantity, typed)]
                yield Change(self.path(quantity), "rows", rows or None, "rows")

    def sorted_cells(self, quantity: Quantity, typed: Mapping[str, str]) -> list[tuple[int, str, str]]:
        """Return the place, thickness and value of each filled cell, from thin to thick: rows may be added last."""
        cells = list(_cells(quantity, typed))
        try:
            return sorted(cells, key=lambda cell: parse_length(cell[1], bare=self.units))
        except UnitsError:
            return cells  # the unreadable one is refused where it stands

    def _row(
        self, quantity: Quantity, cell: tuple[int, str, str], was: Mapping[str, str], source: str
    ) -> dict[str, Any]:
        """A cell as a row of the file; one that wasn't touched goes over as it is, with its source."""
        place, thickness, value = cell
        before = _at(self.held(quantity), _mm(thickness, self.units))
        if before and before.value == value == was.get(f"{place}.{quantity.name}", ""):
            carried = not (before.is_own or self.is_own(quantity))
            return dict(before.row) | ({"source": _copied(before.row)} if carried else {})
        key, read_value = read(value, quantity.value, quantity.kind, self.units)
        entry = _entry(before.row, "thickness_mm") if before else None
        if not entry and thickness:
            entry = read(thickness, "thickness_mm", "length", self.units)
        return dict([entry] if entry else []) | {key: read_value} | ({"source": source} if source else {})


@dataclass(frozen=True, slots=True)
class Cell:
    """One field of the chart; `line` is what holds where it is empty, `builtin` what would hold without the shop's.

    `kind` is what kind of number stands in it, `setting` the current, power or edge it holds for.
    """

    id: str
    text: str
    label: str
    unit: str
    line: str = ""
    builtin: str = ""
    note: str = ""
    message: str = ""
    is_own: bool = False
    kind: str = ""
    setting: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """The head of a column; `back` is what its button sends."""

    quantity: Quantity
    unit: str
    is_own: bool
    back: str
    message: str


@dataclass(frozen=True, slots=True)
class ShownChart:
    """The chart as the page shows it; `notes` are the built-in sources by their letters."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[tuple[str, str], ...]


def show(chart: Chart, texts: Mapping[str, str], slips: Mapping[str, str]) -> ShownChart:
    """Return the chart filled in; `slips` are sentences by the name of the field or of the column they are about."""
    letters: dict[str, str] = {}
    last = max((place for name, text in texts.items() if text for place in _place(name)), default=-1)
    columns = tuple(
        Column(q, unit_of(q.kind, chart.units), chart.is_own(q), ".".join(chart.path(q)), slips.get(q.name, ""))
        for q in QUANTITIES
    )
    rows = []
    for place in range(last + 1 + SPARE_ROWS):
        name = f"{place}.thickness"
        thickness = texts.get(name, "")
        first = Cell(name, thickness, "Thickness", chart.units, message=slips.get(name, ""))
        rows.append((first, *(_cell(chart, q, place, thickness, texts, slips, letters) for q in QUANTITIES)))
    return ShownChart(columns, tuple(rows), tuple((letter, source) for source, letter in letters.items()))


def _cell(  # noqa: PLR0913 - one place where all of these meet
    chart: Chart,
    quantity: Quantity,
    place: int,
    thickness: str,
    texts: Mapping[str, str],
    slips: Mapping[str, str],
    letters: dict[str, str],
) -> Cell:
    name = f"{place}.{quantity.name}"
    text = texts.get(name, "")
    mm = _mm(thickness, chart.units)
    held = chart.held(quantity)
    at = _at(held, mm)
    is_own = bool(at and at.is_own)
    base = _builtin(chart, quantity, mm)
    note, instead = "", ""
    if base:
        value, source = base.value, base.source
        if text and not (at and not at.is_own and at.value == text):
            instead = said(value, quantity.kind, chart.units)
        if text:
            note = letters.setdefault(source, _letter(len(letters)))
    line = _line(quantity, held, mm, chart.units) if thickness and not text else ""
    unit = unit_of(quantity.kind, chart.units)
    kind, setting = _kind(at, base) if text else ("", "")
    return Cell(name, text, quantity.label, unit, line, instead, note, slips.get(name, ""), is_own, kind, setting)


def _kind(at: Held | None, base: Between | None) -> tuple[str, str]:
    """Of what kind the number is that stands in a cell, and for which setting it holds."""
    if at is None:
        return "yours", ""
    if not at.is_own and base is not None:
        return base.kind, base.setting
    return ("yours" if at.is_own else kind_of(f"{OWN}: {at.row.get('source', '')}")), setting_of(at.row)


def _builtin(chart: Chart, quantity: Quantity, mm: float) -> Between | None:
    """The built-in value and its source at a thickness, where the built-in column reaches."""
    column = getattr(shop.built_in().processes[chart.process], quantity.name)
    series = column.get(chart.group, column.get(ANY))
    if series is None or not _reaches([row.thickness_mm for row in series.rows], mm):
        return None
    rows: tuple[SeriesRow, ...] = series.rows
    return between(rows, mm)


def _line(quantity: Quantity, held: list[Held], mm: float, units: Units) -> str:
    """What holds at a thickness without a row: the value on the straight line, or that there is none."""
    if not held or not _reaches([row.thickness_mm for row in held], mm):
        return "none"
    rows = []
    for row in held:
        value = _number(row.row, quantity)
        if value is None:
            return ""
        rows.append(SeriesRow.model_construct(thickness_mm=row.thickness_mm, value=value, source=""))
    value = between(tuple(rows), mm).value
    # three figures of what isn't in inches: it is an estimate, and to be told from a number someone wrote
    in_inches = quantity.kind == "length" and units == "in"
    text = said(value if in_inches else float(f"{value:.3g}"), quantity.kind, units)
    return f"({text.split()[0]})"


def _number(row: Mapping[str, Any], quantity: Quantity) -> float | None:
    """The value of a row of the file in mm, mm/s or s; None where it isn't one."""
    entry = _entry(row, quantity.value)
    text = shown(*entry, quantity.kind, "mm") if entry else ""
    try:
        if quantity.kind == "length":
            return parse_length(text)
        return float(text) / (60 if quantity.kind == "speed" else 1)
    except ValueError:
        return None


def _at(held: Iterable[Held], mm: float) -> Held | None:
    """The row at a thickness, however that is written."""
    return next((row for row in held if abs(row.thickness_mm - mm) <= LIMIT_SLACK_MM), None)


def _reaches(thicknesses: Sequence[float], mm: float) -> bool:
    return bool(thicknesses) and min(thicknesses) - LIMIT_SLACK_MM <= mm <= max(thicknesses) + LIMIT_SLACK_MM


def _cells(quantity: Quantity, texts: Mapping[str, str]) -> Iterator[tuple[int, str, str]]:
    """Yield the place, thickness and value of each filled cell of a column, in the order of the rows."""
    for place in sorted({place for name in texts if name.endswith(f".{quantity.name}") for place in _place(name)}):
        if value := texts[f"{place}.{quantity.name}"]:
            yield place, texts.get(f"{place}.thickness", ""), value


def _place(name: str) -> tuple[int, ...]:
    """The row that a field of the chart stands in; nothing for another field."""
    digits = name.partition(".")[0]
    place = int(digits) if digits.isascii() and digits.isdecimal() and len(digits) < 4 else MOST_ROWS
    return (place,) if place < MOST_ROWS else ()


def _rows(tree: Mapping[str, Any], path: Sequence[str]) -> list[Any]:
    here: object = tree
    for word in path:
        here = as_table(here).get(word)
    rows = as_table(here).get("rows")
    return rows if isinstance(rows, list) else []


def _entry(row: Mapping[str, Any], name: str) -> tuple[str, Any] | None:
    return next(((key, value) for key, value in row.items() if ALIASES.get(key, key) == name), None)


def _copied(row: Mapping[str, Any]) -> str:
    source = str(row.get("source", ""))
    return source if source.startswith(COPIED) else f"{COPIED}{source}"


def _mm(text: str, units: Units) -> float:
    try:
        return parse_length(text, bare=units)
    except UnitsError:
        return float("inf")


def _letter(index: int) -> str:
    return chr(ord("a") + index % 26) * (index // 26 + 1)
