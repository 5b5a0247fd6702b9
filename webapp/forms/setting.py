"""What a shop works with, kept in its browser: units, process, material, bed; asked once, spoken by every page.

It is a cookie, so it holds without scripts. Only pages read it, and where an address says less than the setting, they
lead to the one that says all: so whatever is linked, copied or downloaded from a page draws the same anywhere. An
address of a file, or of JSON, means what it says, and nothing of this.

Without the cookie the shop's own file is asked, `[usual]`, and then nothing is set.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from urllib.parse import parse_qsl, urlencode

from flask import Response, request

from parts import Problem, Refused, shop
from parts.cached import cached_property
from parts.cutting import PROCESSES, materials
from parts.errors import UnitsError
from parts.part import address
from parts.spec import Parameters, ReadingContext, Template, default_of
from parts.templates import template as find
from parts.units import Units, echo, units_of, with_unit
from webapp.forms.canonical import in_units

COOKIE = "shop"
UNITS = "units"
NAMES = (UNITS, "process", "material", "bed_x", "bed_y")
"""What is asked, by the names of the parameters that it answers for."""
_A_YEAR_S = 365 * 24 * 3600
_LONGEST = 400


@dataclass(frozen=True)
class Setting:
    """The answers, as texts that an address takes, those alone that were given; `is_asked` once there was one."""

    values: Mapping[str, str] = field(default_factory=dict)
    is_asked: bool = False

    @property
    def units(self) -> Units:
        """The working units."""
        return units_of(self.values.get(UNITS))

    @cached_property
    def said(self) -> Mapping[str, str]:
        """What an address has to say to mean this shop: always the units, the others where nothing says so already."""
        if not self.values:
            return {}
        specs = Parameters.specs()
        rest = {name: text for name, text in self.values.items() if name != UNITS}
        told = {name: text for name, text in rest.items() if _mm_or_word(name, text) != default_of(specs[name])}
        return {**told, UNITS: self.units}

    def address(self, slug: str) -> str:
        """Return the address of a template's page as it comes in this shop."""
        return address(slug, self.said)

    def over(self, template: Template, given: Mapping[str, str]) -> dict[str, str] | None:
        """Return the values that show in this shop what an address asks for; None where it says all that there is.

        One without any values asks for the part as it comes here. One with values and no units means millimetres, and
        is shown in the units that are worked in, as large as it is.
        """
        if not self.values or UNITS in given:
            return None
        known = template.parameters.specs()
        if not any(name in known for name in given):
            return {**self.said, **given}
        return in_units(template, given, "in") if self.units == "in" else None


class Asking:
    """What the question shows: the answers so far, and what there is to choose; reckoned as it is asked for.

    Where it is asked again, the answers are those that were `typed`.
    """

    def __init__(self, typed: Mapping[str, str] | None = None) -> None:
        self._typed = typed

    @cached_property
    def _kept(self) -> Mapping[str, str]:
        return kept().values if self._typed is None else self._typed

    @property
    def units(self) -> str:
        """The units that are chosen; where none are, those of the language that the browser asks in."""
        return self._kept.get(UNITS) or ("in" if (request.accept_languages.best or "").lower() == "en-us" else "mm")

    @property
    def process(self) -> str:
        """The process that is chosen."""
        return self._kept.get("process", str(Parameters.specs()["process"].default))

    @property
    def material(self) -> str:
        """The material that is chosen."""
        return self._kept.get("material", str(Parameters.specs()["material"].default))

    @property
    def bed_x(self) -> str:
        """The travel in X, as it was typed."""
        return self._kept.get("bed_x", "")

    @property
    def bed_y(self) -> str:
        """The travel in Y, as it was typed."""
        return self._kept.get("bed_y", "")

    @property
    def own_bed(self) -> tuple[str, str]:
        """The bed where none is typed."""
        specs, units = Parameters.specs(), units_of(self.units)
        x, y = (specs[name].say(default_of(specs[name]), units) for name in ("bed_x", "bed_y"))
        return x, y

    @property
    def processes(self) -> Mapping[str, str]:
        """Every process with its title."""
        return PROCESSES

    @property
    def materials(self) -> Mapping[str, str]:
        """Every material with its title."""
        return {slug: of.title for slug, of in materials().items()}


def kept() -> Setting:
    """Return the setting of the browser that asks, over that of the shop's own file."""
    own, usual = _of_cookie(request.cookies.get(COOKIE, ""), shop.edition()), _of_shop()
    return Setting({**usual.values, **own.values}, is_asked=own.is_asked or usual.is_asked)


def units_here() -> Units:
    """Return the units of a page that no part's address makes: as its own address says, else as is worked in."""
    asked = request.args.get(UNITS)
    return units_of(asked) if asked in ("mm", "in") else kept().units


def spoken(slug: str) -> str:
    """Return the query in place of that of the address, where that says less than the setting of a template's part.

    Raises:
        UnknownTemplate: if no template has this slug.
    """
    if any(len(given) != 1 for _, given in request.args.lists()):
        return ""
    given = {name: text for name, text in request.args.items() if name != "template"}
    over = kept().over(find(slug), given)
    named = {name: slug for name in ("template",) if name in request.args}
    return "" if over is None else urlencode({**named, **over})


def keep_units(answer: Response, units: Units) -> Response:
    """Have the browser keep the units, and whatever else it keeps."""
    now = kept()
    return keep(answer, replace(now, values={**now.values, UNITS: units}))


def keep(answer: Response, setting: Setting) -> Response:
    """Have the browser keep a setting, for a year."""
    text = urlencode({**setting.values, "asked": "1" if setting.is_asked else ""})
    answer.set_cookie(COOKIE, text, max_age=_A_YEAR_S, samesite="Lax", httponly=True)
    return answer


def read(given: Mapping[str, str]) -> Setting:
    """Return the setting that was answered; a bare length is in the units beside it.

    Raises:
        Refused: with each answer that can't be.
    """
    texts = {name: given[name].strip() for name in NAMES if given.get(name, "").strip()}
    units = units_of(texts.get(UNITS))
    problems = []
    for name, text in texts.items():
        spec = Parameters.specs()[name]
        try:
            value = spec.read(text, ReadingContext(units))
        except UnitsError as error:
            problems.append(Problem(name, text, f"{spec.label} {echo(text)}: {error}"))
            continue
        is_bare = text.replace(".", "", 1).isdecimal()
        texts[name] = with_unit(text, units) if is_bare else text if name.startswith("bed_") else str(value)
    if problems:
        raise Refused(tuple(problems))
    return Setting(texts, is_asked=True)


def _mm_or_word(name: str, text: str) -> object:
    return Parameters.specs()[name].read(text, ReadingContext())


@lru_cache(maxsize=64)
def _of_cookie(text: str, _: shop.Edition) -> Setting:
    """The setting that a cookie holds; what can't be in this edition of the shop is left out: nobody typed it now."""
    given = dict(parse_qsl(text[:_LONGEST]))
    values: dict[str, str] = {}
    for name in NAMES:
        try:
            values |= read({UNITS: given.get(UNITS, ""), name: given.get(name, "")}).values
        except Refused:
            continue
    return Setting(values, is_asked="asked" in given)


def _of_shop() -> Setting:
    values = {name: text for name, text in shop.usual().model_dump().items() if text}
    return Setting(values, is_asked=UNITS in values)
