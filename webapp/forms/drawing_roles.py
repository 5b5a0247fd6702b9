"""Layers and outlines of a drawing as rows of its form: what each is taken for, and what else may be chosen.

The choices of a form that was sent go back with the page: as the rows' own, or hidden where no row shows them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.checking import LAYER, OUTLINE
from parts.read import Account, LayerRow, OutlineRow, Role, said
from parts.units import Units, format_length, format_size
from webapp.forms.form import Option

TITLES: dict[Role, str] = {
    "cut": "Cut", "scribe": "Scribe", "bend": "Bend", "drill": "Drill", "aside": "Leave out",
}  # fmt: skip
_MOST_LEFT_OUT = 40
_MOST_CUT = 12


@dataclass(frozen=True, slots=True)
class RoleRow:
    """One row: a layer or an outline with its colour, what is on it, and its options; `marked` where it is asked."""

    name: str
    id: str
    label: str
    colour: str
    about: str
    options: tuple[Option, ...]
    marked: bool = False


@dataclass(frozen=True, slots=True)
class RoleRows:
    """The rows of a drawing; `more` counts outlines that have none, `hidden` are choices as names and values."""

    layers: tuple[RoleRow, ...] = ()
    left_out: tuple[RoleRow, ...] = ()
    cut: tuple[RoleRow, ...] = ()
    more: int = 0
    hidden: tuple[tuple[str, str], ...] = ()


def role_rows(account: Account | None, units: Units, layers: Sequence[str], outlines: Sequence[str]) -> RoleRows:
    """Return the rows of what a drawing holds; of one that couldn't be read only the choices that were sent."""
    if account is None:
        return RoleRows(hidden=(*((LAYER, text) for text in layers), *((OUTLINE, text) for text in outlines)))
    # what someone chose has a row whatever its size
    every = sorted(account.outlines, key=lambda row: not row.chosen)
    left_out = [row for row in every if not row.cut][:_MOST_LEFT_OUT]
    cut = [row for row in every if row.cut]
    shown = cut[: max(_MOST_CUT, sum(row.chosen for row in cut))]
    numbered = [_outline(row, units, number) for number, row in enumerate((*left_out, *shown))]
    return RoleRows(
        tuple(_layer(row, number) for number, row in enumerate(account.layers)) if account.is_choice else (),
        tuple(numbered[: len(left_out)]),
        tuple(numbered[len(left_out) :]),
        len(every) - len(numbered),
    )


def _layer(row: LayerRow, number: int) -> RoleRow:
    guessed = f"{TITLES[row.role if not row.chosen else row.guess]} (guessed)"
    options = [Option("", guessed, row.chosen is None)]
    options += [Option(f"{row.name}={role}", title, row.chosen == role) for role, title in TITLES.items()]
    about = ", ".join(filter(None, (row.colour_name, _counted(row), *(f"cut {why}" for why in row.why))))
    name = row.name or "Without a name"
    return RoleRow(LAYER, f"layer-{number}", name, row.colour, about, tuple(options), row.is_asked)


def _counted(row: LayerRow) -> str:
    drawn = f"{row.count:,} drawn"
    if row.aside or row.marked:
        said = f"{row.aside:,} closed left out" if row.aside else f"{row.marked:,} closed and not cut"
        return f"{drawn}, {said}"
    return f"{drawn}, {row.cut:,} outline{'' if row.cut == 1 else 's'} cut" if row.cut else drawn


def _outline(row: OutlineRow, units: Units, number: int) -> RoleRow:
    x0, y0, x1, y1 = row.seated
    box = said(row.box)
    label = format_size(x1 - x0, y1 - y0, units)
    place = f"at {format_length(x0, units)}, {format_length(y0, units)}"
    about = f"{place}, on {row.layer or 'no layer'}"
    return RoleRow(OUTLINE, f"outline-{number}", label, "", about, tuple(_choices(row, box)))


def _choices(row: OutlineRow, box: str) -> Iterator[Option]:
    now, other = ("cut", "aside") if row.cut else ("aside", "cut")
    titles = {"cut": "Cut", "aside": "Left out"}
    yield Option(f"{box}={now}" if row.chosen else "", titles[now], True)
    yield Option("" if row.chosen else f"{box}={other}", {"cut": "Cut", "aside": "Leave out"}[other], False)
