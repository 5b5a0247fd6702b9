"""Holes as shops make them: one choice for each group of a template's bolt holes, through if it is left alone."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, ClassVar

from parts.cutting import cut_for
from parts.errors import Problem, Refused
from parts.fasteners import KINDS, THREADS, bolts, clearance_hole_mm, pilot_mm, sizes_of, worked_hole
from parts.geometry import circle
from parts.geometry.figure import level_slot, upright_slot
from parts.profile import Dimension, Drill, HoleWork, Mark, Opening, Profile
from parts.spec import BY_DIAMETER, Parameters, When, applies, choice, length
from parts.tolerance import LIMIT_SLACK_MM

GROUP = "Holes as made"
_HEADS = ("countersunk", "counterbored")


def hole_kind(bolt: str, label: str = "Holes are made") -> Any:  # noqa: ANN401 - declares a parameter
    """Declare how the holes are made whose bolt another parameter chooses."""
    return choice(
        label, default="through", choices=KINDS, group=GROUP, when=(bolt, *bolts()),
        help="through: cut to the fit. Others say on the drawing what is done after cutting.",
    )  # fmt: skip


def where_worked(*kinds: str) -> Mapping[str, When]:
    """Return where the parameters of worked holes apply, given the choices of their groups."""
    return {
        "hole_travel": [(kind, "slot") for kind in kinds],
        "hole_way": [(kind, "slot") for kind in kinds],
        "thread": [(kind, "tapped") for kind in kinds],
        "head_side": [(kind, *_HEADS) for kind in kinds],
    }


class WorkedHoles(Parameters):
    """What a template has whose bolt holes can be made in other ways than cut through.

    `hole_groups` are the choices by the bolt they go with, and a word in the names of their holes; a later one with an
    empty word has all others.
    """

    hole_groups: ClassVar[Mapping[str, tuple[str, str]]] = {}
    optional: ClassVar[tuple[str, ...]] = ("hole_travel", "hole_way", "thread", "head_side")

    hole_travel: float = length(
        "Slots let the bolt move", default=10, minimum=0.5, maximum=300, group=GROUP,
        help="The slot is longer than wide by this.", drawn=False,
    )  # fmt: skip
    hole_way: str = choice("Slots lie", default="level", choices=("level", "upright"), group=GROUP)
    thread: str = choice(
        "Thread", default="coarse", choices=THREADS, group=GROUP,
        help="ISO metric by ISO 261, UNC or UNF.",
    )  # fmt: skip
    head_side: str = choice(
        "Heads are let in", default="near", choices=("near", "far"), group=GROUP,
        help="near: from the side drawn; far: from the other.",
    )  # fmt: skip

    def worked(self, profile: Profile) -> Profile:
        """Return the profile with its bolt holes as they are made.

        Raises:
            Refused: no such hole is made for these bolts, or the template has no round hole there.
        """
        values = {name: getattr(self, name) for name in self.specs()}
        for bolt, (kind, word) in self.hole_groups.items():
            if values[kind] == "through" or not applies(bolt, self.specs(), values):
                continue
            if problems := tuple(self._unmade(bolt, kind)):
                raise Refused(problems)
            others = [w for _, w in self.hole_groups.values() if w] if not word else []
            profile = self._made(profile, bolt, kind, word, others)
        return profile

    def _unmade(self, bolt: str, kind: str) -> Iterator[Problem]:
        """Yield why holes of a group can't be made so."""
        size, asked = getattr(self, bolt), getattr(self, kind)
        if size == BY_DIAMETER:
            yield self.problem(kind, f"needs a bolt: choose one for {bolt}, or make the holes through.")
        elif size not in (known := sizes_of(asked, bolts()[size], self.thread)):
            of = f"{self.thread} thread" if asked == "tapped" else "head"
            yield self.problem(kind, f"has no {of} for {size} in the tables; they have {', '.join(known)}.")

    def _made(self, profile: Profile, bolt: str, kind: str, word: str, others: Sequence[str]) -> Profile:
        """The profile with the holes of one group as they are made."""
        kept: list[Opening] = []
        marks: list[Mark] = []
        dimensions: list[Dimension] = []
        for opening in profile.inside:
            is_own = word in opening.name and not any(other in opening.name for other in others)
            hole = opening.loop.circle if opening.bolt and is_own else None
            if hole is None:
                kept.append(opening)
                continue
            made = self._of(opening, getattr(self, bolt), getattr(self, kind), kind)
            if isinstance(made, Drill):
                marks.append(made)
                continue
            kept.append(made)
            if made.work and made.work.kind == "slot" and not dimensions:
                dimensions += self._measured(hole.centre)
        if len(kept) == len(profile.inside) and all(a is b for a, b in zip(kept, profile.inside, strict=True)):
            raise Refused((self.problem(kind, "has no round bolt hole here to be made so."),))
        return replace(
            profile,
            inside=tuple(kept),
            marks=(*profile.marks, *marks),
            dimensions=(*profile.dimensions, *dimensions),
        )

    def _of(self, opening: Opening, size: str, kind: str, parameter: str) -> Opening | Drill:
        """One hole as it is made; a centre to drill where it can't be cut in this thickness."""
        hole = opening.loop.circle
        assert hole is not None  # noqa: S101 - asked before
        fit = str(getattr(self, "fit", "normal"))
        cut = cut_for(self.process, self.material, self.thickness)
        at, wide = hole.centre, clearance_hole_mm(size, fit)
        if kind == "slot":
            window = (upright_slot if self.hole_way == "upright" else level_slot)(at, wide + self.hole_travel, wide)
            return replace(opening, loop=window.loop, parameter="hole_travel", work=HoleWork(kind, size, wide))
        diameter, work = worked_hole(kind, bolts()[size], wide, self.thickness, self.thread)
        work = replace(work, is_far=kind in _HEADS and self.head_side == "far")
        bolt = 0.0 if kind == "plug-weld" else opening.bolt
        if kind == "pilot":
            diameter = pilot_mm(wide, cut.smallest_hole_mm)
        if diameter < cut.smallest_hole_mm - LIMIT_SLACK_MM:
            drilled = wide if kind == "pilot" else diameter
            return Drill(at, drilled, opening.name, opening.parameter, bolt, replace(work, is_marked=True))
        return replace(opening, loop=circle(at, diameter), parameter=parameter, bolt=bolt, work=work)

    def _measured(self, at: tuple[float, float]) -> Iterator[Dimension]:
        """Yield how far a bolt can go in its slot."""
        x, y, half = *at, self.hole_travel / 2
        if self.hole_way == "upright":
            yield Dimension("hole_travel", (x, y - half), (x, y + half), "right")
        else:
            yield Dimension("hole_travel", (x - half, y), (x + half, y), "above")
