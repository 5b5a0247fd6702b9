"""Said: the outcome of a bolt-up in sentences, what is taken for granted, and what to be careful of."""

from collections import Counter
from collections.abc import Iterator

from parts.boltup import assumed
from parts.errors import UnitsError
from parts.fasteners import FITS, bolts, clearance_hole_mm, said_bolt
from parts.mating.outcome import BoltUp
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import format_fine, format_length

_MOST_NAMED = 6


def lines(of: BoltUp) -> Iterator[str]:
    """Yield what there is to say, the chance first."""
    if not of.is_whole:
        yield "Not every hole lies over one of the other part: the answer is of those alone that do."
    yield f"{_count(of)}: {_chance(of)}."
    yield _worst(of)
    yield _safe(of)
    for letter, alone in (("A", of.joint.alone_a), ("B", of.joint.alone_b)):
        if alone:
            yield f"Without a partner in {letter}: {_named(list(alone))}."


def _count(of: BoltUp) -> str:
    of_each = Counter(said_bolt(pair.bolt, of.asked.units) for pair in of.joint.pairs)
    return ", ".join(f"{count} x {bolt}" for bolt, count in sorted(of_each.items()))


def _chance(of: BoltUp) -> str:
    told = of.answer
    lie = "laid as drawn" if of.asked.is_held else "shifted and turned as needed"
    within = f", {percent(told.low)} to {percent(told.high)}" if told.method == "trials" else ""
    how = f"{told.trials:,} trials" if told.method == "trials" else "in closed form"
    return f"all enter with a chance of {percent(told.chance)}{within}, {lie} ({how})"


def percent(share: float) -> str:
    """Return a chance as it is said: `97.3 %`; one that isn't whole never as 0 or 100 %."""
    if 0.999 <= share < 1:
        return "over 99.9 %"
    if 0 < share < 0.001:
        return "under 0.1 %"
    return f"{100 * share:.1f} %".replace(".0 %", " %")


def _worst(of: BoltUp) -> str:
    told, pairs = of.answer, of.joint.pairs
    if told.chance >= 1 - told.unsure and len(pairs) > 1:
        return "No hole stands out: all but every trial goes together."
    if len(told.worst) > len(pairs) / 2 and len(pairs) > 1:
        return "No hole stands out: each is as likely to be the one."
    names = [f"{pairs[k].a.name} of A over {pairs[k].b.name} of B" for k in told.worst]
    best = percent(max(told.without))
    return f"The worst: {_named(names)}; were its bolt sure to enter, the chance would be {best}."


def _named(names: list[str]) -> str:
    rest = len(names) - _MOST_NAMED
    return ", ".join(names[:_MOST_NAMED]) + (f" and {rest} more" if rest > 0 else "")


def _safe(of: BoltUp) -> str:
    units, told = of.asked.units, of.answer
    wanted = percent(told.wanted)
    if told.grow_mm <= 0:
        spare = format_fine(-told.grow_mm, units)
        return f"At {wanted}, which is wanted, the holes have {spare} to spare."
    where = "the holes of A" if of.asked.is_fixed else "the holes of both"
    alone = "" if of.asked.is_fixed else f", or those of one by {format_fine(2 * told.grow_mm, units)}"
    return f"For {wanted}: {where} wider by {format_fine(told.grow_mm, units)}{alone}.{_fit(of)}"


def _fit(of: BoltUp) -> str:
    """The least fit of the tables that is wide enough for the widest need, where there is one."""
    pair = max(of.joint.pairs, key=lambda pair: pair.a.width - pair.bolt)
    least = pair.a.width + of.answer.grow_mm
    size = next((each.size for each in bolts().values() if abs(each.diameter_mm - pair.bolt) <= LIMIT_SLACK_MM), "")
    try:
        fits = [(clearance_hole_mm(size, fit), fit) for fit in FITS] if size else []
    except UnitsError:  # pragma: no cover - the size is the tables'
        return ""
    enough = next(((hole, fit) for hole, fit in fits if hole >= least), None)
    bolt = said_bolt(pair.bolt, of.asked.units).removesuffix(" bolt")
    if enough:
        return f" The {enough[1]} fit of {bolt} is enough: {format_length(enough[0], of.asked.units)}."
    return f" No fit of {bolt} is so wide: slots, or holes drilled through both together." if fits else ""


def assumptions(of: BoltUp) -> Iterator[str]:
    """Yield what is taken for granted."""
    per = assumed().limits
    yield (
        f"Errors are normal and independent from hole to hole; a limit is {per.standard_deviations:g} standard "
        f"deviations ({per.source})."
    )
    for letter, each in zip("AB", of.accuracies, strict=True):
        yield f"{letter}: {'; '.join(each.sources)}."
        if each.table.name:
            missing = f"; not settled, so left out: {', '.join(each.table.open)}" if each.table.open else ""
            yield f"{letter} is cut on {each.table.name}, with its measured errors{missing}."
    if of.is_one_table:
        yield "One table cuts both, as they are drawn, so that its errors are the same in both."
    yield (
        "The parts are flat, stiff and lie face to face; bolts have their nominal diameter and stand square. "
        "Warp, lean of the cut faces and dross aren't in it: measure a hole where it is narrowest."
    )
    if any(pair.a.arc or pair.b.arc for pair in of.joint.pairs):
        yield "A curved slot counts as straight where the other part has its hole, a little narrower: on the safe side."
    if of.asked.is_fixed:
        yield "The bolts stand in B, at the middle of its holes."


def cautions(of: BoltUp) -> Iterator[str]:
    """Yield what to be careful of."""
    yield (
        "This is a chance of going together, not of holding. Where people or loads hang on the joint, hole sizes, "
        "slots, edge distances and bolts are those of the structural code, and of an engineer who is licensed for it."
    )
    if of.answer.grow_mm > 0:
        yield "Wider holes bear less and slip sooner; burn or ream no hole wider in place where the code forbids it."
    if any(mate.record and mate.record.bends for mate in (of.a, of.b)):
        yield "A part here is bent: its holes are compared as they lie in the flat. Ask it only of holes in one face."
