"""A layout as it is kept with its job: what it was asked for by, and where on which sheet every part lies.

Lengths are mm. A part lies mirrored in x if so, then turned counter-clockwise about its own origin, then moved. What is
pinned stays where it is when the job is laid out again.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeAlias

Rings: TypeAlias = tuple[tuple[tuple[float, float], ...], ...]
"""An outline: its outer ring first, then its openings."""
MOST_LYING = 5_000
MOST_SHEETS = 500


@dataclass(frozen=True, slots=True)
class Lying:
    """Where one of a line lies."""

    line: int
    x: float
    y: float
    turn_deg: float = 0.0
    mirrored: bool = False
    is_pinned: bool = False


@dataclass(frozen=True, slots=True)
class KeptSheet:
    """A sheet with what lies on it.

    An off-cut has its number in the store and its outline; `is_cut` is of one that was cut, and isn't there any more.
    """

    width: float
    height: float
    lying: tuple[Lying, ...]
    off_cut: int = 0
    outline: Rings = ()
    is_cut: bool = False


@dataclass(frozen=True, slots=True)
class KeptLayout:
    """Sheets, and what they were asked for by, as it was typed: sizes, gap, margin, seconds."""

    sheets: tuple[KeptSheet, ...]
    sheet: str = ""
    gap: str = ""
    margin: str = ""
    time: str = ""
    even_so: bool = False
    off_cuts: bool = False

    @property
    def pinned(self) -> int:
        """How many parts are pinned."""
        return sum(each.is_pinned for sheet in self.sheets for each in sheet.lying)

    @property
    def stays(self) -> tuple[KeptSheet, ...]:
        """What of it stays when the job is laid out again: what is pinned, and sheets that were cut."""
        each = (s if s.is_cut else replace(s, lying=tuple(e for e in s.lying if e.is_pinned)) for s in self.sheets)
        return tuple(sheet for sheet in each if sheet.lying)

    def unpinned(self) -> "KeptLayout":
        """Return it with nothing pinned."""
        free = (replace(s, lying=tuple(replace(each, is_pinned=False) for each in s.lying)) for s in self.sheets)
        return replace(self, sheets=tuple(free))


def layout_said(before: KeptLayout | None, after: KeptLayout | None) -> tuple[str, str]:
    """Return two layouts in a few words each, that tell them apart; nothing of one that isn't there."""
    one, other = ("; ".join(_said(each)) if each else "" for each in (before, after))
    if before and after and before != after and one == other:
        was = {each for sheet in before.sheets for each in sheet.lying}
        put = sum(each not in was for sheet in after.sheets for each in sheet.lying)
        other = f"{other}; {put} elsewhere" if put else f"{other}; laid out otherwise"
    return one, other


def _said(layout: KeptLayout) -> Iterator[str]:
    sheets, parts = len(layout.sheets), sum(len(sheet.lying) for sheet in layout.sheets)
    yield f"{parts} part{'' if parts == 1 else 's'} on {sheets} sheet{'' if sheets == 1 else 's'}"
    if layout.pinned:
        yield f"{layout.pinned} pinned"
    if cut := sum(sheet.is_cut for sheet in layout.sheets):
        yield f"{cut} cut"
