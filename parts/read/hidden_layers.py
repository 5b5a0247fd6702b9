"""Hidden layers: what lies on layers that are switched off or frozen, looked at so that no outline is lost unsaid.

It isn't of the drawing as it shows, so nothing of it counts in what the other lines are for, how large the drawing is,
or how long it may take; whoever chooses such a layer has it read like any other.
"""

from collections import Counter
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace

from parts.errors import GeometryError, Unreadable
from parts.geometry import Point
from parts.read.layers import FROZEN, Role, named_in
from parts.read.limits import LARGEST_MM, MOST_HIDDEN, MOST_PLACEMENTS, Budget
from parts.read.outlines import Chain, beside
from parts.read.pieces import LeftOut, Spot, Stroke
from parts.read.raw import Raw


def with_chosen(raw: Raw, chosen: Mapping[str, Role]) -> Raw:
    """Return a drawing as it is with the hidden layers that were chosen, and what is passed over of the others.

    Raises:
        Unreadable: if more lies on them than is followed.
    """
    if not raw.off_counts and not raw.off:
        return raw
    asked = {name.upper() for name in chosen}
    names = {name for name, _ in raw.off_counts} | {item.layer for item in raw.off}
    wanted = {name for name in names if {name.upper(), named_in(name).upper()} & asked}
    if wanted and raw.off_is_cut_short:
        raise Unreadable(
            f"more than {MOST_HIDDEN:,} things or {MOST_PLACEMENTS:,} blocks lie on its hidden layers; show the layer "
            "that is to be read, and save it again"
        )
    hidden = raw.hidden + Counter()
    for (name, why), count in raw.off_counts.items():
        if name not in wanted:
            hidden["on frozen layers" if why == FROZEN else "on layers switched off"] += count
    taken = [item for item in raw.off if item.layer in wanted]
    return replace(
        raw,
        strokes=[*raw.strokes, *(item for item in taken if isinstance(item, Stroke))],
        spots=[*raw.spots, *(item for item in taken if isinstance(item, Spot))],
        left_out=[*raw.left_out, *(item for item in taken if isinstance(item, LeftOut))],
        hidden=hidden,
        off=[item for item in raw.off if item.layer not in wanted],
    )


def chains_of(raw: Raw, unit_mm: float, moved_by: Point, budget: Budget) -> list[Chain]:
    """Return the chains of the hidden layers that weren't chosen, as far as they can be looked at in little time."""
    strokes = [item for item in raw.off if isinstance(item, Stroke)]
    found: list[Chain] = []
    aside = budget.aside()
    with suppress(Unreadable):
        for stroke in strokes:
            with suppress(ArithmeticError, GeometryError):
                found += beside(stroke, unit_mm, moved_by, aside)
            if sum(len(chain.segments) for chain in found[-1:]) > MOST_HIDDEN:
                break
    return [chain for chain in found if _is_near(chain)]


def _is_near(chain: Chain) -> bool:
    return all(abs(v) <= LARGEST_MM for segment in chain.segments for v in segment.box)
