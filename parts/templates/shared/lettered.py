"""Letters cut through a part that has room: whoever's parameters are `Lettered` has them, after all others.

Nothing is cut, told or loaded where the text is empty. Else it stands at the largest free place between edges, holes
and marks, what would drop out is tied as in a sign plate, and what the process can't cut is found as of any opening.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from parts.artwork import OWN, words
from parts.cutting import cut_for
from parts.errors import GeometryError, Problem, Refused
from parts.geometry import Point
from parts.profile import Dimension, Opening, Profile
from parts.spec import Parameters, Value, choice, is_wordless, length, say_least, say_most
from parts.spec import text as words_typed
from parts.units import MM_PER_IN

if TYPE_CHECKING:
    from parts.artwork.inscribing import Inscription

LETTERING = "Letters cut through"
MOST = 60
EFFORT = 30
"""How many times as long as of a plain part it takes to draw and check one with letters, a segment."""
CAUTION = (
    "Letters cut through take metal away and leave sharp edges: deburr them, and cut none through what carries a load "
    "or is welded unless whoever designed it agrees."
)


class Lettered(Parameters):
    """What a part has that letters can be cut through."""

    optional: ClassVar[tuple[str, ...]] = (
        "text", "font", "cap_height", "text_x", "text_y", "letter_tie", "bridges",
    )  # fmt: skip

    text: str = words_typed(
        "Text", default="", characters="", longest=MOST, group=LETTERING,
        help="A name or a number, cut through where there is most room; nothing where it is empty. A bar with a blank "
        "on both sides begins a line.",
    )  # fmt: skip
    font: str = choice(
        "Face", default="sans", choices=words(), group=LETTERING, also=OWN, when=("text",), moves="never"
    )
    cap_height: float = length(
        "Height of the capitals", default=0, minimum=0, maximum=2000, group=LETTERING, when=("text",),
        help="0: as looks well in the room there is.",
    )  # fmt: skip
    text_x: float = length(
        "Text moved to the right", default=0, minimum=-3000, maximum=3000, group=LETTERING, when=("text",)
    )
    text_y: float = length("Text moved up", default=0, minimum=-3000, maximum=3000, group=LETTERING, when=("text",))
    letter_tie: float = length(
        "Width of the letters' bridges", default=0, minimum=0, maximum=100, group=LETTERING, when=("text",),
        help="Also the least metal around the letters. 0: by their height and the thickness.", moves="free",
    )  # fmt: skip
    bridges: str = words_typed(
        "Bridges moved", default="", characters="abcdefghijklmnopqrstuvwxyz0123456789.:- ", longest=400,
        group=LETTERING, when=("text",), help="By their names, as on a sign: 1.1.top:0.2.",
    )  # fmt: skip

    def finished(self, profile: Profile) -> Profile:
        """Return what the template drew with the letters cut through it.

        Raises:
            Refused: they have no room, or the face has no such letters.
        """
        if not self.text.strip():
            return profile
        made = self.inscribed(profile)
        letters = [Opening(loop, "letter", "text") for loop in made.loops]
        return replace(
            profile,
            inside=(*profile.inside, *letters),
            dimensions=(*profile.dimensions, *self._dimensions(made)),
            ties=(*profile.ties, *made.made.ties),
        )

    @classmethod
    def effort_with(cls, values: Mapping[str, Value]) -> int:
        """Return the effort with these values: letters are placed and held anew in each redraw."""
        return max(cls.effort, EFFORT) if str(values["text"]).strip() else cls.effort

    @property
    def own_cautions(self) -> tuple[str, ...]:
        """What can hurt someone of this part beside what of every one of its template."""
        return (CAUTION,) if self.text.strip() else ()

    def _word_problems(self) -> Iterator[Problem]:
        from parts.templates.shared.lettered_words import moved_problem, word_problems  # noqa: PLC0415 - slow to load

        yield from (found := list(word_problems(self)))
        if not found:
            yield from moved_problem(self)

    @property
    def most_cap(self) -> float:
        """How high capitals are at most that may be as high as looks well, mm."""
        return math.inf

    @property
    def text_near(self) -> Point | None:
        """Where the text stands rather, of places with as much room; None: in the middle."""
        return None

    @property
    def letter_moves(self) -> tuple[tuple[str, float], ...]:
        """The letters' bridges that were moved, by their names."""
        from parts.templates.shared.lettered_words import moves_of  # noqa: PLC0415 - as above

        return moves_of(self.bridges)

    def inscribed(self, profile: Profile) -> "Inscription":
        """Return the letters in their place in what the template drew.

        Raises:
            Refused: they have no room, or the face has no such letters.
        """
        from parts.artwork.inscribing import NoRoom  # noqa: PLC0415 - as above
        from parts.templates.shared.lettered_words import TooSmall, inscription, unheld  # noqa: PLC0415 - as above

        if problems := tuple(self._word_problems()):
            raise Refused(problems)
        try:
            made = inscription(self, profile)
        except NoRoom as error:
            raise Refused((self._no_room(error.most),)) from None
        except TooSmall as error:
            raise Refused((self._too_small(error.cap, error.needed),)) from None
        except GeometryError as error:
            raise Refused((self.problem("cap_height" if self.cap_height else "text", str(error)),)) from None
        if problems := tuple(unheld(self, made.made)):
            raise Refused(problems)
        return made

    def _no_room(self, most: float) -> Problem:
        """The problem of letters that don't fit, with the largest that do."""
        name = "cap_height" if self.cap_height else "text"
        if is_wordless():
            return self.problem(name, "")
        where = "where it was moved to" if self.text_x or self.text_y else "between the edges and the holes"
        if not most:
            return self.problem("text", f"has no room {where}: fewer letters, more lines or a narrower face need less.")
        said = say_most(most, self.units)
        return self.problem(name, f"has no room {where} for this text; at most {said} has.", {name: said})

    def _too_small(self, cap: float, needed: float) -> Problem:
        """The problem of letters that have room only where they are too small for the process."""
        if is_wordless():
            return self.problem("text", "", {"cap_height": say_most(cap, self.units)})
        cut = cut_for(self.process, self.material, self.thickness)
        step = MM_PER_IN / 16 if self.units == "in" else 1.0
        most, least = say_most(cap, self.units), say_least(step * math.ceil(needed / step), self.units)
        plate = f"{cut.title.lower()} in {self.say(self.thickness)} plate"
        message = (
            f"has room for capitals of {most} at most, and {plate} cuts these letters from about {least} on: fewer "
            "letters, or a larger part, have more room. A height that is typed is drawn, to be cut otherwise."
        )
        return self.problem("text", message, {"cap_height": most})

    def _dimensions(self, made: "Inscription") -> Iterator[Dimension]:
        x, y = made.base
        yield Dimension("cap_height", (x, y), (x, y + made.cap), "left")
        for bridge in made.made.bridges[:1]:
            yield Dimension("letter_tie", *bridge.across(bridge.width_mm), "along")
