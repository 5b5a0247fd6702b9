"""The parameters of a part: what every part has and a template adds, read from text and checked together."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache, lru_cache
from typing import Any, ClassVar, Self, cast

from pydantic import BaseModel, ConfigDict, ValidationError, ValidationInfo, field_validator
from pydantic_core import ErrorDetails

from parts.cached import cached_property
from parts.cutting import PROCESSES, SMALL_HOLES, materials
from parts.errors import Problem, Refused, Way, did_you_mean, first_of_each
from parts.profile import Profile
from parts.shop import BY_UNITS, PAPERS, builtin
from parts.spec.advice import (
    Advice,
    advice_once,
    beyond,
    is_hurried,
    is_wordless,
    own_way,
    trying,
    two_ways,
    wants_advice,
    way_out,
)
from parts.spec.condition import Condition, When, applies, conditions, of_choices
from parts.spec.defaults import own_defaults
from parts.spec.given import bolts_left_open, reading_of
from parts.spec.kinds import choice, flag, length, thickness
from parts.spec.parameter import BY_DIAMETER, ReadingContext, Spec, Value, say_least, say_most, spec_of
from parts.spec.tries import Trying, Unworded, unworded
from parts.spec.watch import Notes, watched
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Units, format_apart, format_length

STOCK = "Stock and process"
FILE = "Bed and file"

_BED, _SHEET = builtin()["bed"], builtin()["sheet"]
_BESIDE_VALUES = ("__pydantic_fields_set__", "__pydantic_extra__", "__pydantic_private__")
"""What pydantic keeps of a model beside its values."""


class Parameters(Trying, BaseModel):
    """What every part has: its stock, its process, its bed and sheet, and its file. Lengths are mm, angles degrees."""

    model_config = ConfigDict(frozen=True, extra="forbid", ignored_types=(cached_property,))
    leading: ClassVar[tuple[str, ...]] = ()
    """Parameters that come before a template's own: the size of what templates share, where that is theirs too."""
    effort: ClassVar[int] = 1
    """How many times as long as of most templates it takes to draw and check a segment of the outline."""
    shared_when: ClassVar[Mapping[str, When]] = {}
    """Where parameters that a template shares with others apply, if not everywhere; added to those of its bases."""
    optional: ClassVar[tuple[str, ...]] = ()
    """Parameters that come last, of which nothing is told where all of them are left as they are.

    Each class has its own; see `optional_groups`.
    """

    material: str = choice("Material", default="mild-steel", choices=(), group=STOCK)  # filled in by specs()
    thickness: float = thickness("Thickness", default=6, minimum=0.3, maximum=150, group=STOCK)
    process: str = choice("Process", default="air-plasma", choices=PROCESSES, group=STOCK)
    small_holes: str = choice(
        "Holes too small to cut", default=SMALL_HOLES[0], choices=SMALL_HOLES, group=STOCK,
        help="Those for bolts become drill centres; cut: none, drill: every round one.", moves="care",
    )  # fmt: skip
    bed_x: float = length("Bed travel in X", default=_BED["x_mm"], minimum=100, maximum=20000, group=FILE)
    bed_y: float = length("Bed travel in Y", default=_BED["y_mm"], minimum=100, maximum=20000, group=FILE)
    sheet_x: float = length(
        "Sheet in X", default=_SHEET["x_mm"], minimum=10, maximum=20000, group=FILE, help="As it lies on the bed."
    )
    sheet_y: float = length("Sheet in Y", default=_SHEET["y_mm"], minimum=10, maximum=20000, group=FILE)
    units: Units = choice(
        "Working units",
        default="mm",
        choices=("mm", "in"),
        group=FILE,
        help="Of bare numbers and the DXF; in inches what is left out is an inch size.",
    )
    dxf_version: str = choice("DXF version", default="R2010", choices=("R2010", "R12"), group=FILE)
    notes: bool = flag("Text notes in the DXF", group=FILE, help="What the part is, on the layer NOTES.")
    paper: str = choice(
        "Paper of the PDF", default=BY_UNITS, choices=PAPERS, group=FILE, help="By the units: A4 for mm, letter for in."
    )
    picture: str = choice(
        "Picture (PNG)", default="painted", choices=("painted", "rusted", "bare", "sky", "lit"), group=FILE,
        help="Painted, rusted or bare on a wall; against the sky; lit from behind.",
    )  # fmt: skip
    drill_circles: bool = flag(
        "Drill sizes in the DXF", default=True, group=FILE, help="A circle round each point, on the layer DRILL."
    )

    @classmethod
    def effort_with(cls, values: Mapping[str, Value]) -> int:
        """Return the effort with these values, where they make it another."""
        return cls.effort

    @classmethod
    def specs(cls) -> Mapping[str, Spec]:
        """Return every parameter as declared: those leading, the template's own, then those it shares with some."""
        return _specs(cls, tuple(materials()))

    @classmethod
    def shared_conditions(cls) -> Mapping[str, When]:
        """Return where shared parameters apply, a template's own word over that of its bases."""
        return {name: when for of in reversed(cls.__mro__) for name, when in of.__dict__.get("shared_when", {}).items()}

    @classmethod
    def optional_groups(cls) -> tuple[tuple[str, ...], ...]:
        """Return the optional parameters of each class that it is made of; each group is told by itself."""
        return tuple(group for of in cls.__mro__ if (group := of.__dict__.get("optional")))

    @classmethod
    def current(cls, values: Mapping[str, Any]) -> Mapping[str, Any]:
        """Return values by the names that their parameters have today: a template knows which were called otherwise."""
        return values

    @field_validator("*", mode="before")
    @classmethod
    def _read_value(cls, given: object, info: ValidationInfo) -> Value:
        specs, reading = cast(tuple[Mapping[str, Spec], ReadingContext], info.context)
        return specs[cast(str, info.field_name)].read(given, reading)

    @classmethod
    def read(cls, values: Mapping[str, Any]) -> Self:
        """Return the parameters that text as a fabricator writes it, or plain numbers, stand for.

        Raises:
            Refused: with every value that can't be read, lies outside its limits, or doesn't go with
                the others, in form order.
        """
        parameters = cls.read_singly(values)
        with advice_once():
            if problems := (*parameters._unused_diameters(), *parameters.problems()):
                raise Refused(first_of_each(problems))
        return parameters

    @classmethod
    def read_singly(cls, values: Mapping[str, Any]) -> Self:
        """Return the parameters as `read` does, but don't ask whether they go together.

        Raises:
            Refused: with every value that can't be read or lies outside its limits, in form order.
        """
        specs, values = cls.specs(), cls.current(values)
        reading = reading_of(specs, values)
        settled = {**_other_defaults(cls, reading.units), **own_defaults(), **values, **bolts_left_open(specs, values)}
        try:
            return cls.model_validate(settled, context=(specs, reading))
        except ValidationError as error:
            raise Refused(cls._worded(error.errors(include_url=False))) from None

    def _unused_diameters(self) -> Iterator[Problem]:
        """Yield a problem for each diameter that a bolt overrules, where there are holes for it."""
        specs = self.specs()
        for spec in specs.values():
            bolt = getattr(self, spec.name)
            if not spec.is_bolt or bolt == BY_DIAMETER:
                continue
            diameter = specs[spec.diameter]
            left_open = (diameter.default_in("mm"), diameter.default_in("in"))  # as files say it, of either units
            is_given = getattr(self, spec.diameter) not in left_open
            if is_given and applies(spec.name, specs, {name: getattr(self, name) for name in specs}):
                message = f"isn't used: {bolt} sets the hole. Choose {BY_DIAMETER} for {spec.name}, or leave it."
                yield self.problem(spec.diameter, message, {spec.name: BY_DIAMETER})

    def hole_from(self, bolt: str) -> str:
        """Return the parameter that sets the hole of a choice of bolts: the choice, or the diameter in its place."""
        return self.specs()[bolt].diameter if getattr(self, bolt) == BY_DIAMETER else bolt

    @property
    def bent_size(self) -> tuple[float, float, float] | None:
        """The box of the bent part in mm; None where a template isn't of bent parts."""
        return None

    def finished(self, profile: Profile) -> Profile:
        """Return what is made of the profile that a template drew: the same, unless parameters ask for more.

        Raises:
            Refused: what is asked for can't be made of it.
        """
        return profile

    def worked(self, profile: Profile) -> Profile:
        """Return the profile that a template drew with its holes as the shop makes them: the same, unless asked for.

        Raises:
            Refused: no such hole is made for these bolts.
        """
        return profile

    @property
    def own_cautions(self) -> tuple[str, ...]:
        """What can hurt someone of this part, beside what of every one of its template."""
        return ()

    def problems(self) -> Iterator[Problem]:
        """Yield what doesn't go together; a template says so of its own parameters."""
        yield from ()

    def problem(self, name: str, message: str, *ways: Way) -> Problem:
        """Return a problem with the present value of one parameter, and what would mend it where that is known."""
        if is_wordless():
            return unworded(name)
        return Problem(name, self.said(name), message, ways=(*filter(None, ways),), is_brief=is_hurried())

    def said(self, name: str) -> str:
        """Return the value of a parameter as it is said in the working units."""
        return self.specs()[name].say(getattr(self, name), self.units)

    def say(self, mm: float, beside: float | None = None) -> str:
        """Return a length as it is said in the working units; told apart from one that it is compared with `beside`."""
        return format_length(mm, self.units) if beside is None else format_apart(mm, beside, self.units)[0]

    def under(self, name: str, limit: float, why: str = "here") -> Iterator[Problem]:
        """Yield a problem unless the parameter is less than `limit` mm."""
        if getattr(self, name) >= limit - LIMIT_SLACK_MM:
            if is_wordless():
                yield Unworded(name, "", why, getattr(self, name) - limit + 2 * LIMIT_SLACK_MM)
                return
            if limit - LIMIT_SLACK_MM <= (self.specs()[name].minimum or 0):
                yield self.no_room(name, why)
                return
            way = beyond(self.specs()[name], limit, self.units, up=False)
            yield self._limited(
                name, f"less than {say_most(limit, self.units)}", limit - self._inside(name, limit), why, way
            )

    def at_most(self, name: str, limit: float, why: str = "here") -> Iterator[Problem]:
        """Yield a problem where the parameter is more than `limit` mm."""
        if getattr(self, name) > limit + LIMIT_SLACK_MM:
            if is_wordless():
                yield Unworded(name, "", why, getattr(self, name) - limit)
                return
            if limit + LIMIT_SLACK_MM < (self.specs()[name].minimum or 0):
                yield self.no_room(name, why)
                return
            most = say_most(limit, self.units)
            yield self._limited(name, f"at most {most}", limit, why, {name: most})

    def over(self, name: str, limit: float, why: str = "here") -> Iterator[Problem]:
        """Yield a problem unless the parameter is more than `limit` mm."""
        if getattr(self, name) <= limit + LIMIT_SLACK_MM:
            if is_wordless():
                yield Unworded(name, "", why, limit - getattr(self, name) + 2 * LIMIT_SLACK_MM)
                return
            if limit + LIMIT_SLACK_MM >= (self.specs()[name].maximum or math.inf):
                yield self.no_room(name, why, most=True)
                return
            way = beyond(self.specs()[name], limit, self.units, up=True)
            yield self._limited(
                name, f"more than {say_least(limit, self.units)}", limit + self._inside(name, limit), why, way
            )

    def at_least(self, name: str, limit: float, why: str = "here") -> Iterator[Problem]:
        """Yield a problem where the parameter is less than `limit` mm."""
        if getattr(self, name) < limit - LIMIT_SLACK_MM:
            if is_wordless():
                yield Unworded(name, "", why, limit - getattr(self, name))
                return
            if limit - LIMIT_SLACK_MM > (self.specs()[name].maximum or math.inf):
                yield self.no_room(name, why, most=True)
                return
            least = say_least(limit, self.units)
            yield self._limited(name, f"at least {least}", limit, why, {name: least})

    def _inside(self, name: str, limit: float) -> float:
        """How far inside a limit that isn't to be reached a value is tried: a hair, or half of what there is."""
        spec = self.specs()[name]
        return min(0.01, abs(limit - (spec.minimum or 0.0)) / 2, abs((spec.maximum or math.inf) - limit) / 2)

    def _limited(self, name: str, limit: str, inside: float, why: str, way: Way) -> Problem:
        """Return the problem of a parameter past a limit, which a `way` keeps.

        Where the value `inside` meets another limit, whoever kept the one would be sent back by the other: then a
        value is told that keeps both, or the neighbour that must give way.
        """
        if (
            wants_advice(name)
            and name in self._faults_at(name, inside)
            and (better := own_way(self, name) or self._neighbour(name))
        ):
            return self.problem(name, f"has no room {why}: {better.said}.", better.way)
        return self.problem(name, f"must be {limit} {why}.", way)

    def _faults_at(self, name: str, value: Value) -> set[str]:
        """The parameters at fault if one has another value."""
        with trying(worded=False):
            return self.tried(**{name: value}).faults()

    def _neighbour(self, name: str, end: float | None = None) -> Advice | None:
        """The neighbour that gives a parameter room, and how far: at its value, else its default, else an `end`.

        A move that lets the value stand as it is typed is better advice than one that has it changed too.
        """
        spec, given = self.specs()[name], getattr(self, name)
        own = [other for other in self.specs() if other not in Parameters.model_fields]
        kind = int if spec.kind == "count" else float
        with trying(worded=False):
            known = self.tried().faults() - {name}
        for value in dict.fromkeys(
            kind(value) for value in (given, spec.default_in(self.units), end) if value is not None
        ):
            if value != given and self._faults_at(name, value) <= known:
                said = spec.say(value, self.units)
                return Advice(f"make it {said}", {name: said})
            if advice := way_out(self, name, value, own):
                own_too = {} if value == given else {name: spec.say(value, self.units)}
                return advice._replace(way={**advice.way, **own_too})
        return None

    def changed(self, **values: Value) -> Self:
        """Return the same with some values changed, which are taken as they are.

        What a template keeps from its first reckoning doesn't come along.
        """
        own, given = type(self).__pydantic_fields__, self.__dict__
        if len(given) > len(own):
            given = {name: given[name] for name in own}
        made = object.__new__(type(self))  # in a fraction of the time of `model_copy`
        made.__dict__.update(given, **values)
        for name in _BESIDE_VALUES:
            object.__setattr__(made, name, getattr(self, name))
        return made

    def keep(self, found: Mapping[str, Any]) -> None:
        """Take over cached properties of parameters that are alike in all that these depend on."""
        self.__dict__.update(found)

    def watched(self, **values: Value) -> tuple[Self, Notes]:
        """Return the same as `changed`, and the notes of what is read of it."""
        given: dict[str, Any] = {name: getattr(self, name) for name in type(self).model_fields}
        made, notes = watched(type(self), given | values)
        return made, notes

    def shortfall(self, name: str) -> float:
        """Return by how much a parameter surely lacks room: what a template can tell at less cost than its problems.

        Infinite where it isn't known by how much, 0 where it isn't known whether. It is asked before `problems`, in
        search of what gives room to a parameter that is at fault.
        """
        return 0.0

    def no_room(self, name: str, why: str, *, most: bool = False) -> Problem:
        """Return the problem of a parameter that no value of its own mends, with the neighbour that can.

        `most` is whether its greatest value comes nearest to having room, instead of its least.
        """
        return self._moved(name, why, most=most) if wants_advice(name) else self.problem(name, f"has no room {why}.")

    def _moved(self, name: str, why: str, *, most: bool = False) -> Problem:
        """Return the problem of a parameter with the neighbours that can mend it."""
        spec = self.specs()[name]
        advice = self._neighbour(name, (spec.maximum if most else spec.minimum) or 0.0) or two_ways(self, name)
        if not advice:
            return self.problem(name, f"has no room {why}, whatever its size.")
        return self.problem(name, f"has no room {why}: {advice.said}.", advice.way)

    def tight(self, name: str, why: str, by: float = math.inf) -> Problem:
        """Return the problem of a parameter that has no room, where no formula says how much there is.

        How far it must change, or else a neighbour, is found by trying: sooner where it is known that it lacks room
        `by` so much at least.
        """
        if is_wordless():
            return Unworded(name, "", why, by)
        if not wants_advice(name):
            return self.problem(name, f"has no room {why}.")
        advice = own_way(self, name)
        return (
            self.problem(name, f"has no room {why}: {advice.said}.", advice.way) if advice else self._moved(name, why)
        )

    def texts(self) -> dict[str, str]:
        """Return each parameter that isn't at the default of its working units, as text that reads back to the same.

        What is a default in that shop alone, its bed, sheet and paper, is given wherever it differs.
        """
        here, specs = own_defaults(), self.specs()
        differing = {
            name
            for name, spec in specs.items()
            if (value := getattr(self, name)) != spec.default_in(self.units) or value != here.get(name, value)
        }
        # a diameter by itself says that no bolt sets the hole
        bolts = {name: spec for name, spec in specs.items() if spec.is_bolt and getattr(self, name) != BY_DIAMETER}
        differing |= {name for name, spec in bolts.items() if spec.diameter in differing}
        return {name: spec.text(getattr(self, name), self.units) for name, spec in specs.items() if name in differing}

    @classmethod
    def _worded(cls, errors: list[ErrorDetails]) -> tuple[Problem, ...]:
        """Turn the checker's errors into problems in a shop's words, in form order."""
        order = list(cls.specs())
        problems = [
            Problem(name, str(error["input"]), cls._sentence(name, error), ways=_nearest(name, error))
            for error in errors
            for name in [str(error["loc"][0])]
        ]
        return tuple(sorted(problems, key=lambda p: order.index(p.parameter) if p.parameter in order else -1))

    @classmethod
    def _sentence(cls, name: str, error: ErrorDetails) -> str:
        if error["type"] == "extra_forbidden":
            return f"is not a parameter of this template{did_you_mean(name, cls.specs())}"
        cause = error.get("ctx", {}).get("error")
        return str(cause) if cause else error["msg"]


def _nearest(name: str, error: ErrorDetails) -> tuple[Way, ...]:
    """The nearest value that can be read, if the error has it."""
    near = getattr(error.get("ctx", {}).get("error"), "near", "")
    return ({name: near},) if near else ()


@lru_cache(maxsize=256)
def _other_defaults(of: type[Parameters], units: Units) -> Mapping[str, Value]:
    """The defaults of these working units that aren't the ones declared for mm."""
    every = of.specs().values()
    return {spec.name: value for spec in every if (value := spec.default_in(units)) != spec.default}


@cache
def _specs(of: type[Parameters], known_materials: tuple[str, ...]) -> Mapping[str, Spec]:
    every = {name: spec_of(name, field) for name, field in of.model_fields.items()}
    every["material"] = replace(every["material"], choices=known_materials)
    for spec in [spec for spec in every.values() if spec.is_bolt]:
        every[spec.diameter] = replace(every[spec.diameter], when=(Condition(spec.name, (BY_DIAMETER,)),))
    for name, declared in of.shared_conditions().items():
        every[name] = replace(every[name], when=conditions(declared))
    for name, spec in every.items():
        when = tuple(of_choices(condition, every[condition.parameter].choices) for condition in spec.when)
        every[name] = replace(spec, when=when)
    common = Parameters.model_fields
    first = (*of.leading, *of.__annotations__)
    own = {name: every[name] for name in first if name in every and name not in common}
    shared = {name: spec for name, spec in every.items() if name not in common}
    last = {name: shared[name] for group in of.optional_groups() for name in group}
    before = {name: spec for name, spec in (own | shared).items() if name not in last}
    return before | last | {name: every[name] for name in common}
