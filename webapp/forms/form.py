"""The form: a template's parameters as the rows of the drawing's table of dimensions, in groups."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import groupby

from parts import Problem
from parts.cutting import materials, title_of_choice
from parts.errors import UnitsError
from parts.spec import ReadingContext, Spec, Template, Value, applies, default_of, taken_for, where
from parts.units import Units, format_size_name, units_of
from webapp.forms.canonical import shown
from webapp.forms.undo import Before, Link

KEYBOARDS = {"count": "numeric", "angle": "decimal", "number": "decimal"}
"""Which keys a phone offers; lengths and thicknesses want letters, slashes and quotes too."""


@dataclass(frozen=True, slots=True)
class Option:
    """One choice of a row."""

    value: str
    title: str
    selected: bool


@dataclass(frozen=True, slots=True)
class FormRow:
    """One row: its letter on the drawing, what it shows, and what is wrong with it.

    `text` and `options` are what its field shows, empty where that stays as it is in the browser;
    `reading` is how a length was read, where that isn't plain from what was typed; `idle` is where the row
    applies, if it doesn't now; `was` says what was there before a remedy was taken, and leads back to it.
    """

    name: str
    letter: str
    label: str
    text: str
    unit: str
    hint: str
    keyboard: str
    reading: str
    message: str
    options: tuple[Option, ...]
    idle: str
    was: Link | None
    takes_font: bool = False


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed, the values it stands for as far as they are drawn, and what is wrong with it."""

    given: Mapping[str, str]
    values: Mapping[str, Value]
    problems: tuple[Problem, ...]
    before: Before
    bare: Units | None = None
    """The units of bare numbers, where they aren't those that the form is shown in."""

    @property
    def units(self) -> Units:
        """The working units the form is shown in."""
        return units_of(self.given.get("units"))

    @property
    def reading(self) -> ReadingContext:
        """What the reading of a length depends on."""
        material = materials().get(str(self.values.get("material")))
        return ReadingContext(self.bare or self.units, material.gauge if material else None)

    def meant(self, specs: Mapping[str, Spec]) -> Mapping[str, Value]:
        """Return the values as far as they can be read, and what is drawn for the rest: by them a row has a say."""
        values = dict(self.values)
        for name in self.given.keys() & specs.keys() if self.problems else ():
            try:
                values[name] = specs[name].read(self.given[name], self.reading)
            except UnitsError:
                continue
        return values

    def message(self, name: str) -> str:
        """Return the first thing wrong with a parameter, or nothing."""
        return next((problem.message for problem in self.problems if problem.parameter == name), "")


def groups(template: Template, typed: Typed, *, with_fields: bool = True) -> list[tuple[str, list[FormRow]]]:
    """Return the rows of the form by group, in the order they are declared.

    `with_fields` is whether they have what their fields show, which someone at the form has there already.
    """
    specs, letters = template.parameters.specs(), template.letters
    order = list(dict.fromkeys(spec.group for spec in specs.values()))
    ordered = sorted(specs.values(), key=lambda spec: order.index(spec.group))
    meant = typed.meant(specs)
    idle = {
        name: f"Only where {where(spec, specs)}." for name, spec in specs.items() if not applies(name, specs, meant)
    }
    asked = template.asked_of(meant, typed.units)
    rows = [_row(spec, letters.get(spec.name, ""), typed, idle, asked) for spec in ordered]
    if with_fields:
        rows = [_with_field(row, specs[row.name], typed) for row in rows]
    return [(group, list(members)) for group, members in groupby(rows, key=lambda row: specs[row.name].group)]


def _row(spec: Spec, letter: str, typed: Typed, every_idle: Mapping[str, str], asked: Mapping[str, str]) -> FormRow:
    units, message = typed.units, typed.message(spec.name) or _misread(spec, typed)
    idle = "" if message else every_idle.get(spec.name, "")  # what is at fault is never out of use
    return FormRow(
        name=spec.name,
        letter="" if idle else letter,
        label=spec.label,
        text="",
        unit=unit_of(spec, units),
        hint=" ".join(filter(None, (asked.get(spec.name), _help(spec, units)))),
        keyboard=KEYBOARDS.get(spec.kind, "text"),
        reading="" if message else _reading(spec, typed),
        message=message,
        options=(),
        idle=idle,
        was=typed.before.undoing(spec.name) if spec.name in typed.before.values else None,
        takes_font=bool(spec.also),
    )


def _with_field(row: FormRow, spec: Spec, typed: Typed) -> FormRow:
    """The row with what its field shows."""
    text = typed.given.get(spec.name)
    shows = shown(spec, default_of(spec, typed.units), typed.units) if text is None else text
    return replace(row, text=shows, options=tuple(_options(spec, typed)))


def unit_of(spec: Spec, units: Units) -> str:
    """Return what the row's unit column says: the unit of a bare number."""
    return {"length": units, "angle": "°"}.get(spec.kind, "")


@lru_cache(maxsize=8192)
def _help(spec: Spec, units: Units) -> str:
    """What is said of a parameter whatever is typed: what it is, and its limits."""
    return " ".join(filter(None, (spec.help_in(units), _limits(spec, units))))


def _limits(spec: Spec, units: Units) -> str:
    if spec.kind == "text":
        return f"Up to {spec.longest} characters."
    return "" if spec.choices else spec.limits(units)


def _misread(spec: Spec, typed: Typed) -> str:
    """What is wrong with a value by itself, where something else was refused before the value was looked at."""
    text = typed.given.get(spec.name)
    if not typed.problems or text is None:
        return ""
    try:
        spec.read(text, typed.reading)
    except UnitsError as error:
        return str(error)
    return ""


def _reading(spec: Spec, typed: Typed) -> str:
    """`= 38.1 mm` for 1-1/2 in; nothing where what was typed is already that."""
    text = typed.given.get(spec.name)
    if spec.kind == "choice":
        said = dict(taken_for(typed.given, typed.values)).get(spec.name, "")
        return said[:1].upper() + said[1:]
    if text is None or spec.kind != "length":
        return ""
    said = spec.say(spec.read(text, typed.reading), typed.units)
    return "" if _bare(text, typed.units) == _bare(said, typed.units) else f"= {said}"


def _bare(text: str, units: Units) -> str:
    return "".join(text.lower().split()).removesuffix(units)


def _options(spec: Spec, typed: Typed) -> Iterator[Option]:
    """The choices of a row; what was typed is kept as one more where it is none of them."""
    known = ("off", "on") if spec.kind == "flag" else spec.choices
    if not known:
        return
    given = typed.given.get(spec.name)
    value = typed.values.get(spec.name, default_of(spec, typed.units))
    chosen = given if given is not None and typed.message(spec.name) else spec.text(value)
    for choice in known if chosen in known else (*known, chosen):
        yield Option(choice, title_of(spec, choice), choice == chosen)


def title_of(spec: Spec, choice: str) -> str:
    """Return a choice in words: `Mild steel`, `3/8 in`, `no`."""
    if spec.kind == "flag":
        return {"on": "yes", "off": "no"}.get(choice, choice)
    if spec.is_bolt and choice[:1].isdigit():
        return format_size_name(choice, "in")
    if spec.also and choice not in spec.choices:
        return _own_font(choice)
    return title_of_choice(spec.name, choice)


def _own_font(word: str) -> str:
    """What a font of someone's own is called, where its file is there."""
    from parts.artwork.glyphs import own_title  # noqa: PLC0415 - slow to load, and of few pages

    return own_title(word) or "your own, its file not here"
