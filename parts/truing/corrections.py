"""What to change at the table: steps, the gantry's square, the kerf setting; or to leave it.

scale   a table that makes lengths 1 + s too long needs its steps per mm or inch, or its gear ratio, divided by that,
        exactly; or the lead of its screw multiplied
square  the gantry is turned by the angle e: one side moves by tan e times the distance of the rails
kerf    the width to allow for grows by what the jet took more
A correction that the readings can't tell from nothing isn't made, nor any while readings disagree. An error that is
larger than a shop could miss is asked about first, as a slip of reading or drawing. Until it is confirmed no setting at
all is told: the same slip may have moved the others.
"""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from parts.truing.machine import Drive, DriveKind, Table
from parts.truing.reading import named
from parts.truing.solve import Estimate, Solution
from parts.truing.words import Words
from parts.units import format_angle_error, format_figures, to_figures

_DRIVES: Mapping[DriveKind, tuple[str, str]] = {
    "steps_per_mm": ("steps per mm", "1/mm"),
    "steps_per_inch": ("steps per inch", "1/in"),
    "gear_ratio": ("gear ratio (motor turns to one of the screw or pinion)", ""),
    "screw_lead": ("lead (travel to a turn)", "mm"),
}


NOT_TO_BE_MISSED: Mapping[str, float] = {
    "scale_x": 0.005, "scale_y": 0.005, "out_of_square": 0.005, "kerf": 1.0, "hole_shrinkage": 1.0,
}  # fmt: skip
"""A shop doesn't miss a larger error, common practice: 5 mm in a metre show on any tape, and so does a jet that takes a
millimetre more than was allowed for. A slip of reading or drawing is likelier."""


@dataclass(frozen=True, slots=True)
class Correction:
    """One thing to change or to leave: `setting` names it, `old` and `new` are None where not known or left.

    Of the `square` old is 0 and new how far, in mm, the gantry's side at the far end of the axis it lies along goes
    ahead, toward the + of the other one. `asked` is whether the error is so large that a slip is likelier: the sentence
    asks for one, and nothing is to change. `waits` is whether another error is asked about so: this one is told after.
    """

    setting: str
    sentence: str
    old: float | None = None
    new: float | None = None
    unit: str = ""
    leave: bool = False
    asked: bool = False
    waits: bool = False


def corrections(solution: Solution, table: Table, words: Words) -> tuple[Correction, ...]:
    """Return what to change for each error that the readings settle."""
    made = dict(_corrections(solution, table, words))
    if solution.disagreeing or not any(each.asked for each in made.values()):
        return tuple(made.values())
    return tuple(each if each.asked else _waiting(name, each, solution, words) for name, each in made.items())


def _corrections(solution: Solution, table: Table, words: Words) -> Iterator[tuple[str, Correction]]:
    found, made = solution.estimates, _makers(table, words)
    for name, make in made.items():
        if error := found.get(name):
            yield name, _with_care(name, make(error), solution, table, words)


def _makers(table: Table, words: Words) -> dict[str, Callable[[Estimate], Correction]]:
    """What makes a correction of each error."""
    return {
        "scale_x": lambda scale: _scale("x", scale, table.drive("x"), words),
        "scale_y": lambda scale: _scale("y", scale, table.drive("y"), words),
        "out_of_square": lambda angle: _square(angle, table, words),
        "kerf": lambda kerf: _kerf(kerf, table.kerf, words),
        "hole_shrinkage": lambda shrinkage: _holes(shrinkage, words),
    }


def _with_care(name: str, of: Correction, solution: Solution, table: Table, words: Words) -> Correction:
    """The correction as a question where its error is larger than a shop could miss, or with what may be behind it."""
    if solution.disagreeing:
        return replace(of, sentence=_by_the_others(name, solution.agreed, words), new=None, leave=False, asked=True)
    if of.leave:
        return of
    if abs(solution.estimates[name].value) > NOT_TO_BE_MISSED[name] and not table.confirmed:
        found = of.sentence.split(". ")[0].split(": go slower")[0]
        return replace(of, sentence=f"{found}: {_ASKED}", new=None, asked=True)
    slip = solution.unchecked.get(name)
    if slip is None or not slip.alone:
        return of
    which = named(solution.readings, slip.readings, words.units)
    return replace(of, sentence=f"{of.sentence} But measure {which} once more first: a slip there would not show.")


def _waiting(name: str, of: Correction, solution: Solution, words: Words) -> Correction:
    """What is said of an error while another is asked about as a slip."""
    error, each = solution.estimates[name], _error_said(name, solution.estimates[name].value, words)
    nothing = "" if error.differs_from_zero else ", which may be nothing"
    sentence = f"{_WAITS[name]} waits until that is cleared up; as the readings stand, {each}{nothing}."
    return replace(of, sentence=sentence, new=None, leave=False, waits=True)


def _by_the_others(name: str, agreed: Mapping[str, Estimate], words: Words) -> str:
    """What is said of an error while readings disagree."""
    first = f"{_WAITS[name]} waits until the readings that disagree are measured again"
    if name not in agreed:
        return f"{first}: without them nothing tells it."
    error, each = agreed[name], _error_said(name, agreed[name].value, words)
    return f"{first}; by the others {each}{'' if error.differs_from_zero else ', which may be nothing'}."


def _error_said(name: str, value: float, words: Words) -> str:
    if name in ("scale_x", "scale_y"):
        return f"it comes out {words.signed(value * words.span_mm, 'long', 'short')} in {words.span}"
    if name == "out_of_square":
        return f"it is {format_angle_error(abs(math.degrees(value)))} {'more' if value > 0 else 'less'} than square"
    if name == "kerf":
        return f"the jet takes {words.signed(value, 'more', 'less')} in width than was allowed for"
    return f"they come out {words.signed(value, 'smaller', 'larger')}"


_WAITS = {
    "scale_x": "X's scale", "scale_y": "Y's scale", "out_of_square": "The angle between the axes",
    "kerf": "The kerf's setting", "hole_shrinkage": "The size of round holes",
}  # fmt: skip
_ASKED = (
    "that is more than a shop misses. Is a reading mistyped, or was another piece cut than the rows say? Look at that "
    "first; no new setting is told until you confirm the error."
)


def _scale(axis: str, scale: Estimate, drive: Drive | None, words: Words) -> Correction:
    name, setting = axis.upper(), f"{drive.kind if drive else 'steps_per_mm'}_{axis}"
    much = words.over_a_length(scale.value)
    if not scale.differs_from_zero:
        return Correction(setting, _leave(f"{name}'s scale", much), drive.value if drive else None, leave=True)
    found = f"{name} comes out {words.signed(scale.value * words.span_mm, 'long', 'short')} in {words.span}"
    ratio = 1 / (1 + scale.value)
    if drive is None:
        sentence = f"{found}. Multiply the steps per unit of {name} by {ratio:.6f} (or its gear ratio likewise)."
        return Correction(setting, sentence)
    new, (said, unit) = drive.mended(scale.value), _DRIVES[drive.kind]
    say = partial(format_figures, units=words.units) if unit == "mm" else to_figures
    sentence = f"{found}. Change the {said} of {name} from {say(drive.value, figures=10)} to {say(new, figures=8)}."
    return Correction(setting, sentence, drive.value, new, unit)


def _square(angle: Estimate, table: Table, words: Words) -> Correction:
    degrees = math.degrees(angle.value)
    if not angle.differs_from_zero:
        return Correction("square", _leave("the angle between the axes", format_angle_error(abs(degrees))), leave=True)
    corner = "more" if degrees > 0 else "less"
    found = f"The axes stand {format_angle_error(abs(degrees))} {corner} than square"
    # With more than a right angle between +X and +Y, the far end of a gantry along X must go ahead in Y; the far end
    # of one along Y in X.
    across, ahead = ("X", "Y") if table.across == "X" else ("Y", "X")
    way = f"toward {'+' if degrees > 0 else '-'}{ahead}"
    rails = table.rail_spacing
    if rails is None:
        each = words.over_each(math.tan(angle.value))
        sentence = (
            f"{found}. Move the side of the gantry at the far end of {across} {way} by {each} between its rails, "
            "or change its homing offset by as much."
        )
        return Correction("square", sentence)
    move = rails * math.tan(angle.value)
    sentence = (
        f"{found}. Move the side of the gantry at the far end of {across} {way} by {words.say(abs(move))} over the "
        f"{words.say(rails)} between its rails, or change its homing offset by as much."
    )
    return Correction("square", sentence, 0.0, move, "mm")


def _kerf(kerf: Estimate, setting: float | None, words: Words) -> Correction:
    if not kerf.differs_from_zero:
        return Correction("kerf", _leave("the kerf's error", words.say(abs(kerf.value))), setting, leave=True)
    more = "more" if kerf.value > 0 else "less"
    found = f"The jet takes {words.say(abs(kerf.value))} {more} in width than was allowed for"
    if setting is None:
        word = "Raise" if kerf.value > 0 else "Lower"
        return Correction("kerf", f"{found}. {word} the kerf setting by that.")
    new = setting + kerf.value
    return Correction(
        "kerf", f"{found}. Change the kerf setting from {words.say(setting)} to {words.say(new)}.", setting, new, "mm"
    )


def _holes(shrinkage: Estimate, words: Words) -> Correction:
    if not shrinkage.differs_from_zero:
        return Correction("holes", _leave("the size of round holes", words.say(abs(shrinkage.value))), leave=True)
    smaller, larger = ("smaller", "larger") if shrinkage.value > 0 else ("larger", "smaller")
    sentence = (
        f"Round holes come out {words.say(abs(shrinkage.value))} {smaller} than slots of their width: go slower around "
        f"them, or draw them that much {larger}."
    )
    return Correction("holes", sentence)


def _leave(what: str, much: str) -> str:
    if set(much.split()[0]) <= set("0.°"):
        return f"Leave {what}: no error shows."
    return f"Leave {what}: the readings can't tell {much} from nothing."
