"""A scribed text that is longer than its room: how long it is, and the height at which it fits."""

from parts.artwork import text_width
from parts.errors import Problem
from parts.spec import Parameters, say_most


def too_long(p: Parameters, text: str, height: str, where: str, rooms: tuple[float, float]) -> Problem:
    """Return the problem of a text that is too long for what is called `where`.

    Args:
        p: the parameters, `text` among them.
        text: what is scribed.
        height: the parameter of its height.
        where: what it stands on, as it is said in a sentence.
        rooms: the length there is for it, and the height at which it would fit, mm.
    """
    spec, (room, highest) = p.specs()[height], rooms
    wide = text_width(text, getattr(p, height))
    said = f"is {p.say(wide, room)} long and {where} has room for {p.say(max(room, 0.0), wide)}"
    fits = highest >= (spec.minimum or 0.0) and highest > 0
    remedy = f"a height of {say_most(highest, p.units)} fits; or take" if fits else "take"
    return p.problem("text", f"{said}; {remedy} a shorter text.")
