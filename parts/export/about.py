"""About: what every file says of itself, so that the part in it can be drawn again."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import groupby
from typing import Any

from parts.cutting import expected, outside, tolerance_class
from parts.export.formed import radius_notes
from parts.fasteners import said_of_hole
from parts.forming import BendRow
from parts.profile import Bend, Drill, Opening
from parts.record import VERSION, Record
from parts.units import format_angle, format_short_time, format_size, number_in_table, with_unit

LEFT_OUT = "without loading, marks and drilling"
"""What the time at the table is without, as it is said beside it."""


def parameter_texts(record: Record) -> Mapping[str, str]:
    """Return every parameter as the text that reads back to its value, units included."""
    specs = record.specs
    return {name: specs[name].text(value, record.units) for name, value in record.told.items()}


def facts(record: Record) -> Mapping[str, str]:
    """Return version, template and address by the names that every file gives them."""
    known = {
        "platewright_version": VERSION,
        "template": record.template.slug,
        "address": record.address,
    }
    return known if record.compensation is None else {"compensated": record.compensation.sentence, **known}


def form_fact(record: Record) -> Mapping[str, str]:
    """Return in what form a solid shows a set or a bent part, by the name that files give it; nothing of a plate."""
    if record.template.assembly:
        return {"form": "assembled" if record.assembly else "flat"}
    if record.bends:
        return {"form": "bent" if record.is_folded else "flat"}
    is_marked = any(isinstance(mark, Bend) for mark in record.profile.marks)
    return {"form": "flat: it doesn't say to which radius its lines are bent"} if is_marked else {}


def stops(record: Record) -> Iterator[str]:
    """Yield a line for each rule that says `stop`, with its first finding: whoever opens the file later must see it.

    Not one for each finding: some readers take no file for a DXF whose first section starts beyond its first 6 KiB.
    """
    found = [finding for finding in record.findings if finding.severity == "stop"]
    for rule, count in Counter(finding.rule for finding in found).items():
        first = next(finding for finding in found if finding.rule == rule)
        more = f" And {count - 1} more of the kind." if count > 1 else ""
        yield f"{rule}: {first.message} {first.remedy}{more}"


def said(record: Record) -> Iterator[str]:
    """Yield a line each for title, size, stock and the holes to drill, as a person reads them."""
    say, measures = record.job.say, record.measures
    if record.compensation is not None:
        yield record.compensation.sentence
    yield record.template.title
    yield format_size(measures.width_mm, measures.height_mm, record.units)
    yield f"{record.material_title}, {say(record.job.cut.thickness_mm)} thick"
    diameters = sorted(mark.diameter for mark in record.profile.marks if isinstance(mark, Drill))
    for diameter, alike in groupby(diameters):
        yield f"Drill {len(list(alike))} at {say(diameter)}"
    yield from worked_holes(record)


def worked_holes(record: Record) -> Iterator[str]:
    """Yield a line for each kind of hole to which something is done: `Hole, 4: Ø6.8 drill, tap M8`."""
    for (name, said_so), alike in worked_groups(record).items():
        yield f"{name[0].upper()}{name[1:]}, {len(alike)}: {said_so}"


def worked_groups(record: Record) -> Mapping[tuple[str, str], Sequence[Opening | Drill]]:
    """Return the holes to which something is done, those alike together, by their name and what is told of them."""
    found: dict[tuple[str, str], list[Opening | Drill]] = {}
    for hole in record.profile.worked:
        drilled = " drill" if isinstance(hole, Drill) else ""
        size = f"Ø{record.lettered(cut_size(hole))}{drilled}"
        told = said_of_hole(hole, size, record.lettered)
        if isinstance(hole, Opening) and not hole.loop.circle:
            x0, y0, x1, y1 = hole.loop.box
            long, wide = max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0)
            told = f"slot {record.job.say(wide)} wide, {record.job.say(long)} long"
        found.setdefault((hole.name, told), []).append(hole)
    return found


def cut_size(hole: Opening | Drill) -> float:
    """Return the diameter that is cut or drilled, mm; of a slot, its width."""
    if isinstance(hole, Drill):
        return hole.diameter
    ring = hole.loop.circle
    return ring.diameter if ring else hole.work.made if hole.work else 0.0


def bend_rows(record: Record) -> Iterator[tuple[str, ...]]:
    """Yield the bend table: number, way and angle, inside radius, K, allowance, deduction, line from the end.

    Lengths are numbers in the working units, which stand over the table.
    """
    for row in record.bend_table:
        fold = row.fold
        lengths = (fold.allowance, row.deduction)
        yield (
            str(row.number),
            f"{row.way} {format_angle(row.degrees, 4)}",
            number_in_table(fold.radius, record.units),
            f"{fold.k:.3g}",
            *("-" if mm is None else number_in_table(mm, record.units) for mm in lengths),
            "-" if row.from_end is None else number_in_table(row.from_end, record.units, coarse=True),
        )


def bend_notes(record: Record) -> Iterator[str]:
    """Yield what stands under the bend table: the bent part's size, whose its K are, over which V it is bent."""
    rows = record.bend_table
    yield from _bent_size(record)
    yield from radius_notes(record, rows)
    yield from dict.fromkeys(row.neutral.sentence for row in rows)
    bends: dict[str, list[str]] = {}
    for row in rows:
        if row.v_opening is not None:
            bends.setdefault(record.job.say(row.v_opening), []).append(str(row.number))
    if len(bends) == 1:
        yield f"V opening: {next(iter(bends))}."
    elif bends:
        said_of = (f"{opening} at {', '.join(numbers)}" for opening, numbers in bends.items())
        yield f"V opening: {'; '.join(said_of)}."
    yield from _expected_of_bends(record, rows)


def _bent_size(record: Record) -> Iterator[str]:
    """How large the bent part is, and why its sizes overlap on the flat."""
    values: dict[str, Any] = dict(record.parameters)
    size = record.template.parameters.model_construct(None, **values).bent_size
    if size:
        sides = " by ".join(record.number(side) for side in size)
        yield (
            f"Bent: {with_unit(sides, record.units)} over all. Sizes named outside are the bent part's; on the flat "
            "they run past the bend lines."
        )


def _expected_of_bends(record: Record, rows: Sequence[BendRow]) -> Iterator[str]:
    """How far off legs may come out by a test bend's own doubt; all bends of a part are off alike, so they add up."""
    margins = [margin for row in rows if (margin := row.deduction_margin) is not None]
    if not margins:
        return
    say = record.job.say
    each, legs = say(round(max(margins), 2)), say(round(math.fsum(margins), 2))
    said = f"Expected deviation by that test, 95 %: the deduction of a bend \u00b1 {each}"
    bends = "both bends" if len(margins) == 2 else f"all {len(margins)} bends"
    on_one = len(margins) > 1 and len(record.profile.outside) == 1
    both = f"; the sum of the legs, {bends} together, \u00b1 {legs}" if on_one else ""
    yield f"{said}, half of it on the leg on each side{both}."


def expected_said(record: Record) -> str:
    """Return how far the part's longer side may be off, as the class its process usually keeps allows."""
    measures, cut = record.measures, record.job.cut
    found = expected(cut.process, cut.thickness_mm, max(measures.width_mm, measures.height_mm))
    if found is None:
        return "no value for it in ISO 9013" if tolerance_class(cut.process) else "no class in ISO 9013"
    recalled = ", from memory" if found.recalled else ""
    return f"± {record.job.say(found.limit_mm)} (ISO 9013 class {found.tolerance_class}{recalled})"


def outside_said(record: Record) -> str:
    """Return in what a part is outside what ISO 9013's limits are for; nothing where it isn't, or there are none."""
    cut = record.job.cut

    def say(mm: float) -> str:
        return with_unit(record.number(mm), record.job.units)

    found = list(outside(cut.process, cut.thickness_mm, record.profile.outside))
    words = [
        f"{each.value:.3g} times as long as wide (up to {each.most:g})" if each.what == "length to width"
        else f"cut round in {say(each.value)} (from {say(each.least)})" if each.what == "cut length"
        else f"{say(each.value)} thick ({say(each.least)} to {say(each.most)})"
        for each in found
    ]  # fmt: skip
    recalled = ", from memory" if any(each.recalled for each in found) else ""
    return f"{'; '.join(words)}{recalled}" if words else ""


def times_said(record: Record) -> str:
    """Return what the time at the table is made up of; what takes none is left out."""
    m = record.measures
    parts = {
        "cutting": m.cutting_time_s, "lead-ins": m.lead_in_time_s, "pierces": m.pierce_time_s,
        "height probe": m.probe_time_s, "travel": m.travel_time_s,
    }  # fmt: skip
    return ", ".join(f"{name} {format_short_time(seconds)}" for name, seconds in parts.items() if seconds)


def plain(number: float) -> str:
    """Return a number in full precision without an exponent, which not every machine's reader knows."""
    text = repr(float(number) + 0.0)  # the sum makes -0.0 a plain zero
    return f"{Decimal(text):f}" if "e" in text else text
