"""A set-up in words: the lines of its sheet, each number with the kind that it is of."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.export.about import LEFT_OUT, times_said
from parts.finding import verdict
from parts.numbers import Rest, of_process
from parts.profile import Bend, Drill
from parts.setup import Drop, SetUp, Step, Used, grouped
from parts.units import (
    format_by,
    format_current,
    format_gas,
    format_hours,
    format_kerf,
    format_liquid,
    format_mass,
    format_mass_in,
    format_minutes,
    format_money,
    format_rough,
    format_seconds,
    format_speed,
    format_time,
    per_minute,
    with_unit,
)

BOOK = "machine's book"
"""What tells a number that isn't in the data."""
PLACES = 4
"""Places of openings of one size that are told; how many more there are is counted."""
NOT_GIVEN = "not given"
ORDER = (
    "What lies inside first, small before large, each next one far from the last so that no place gets hot; the "
    "outside last, led in so that its cut ends on the side away from the clamp, which is taken to be at the lower left "
    "(common practice)."
)


@dataclass(frozen=True, slots=True)
class Setting:
    """A number that is set at the machine: what it is called, what it is, and of what kind."""

    label: str
    text: str
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Lines of the sheet under a heading; a line may begin with a name."""

    title: str
    lines: tuple[tuple[str, str], ...]


def settings(of: SetUp) -> tuple[Setting, ...]:
    """Return what is set at the machine."""
    job, units = of.record.job, of.record.job.units
    rests = {rest.name: rest for rest in of_process(job.cut)}
    feed = rests["feed"]
    pierce, cut = (
        Setting(label, job.say(height.mm) if height.mm else BOOK, height.kind if height.mm else "")
        for label, height in (("Pierce height", of.pierce_height), ("Cut height", of.cut_height))
    )
    return (
        *_setting_of(of, feed),
        Setting("Feed", format_speed(job.cut.feed_mm_s, units), feed.kind),
        Setting("Kerf", format_kerf(job.cut.kerf_mm, units), rests["kerf"].kind),
        pierce,
        Setting("Pierce time", _pierce_time(job.cut.pierce_time_s), rests["pierce time"].kind),
        cut,
    )


def _pierce_time(seconds: float) -> str:
    return format_seconds(round(seconds, 2 if seconds < 1 else 1))


def _setting_of(of: SetUp, feed: Rest) -> Iterator[Setting]:
    """The current, the power or the edge that the feed is for."""
    if of.duty.current_a:
        yield Setting("Current", format_current(of.duty.current_a), feed.kind)
    elif feed.setting:
        yield Setting("Holds for", feed.setting, feed.kind)


def glance(of: SetUp) -> tuple[Setting, ...]:
    """Return what a person wants to know of the part at a glance."""
    m, units = of.record.measures, of.record.job.units
    mass = format_mass(m.mass_kg, units)
    return (
        Setting("Material", of.record.material_title),
        Setting("Thickness", of.record.job.say(of.record.job.cut.thickness_mm)),
        Setting("Time at the table", format_time(m.cut_time_s)),
        Setting("Pierces", str(m.pierces)),
        Setting("Cut length", format_rough(m.cut_length_mm, units)),
        Setting("Weight", mass),
    )


def warnings(of: SetUp) -> Iterator[str]:
    """Yield what has to be seen before anything else: what stops the part, and what one person doesn't lift."""
    said = verdict(of.record.rows)
    if said.stops:
        yield f"{said.line}. See the part's page."
    if of.lift.is_over:
        mass, limit = (format_mass(kg, of.record.job.units) for kg in (of.record.measures.mass_kg, of.lift.limit_kg))
        yield f"Heavy: {mass}, over {limit} ({of.lift.kind}). Two people or a hoist; local rules come first."


def order_lines(of: SetUp, most: int) -> Iterator[tuple[str, str]]:
    """Yield the steps, those of one size in one line, each with its numbers; no more than `most` lines."""
    groups = grouped(of.steps)
    shown = groups if len(groups) <= most else [*groups[: most - 2], groups[-1]]
    for i, group in enumerate(shown):
        if len(shown) < len(groups) and i == len(shown) - 1:
            left = groups[most - 2 : -1]
            first, last = left[0][0].number, left[-1][-1].number
            yield _numbers(first, last), f"{last - first + 1} more, in the order of the set-up's JSON"
        yield _numbers(group[0].number, group[-1].number), _group(of, group)


def _numbers(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}\u2013{last}"


def _group(of: SetUp, group: Sequence[Step]) -> str:
    """What the steps of one size are, how large, and where."""
    step, job = group[0], of.record.job
    names = dict.fromkeys(re.sub(r" [0-9]+$", "", each.name) for each in group)
    name = next(iter(names)) if len(names) == 1 else "openings"
    many = f"{len(group)} \u00d7 " if len(group) > 1 else ""
    size = (
        f"\u00d8 {job.say(step.diameter)}"
        if step.diameter
        else format_by(of.record.number(step.width), of.record.number(step.height), job.units)
    )
    if step.side == "outside" and len(of.record.profile.outside) == 1:
        return f"{many}{name}, {size}"
    number = of.record.number
    places = [f"({number(x)},{number(y)})" for x, y in (each.at for each in group[:PLACES])]
    more = f" and {len(group) - PLACES} more" if len(group) > PLACES else ""
    return f"{many}{name}, {size}: middle at {', '.join(places)}{more}"


def order_notes(of: SetUp) -> Iterator[str]:
    """Yield what is said under the order."""
    yield ORDER
    if of.more_travel_s >= 1:
        yield (
            f"The time above is for the shortest ways; in this order those between the cuts take "
            f"{format_time(of.more_travel_s)} more."
        )
    yield from _afterwards(of)


def _afterwards(of: SetUp) -> Iterator[str]:
    """Yield what is marked and done once the part is cut: holes to drill, bends."""
    marks = of.record.profile.marks
    diameters = Counter(mark.diameter for mark in marks if isinstance(mark, Drill))
    drilled = ", ".join(f"{count} \u00d7 \u00d8 {of.record.job.say(d)}" for d, count in sorted(diameters.items()))
    if drilled:
        yield f"Afterwards drill {drilled}, where the centres are marked."
    if bends := sum(isinstance(mark, Bend) for mark in marks):
        yield f"Afterwards bend {bends} time{'' if bends == 1 else 's'}, by the table on the drawing."


def sections(of: SetUp) -> tuple[Section, ...]:
    """Return all else that the sheet says, in its order; what has no line is left out."""
    every = (
        Section("Pierce and lead-in", tuple(_pierce(of))),
        Section("Time and power source", tuple(_duty(of))),
        Section("Stock", tuple(_stock(of))),
        Section("It uses", tuple(_uses(of))),
        Section("Cost of one part, by the shop's rates", tuple(_cost(of))),
        Section("Checks (common practice)", tuple(("", line) for line in of.checks)),
        Section("Cautions", tuple(("", line) for line in _cautions(of))),
    )
    return tuple(section for section in every if section.lines)


def _pierce(of: SetUp) -> Iterator[tuple[str, str]]:
    cut = of.record.job.cut
    rests = {rest.name: rest.kind for rest in of_process(cut)}
    yield "Lead-in", f"{_reckoned(of, cut.lead_in_mm)} or more, {rests['lead-in']}"
    crater, off = (_reckoned(of, mm) for mm in (cut.pierce_diameter_mm, of.clear_of_crater))
    yield "Crater", f"{crater} across, {rests['pierce diameter']}: pierce at least {off} off the outline"
    half = format_kerf(cut.kerf_mm / 2, of.record.job.units)
    yield "Offset", f"{half} to each side, half the kerf"


def _reckoned(of: SetUp, mm: float) -> str:
    return with_unit(of.record.number(mm), of.record.job.units)


def _roughly(of: SetUp, *sides: float) -> str:
    """Two lengths of stock, which is cut no finer than to the mm or the tenth of an inch."""
    units = of.record.job.units
    along, across = (format_rough(side, units).removesuffix(f" {units}") for side in sides)
    return format_by(along, across, units)


def _duty(of: SetUp) -> Iterator[tuple[str, str]]:
    duty = of.duty
    yield "Time", f"{format_time(of.record.measures.cut_time_s)}, {LEFT_OUT}: {times_said(of.record)}"
    is_arc = duty.percent is not None
    yield ("Arc on" if is_arc else "Cutting"), f"{format_time(duty.on_s)} of it, pierces and lead-ins with it"
    if duty.percent is None:
        return
    allowed = format_time(duty.allowed_s)
    at = f" at {format_current(duty.current_a)}" if duty.current_a else " (the chart says no current)"
    yield "Duty cycle", f"{duty.percent:.3g} %{at}, {duty.kind}: {allowed} of any ten (IEC 60974-1)"
    if duty.current_a and duty.current_a > duty.rated_a:
        yield (
            "Current",
            f"more than the {format_current(duty.rated_a)} it is rated at: see that the source gives so much",
        )
    alone, in_a_row = format_time(duty.busiest_s), format_time(duty.busiest_in_a_row_s)
    if duty.rest_within:
        yield (
            "Rest",
            (
                f"one part has the arc on for {alone} of ten minutes: after each {allowed} of arc let the source stand "
                f"{format_time(duty.off_s)} with its fan on, {format_time(duty.rest_in_all_s)} in all"
            ),
        )
        return
    yield "One part", f"on {alone} of any ten minutes: no rest"
    if duty.rest_s:
        yield (
            "In a row",
            (
                f"without a break on {in_a_row} of any ten: let the source stand {format_time(duty.rest_s)} after each "
                "part, its fan on"
            ),
        )
    else:
        yield "In a row", f"without a break on {in_a_row} of any ten: no rest"


def _stock(of: SetUp) -> Iterator[tuple[str, str]]:
    blank, number, units = of.blank, of.record.number, of.record.job.units
    margin, size = format_rough(blank.margin, units), _roughly(of, blank.width, blank.height)
    yield "Blank", f"{size}, {margin} left all round ({blank.kind}); {format_mass(blank.mass_kg, units)}"
    sheet = format_by(number(blank.sheet[0]), number(blank.sheet[1]), units)
    if not blank.fits:
        yield "Sheet", f"{sheet}: it doesn't hold the blank, not turned either; a larger one is needed"
        return
    turned = " after a quarter turn" if blank.turned else ""
    yield "Sheet", f"{sheet}: one blank in its corner{turned} leaves {_drop(of, blank.drop)}"
    rows = blank.rows
    more = " after a quarter turn" if rows.turned else ""
    yield "Rows", f"{rows.count} such parts on one sheet{more}, in straight rows: {100 * rows.share:.0f} % of it"


def _drop(of: SetUp, drop: Drop | None) -> str:
    if drop is None:
        return "nothing"
    return f"{_roughly(of, drop.length, drop.width)}, cut right across"


def _uses(of: SetUp) -> Iterator[tuple[str, str]]:
    for each in of.supplies:
        rate, amount = (_amount(of, each, value) for value in (each.per_minute, each.amount))
        yield each.title, f"{amount} at {per_minute(rate)}, {each.kind}"
    wear = of.wear
    lasts = [f"{wear.pierces:.0f} pierces"] if wear.pierces else []
    lasts += [f"{format_hours(wear.hours)} of cutting"] if wear.hours else []
    if wear.parts is None:
        yield "Consumables", "what a set lasts isn't in the data"
        return
    parts = (
        f"{wear.parts} such part{'' if wear.parts == 1 else 's'}" if wear.parts else "less than one part: have a set by"
    )
    yield "Consumables", f"a set lasts {' or '.join(lasts)}, {wear.kind}: {parts}, ended by its {wear.by}"


def _amount(of: SetUp, each: Used, value: float) -> str:
    units = of.record.job.units
    if each.counted == "solid":
        return format_mass_in(value, units)
    return format_gas(value, units) if each.counted == "gas" else format_liquid(value, units)


def _cost(of: SetUp) -> Iterator[tuple[str, str]]:
    cost = of.cost
    if not cost.is_given:
        missing = ", ".join(cost.missing)
        yield "", f"Not given: {missing}. The shop's own rates are set on the page Your machine, or in its file."
        return
    for item in cost.items:
        if item.amount is not None:
            yield item.name.capitalize(), f"{format_money(item.amount, cost.currency)}{_of_item(of, item.of)}"
    if cost.missing:
        yield "Together", f"{format_money(cost.given, cost.currency)} without {', '.join(cost.missing)}: not given"
        return
    yield "Cost", format_money(cost.given, cost.currency)
    if cost.price is None:
        yield "Price", f"{NOT_GIVEN}: the shop hasn't said what it puts on top"
    else:
        yield "Price", f"{format_money(cost.price, cost.currency)}, {cost.markup_percent:g} % on top"


def _of_item(of: SetUp, by: str) -> str:
    """What an item of the cost is reckoned by."""
    rest = of.duty.rest_in_all_s
    with_rest = f" and {format_time(rest)} of rest" if rest else ""
    if by == "blank":
        return f", the blank's {format_mass_in(of.blank.mass_kg, of.record.job.units)}"
    if by == "table":
        return f", the time at the table{with_rest}"
    if by == "handling":
        return f", the same and {format_minutes(of.handling_s / 60)} of handling ({of.handling.kind})"
    return f", {100 * of.wear.share:.2g} % of a set" if by == "set" else ""


def _cautions(of: SetUp) -> Iterator[str]:
    yield from of.record.cautions
    yield from (f"{routine.message} {routine.remedy}" for routine in of.record.routine)


def title(of: SetUp) -> str:
    """Return what the sheet is called."""
    return f"Set-up sheet: {of.record.template.title}"


def size_said(of: SetUp) -> str:
    """Return the part's size with its unit."""
    return of.record.size if " " in of.record.size else with_unit(of.record.size, of.record.job.units)
