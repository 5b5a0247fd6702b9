"""Off-cuts of the store as stock that a job may be laid out on, and what a sheet leaves as one."""

from collections.abc import Iterable

from parts.orders import OffCut, Sort
from parts.sheets import Laid, off_cut, outline_of, remnant, rings_of
from parts.store import OffCut as KeptOffCut


def as_stock(kept: Iterable[KeptOffCut]) -> tuple[OffCut, ...]:
    """Return off-cuts as stock."""
    return tuple(
        OffCut(each.material, each.thickness_mm, off_cut(outline_of(each.outline), each.number)) for each in kept
    )


def left_of_sheet(sort: Sort, laid: Laid, name: str) -> KeptOffCut | None:
    """Return what is left of a sheet once it is cut, None where that is scrap."""
    left = remnant(laid, sort.gap)
    cut = sort.record.job.cut
    return KeptOffCut(cut.material, cut.thickness_mm, rings_of(left[0]), name) if left else None
