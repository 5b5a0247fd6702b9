"""The fields of the shop's own numbers: what each is called, how an entry of the file is shown in one, and back.

A field shows the shop's own entry, and nothing where the built-in number holds. What is right is not decided here:
what was typed goes into the file's tree, and `parts.shop` answers for it.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias

from parts.cutting import PROCESSES, materials
from parts.errors import UnitsError
from parts.shop import PAPERS, as_table, builtin
from parts.shop.editing import Change, written
from parts.units import (
    KG_PER_LB,
    LITRES_PER_FT3,
    LITRES_PER_GAL,
    MM_PER_IN,
    Units,
    exact_number,
    format_length,
    format_speed,
    parse_length,
    parse_number,
    speed_per_minute,
    to_figures,
    with_unit,
)

QuantityKind: TypeAlias = Literal[
    "length", "speed", "acceleration", "density", "times", "ratio", "seconds", "choice", "words",
    "mass", "gas", "liquid", "mass flow", "percent", "current", "hours", "minutes", "count", "money",
]  # fmt: skip

# mm/s in one of the page's unit of speed: mm/min or in/min
_MM_S: Mapping[Units, float] = {"mm": 1 / 60, "in": MM_PER_IN / 60}
_UNITS: Mapping[QuantityKind, str] = {
    "times": "times",
    "ratio": "",
    "seconds": "s",
    "choice": "",
    "words": "",
    "percent": "%",
    "current": "A",
    "hours": "h",
    "minutes": "min",
    "count": "",
    "money": "",
}


_IN_INCHES: Mapping[QuantityKind, tuple[str, str, float]] = {
    "acceleration": ("mm/s²", "in/s²", MM_PER_IN),
    "density": ("kg/m³", "lb/in³", KG_PER_LB / (MM_PER_IN / 1000) ** 3),
    "mass": ("kg", "lb", KG_PER_LB),
    "mass flow": ("kg/min", "lb/min", KG_PER_LB),
    "gas": ("l/min", "ft³/min", LITRES_PER_FT3),
    "liquid": ("l/min", "gal/min", LITRES_PER_GAL),
}
"""Kinds that the file has in one unit alone: that, the one where inches are worked in, and the first in one of it."""
_LIMIT = re.compile(r"([0-9][0-9.e+]*) (mm/s2|mm/s|mm|kg/m3)(?![\w/])")
_LIMITS: Mapping[str, tuple[str, float]] = {
    "mm": ("in", MM_PER_IN),
    "mm/s": ("in/min", MM_PER_IN / 60),
    "mm/s2": _IN_INCHES["acceleration"][1:],
    "kg/m3": _IN_INCHES["density"][1:],
}


@dataclass(frozen=True, slots=True)
class Field:
    """One entry of the file: its table and built-in name, and what it is called on the page."""

    table: tuple[str, ...]
    name: str
    label: str
    kind: QuantityKind
    unless: str = ""
    """What holds where there is no number of the shop's own, if that isn't one number."""
    choices: Mapping[str, str] = field(default_factory=dict)
    """What there is to choose, each with its title; nothing where it is typed."""

    @property
    def id(self) -> str:
        """The name of the field in the form."""
        return ".".join((*self.table, self.name))


@dataclass(frozen=True, slots=True)
class TableBlock:
    """A table of the file as it stands on the page, with a line on what its numbers do; folded where there are many."""

    title: str
    about: str
    fields: tuple[Field, ...]
    is_folded: bool = False

    @property
    def table(self) -> tuple[str, ...]:
        """The table's path in the file."""
        return self.fields[0].table


_PAPERS = {"by-units": "A4 for mm, letter for inches", **{paper: paper for paper in PAPERS if paper != "by-units"}}
_WORKING = {"mm": "millimetres", "in": "inches"}
_K_BY = {"handbook": "the handbook", "din-6935": "DIN 6935"}
_SIDES = {side: side for side in ("right", "left", "either")}


def _source(*table: str) -> Field:
    return Field(table, "source", "Where yours are from", "words")


MACHINE = (
    TableBlock(
        "Bed",
        "How far the torch travels. A part larger than this is flagged.",
        (
            Field(("bed",), "x_mm", "Travel in X", "length"),
            Field(("bed",), "y_mm", "Travel in Y", "length"),
            _source("bed"),
        ),
    ),
    TableBlock(
        "Sheet",
        "What a part is cut from. It may lie on the bed either way.",
        (
            Field(("sheet",), "x_mm", "Sheet in X", "length"),
            Field(("sheet",), "y_mm", "Sheet in Y", "length"),
            _source("sheet"),
        ),
    ),
    TableBlock(
        "Machine",
        "How it moves, for cutting times and corners, and what the plate lies on.",
        (
            Field(("machine",), "acceleration_mm_s2", "Acceleration", "acceleration"),
            Field(("machine",), "top_speed_mm_s", "Top speed", "speed"),
            Field(("machine",), "rapid_mm_s", "Rapid, between cuts", "speed"),
            Field(("machine",), "corner_tolerance_mm", "Corner tolerance", "length"),
            Field(("machine",), "slat_pitch_mm", "Slat pitch", "length"),
            _source("machine"),
        ),
    ),
    TableBlock(
        "Drawing",
        "What the PDF is printed on; and where your page is, for the code on it by which a phone opens the part.",
        (
            Field(("drawing",), "paper", "Paper", "choice", choices=_PAPERS),
            Field(("drawing",), "page", "Address of your page", "words", "not given"),
            _source("drawing"),
        ),
    ),
    TableBlock(
        "Title block",
        "What every drawing says of you. The mark is a PNG or SVG in the folder of your own file, by its name.",
        (
            Field(("title_block",), "owner", "Legal owner", "words", "left to fill in"),
            Field(("title_block",), "mark", "Mark, a file's name", "words", "none"),
            Field(("title_block",), "creator", "Creator", "words", "left to fill in"),
            Field(("title_block",), "approval", "Approval person", "words", "left to fill in"),
            Field(("title_block",), "document_type", "Document type", "words", "Part drawing"),
            Field(("title_block",), "tolerances", "Tolerances", "words", "ISO 9013, by the process"),
        ),
    ),
    TableBlock(
        "Blank",
        "The strip that stays around a part, to the sheet's edges and to the next part.",
        (Field(("blank",), "margin_mm", "Margin", "length"), _source("blank")),
    ),
    TableBlock(
        "Lifting",
        "A part heavier than this is said to be for two, or a hoist.",
        (Field(("lifting",), "mass_kg", "One person lifts", "mass"), _source("lifting")),
    ),
    TableBlock(
        "Rates",
        "For the cost on the set-up sheet. What isn't given here isn't reckoned.",
        (
            Field(("rates",), "currency", "Currency", "words", "not given"),
            Field(("rates",), "machine_per_h", "Machine, per hour", "money", "not given"),
            Field(("rates",), "labour_per_h", "Labour, per hour", "money", "not given"),
            Field(("rates",), "handling_min", "Handling of a part", "minutes"),
            Field(("rates",), "markup_percent", "On top of the cost", "percent", "not given"),
            _source("rates"),
        ),
    ),
    TableBlock(
        "Usual",
        "What your pages and the command begin with. A browser's own choice goes over it.",
        (
            Field(("usual",), "units", "Working units", "choice", "millimetres", _WORKING),
            Field(("usual",), "process", "Process", "choice", PROCESSES["air-plasma"], PROCESSES),
            Field(("usual",), "material", "Material", "choice", "Mild steel"),
        ),
    ),
    TableBlock(
        "Press brake",
        "The V opening of its die, and what that asks of a flat.",
        (
            Field(("brake",), "v_opening_ratio", "V opening per thickness", "times", "by thickness"),
            Field(("brake",), "flange_per_v", "Least flange per V opening", "times"),
            Field(("brake",), "inside_radius_per_v", "Inside radius per V opening", "times", "by material"),
            Field(("brake",), "k_factor", "K-factor", "ratio", "as the next says"),
            Field(("brake",), "k_by", "K-factor by", "choice", choices=_K_BY),
            Field(("brake",), "hole_ratio", "Hole off the bend per thickness", "times"),
            Field(("brake",), "slot_ratio", "Slot off the bend per thickness", "times"),
            Field(("brake",), "punch_width_mm", "Punch, thickness", "length"),
            _source("brake"),
        ),
    ),
)

_RULES = (
    ("smallest_hole", "Smallest hole"),
    ("narrowest_bridge", "Narrowest bridge"),
    ("narrowest_slot", "Narrowest slot"),
    ("inside_radius", "Inside radius"),
    ("straight_strip", "Straight strip"),
    ("lead_in", "Lead-in"),
)


def materials_of(own: Mapping[str, Any]) -> tuple[TableBlock, ...]:
    """Return the materials, built-in and then the shop's own: what each weighs, and how sharp it can be bent."""
    of_shop, known = as_table(own.get("materials")), as_table(builtin()["materials"])
    return tuple(
        TableBlock(
            str({**as_table(known.get(slug)), **as_table(of_shop.get(slug))}.get("title", slug)),
            "What a part of it weighs, and how sharp it can be bent.",
            (
                Field(table, "density_kg_per_m3", "Density", "density"),
                Field(table, "price_per_kg", "Price, per kg", "money", "not given"),
                _source(*table),
                Field(radius, "ratio", "Least bend radius per thickness", "times", "by a table, or none known"),
                Field(radius, "source", "Where your least radius is from", "words"),
            ),
            is_folded=True,
        )
        for slug in dict.fromkeys((*known, *of_shop))
        for table, radius in [(("materials", slug), ("least_bend_radius", slug))]
    )


def limits_of(process: str) -> tuple[TableBlock, ...]:
    """Return the thicknesses at which a process starts and ends."""
    return tuple(
        TableBlock(title, about, (Field(table, "thickness_mm", "Thickness", "length"), _source(*table)), is_folded=True)
        for name, title, about in (
            ("thinnest", "Thinnest", "Thinner than this isn't cut this way."),
            ("thickest", "Thickest", "Thicker isn't pierced. To cut thicker, the chart needs rows up to there too."),
        )
        for table in [("processes", process, name)]
    )


def rules_of(process: str) -> tuple[TableBlock, ...]:
    """Return the least sizes that the rules hold a part against."""
    return tuple(
        TableBlock(
            title,
            "The largest of the three holds.",
            (
                Field(table, "ratio", "Times the thickness", "times"),
                Field(table, "floor_mm", "Never under", "length"),
                Field(table, "kerfs", "Times the kerf", "times"),
                _source(*table),
            ),
            is_folded=True,
        )
        for name, title in _RULES
        for table in [("processes", process, name)]
    )


def ways_of(process: str) -> tuple[TableBlock, ...]:
    """Return what the process does with the way round a loop, and with the height of the plate."""
    table = ("processes", process, "square_side")
    about = (
        "Of the cut, seen the way the torch goes: right, left or either. The loops of a DXF and SVG run so that it is "
        "the part's: for right, the outside clockwise and openings counter-clockwise."
    )
    probe = ("processes", process, "height_probe")
    felt = "To find the plate before each pierce: down, up, and to where it pierces. 0 where it isn't felt for."
    return (
        TableBlock(
            "Square side",
            about,
            (Field(table, "side", "Side", "choice", choices=_SIDES), _source(*table)),
            is_folded=True,
        ),
        TableBlock("Height probe", felt, (Field(probe, "time_s", "Time", "seconds"), _source(*probe)), is_folded=True),
    )


_SUPPLIES: Mapping[str, tuple[str, str, QuantityKind, str, str]] = {
    "air": ("Air", "flow_l_min", "gas", "price_per_m3", "Price, per m³"),
    "oxygen": ("Oxygen", "flow_l_min", "gas", "price_per_m3", "Price, per m³"),
    "nitrogen": ("Nitrogen", "flow_l_min", "gas", "price_per_m3", "Price, per m³"),
    "fuel-gas": ("Fuel gas", "flow_l_min", "gas", "price_per_m3", "Price, per m³"),
    "water": ("Water", "flow_l_min", "liquid", "price_per_m3", "Price, per m³"),
    "abrasive": ("Abrasive", "flow_kg_min", "mass flow", "price_per_kg", "Price, per kg"),
}


def setting_up_of(process: str, own: Mapping[str, Any]) -> tuple[TableBlock, ...]:
    """Return what the set-up sheet says of a process besides its chart; of supplies the shop's own too."""
    known = as_table(as_table(builtin()["processes"])[process])["supplies"]
    of_shop = as_table(as_table(as_table(own.get("processes")).get(process)).get("supplies"))
    path = ("processes", process)
    height, duty, wear = ((*path, name) for name in ("torch_height", "duty_cycle", "consumables"))
    return (
        TableBlock(
            "Torch height",
            "From the tip to the plate. 0 where the machine's book tells it.",
            (
                Field(height, "pierce_height_mm", "To pierce", "length"),
                Field(height, "cut_height_mm", "To cut", "length"),
                _source(*height),
            ),
            is_folded=True,
        ),
        TableBlock(
            "Duty cycle",
            "Of the power source, by its plate: so much of any ten minutes at this current; 0 A for the current that "
            "is cut with, 0 % where there is no such source.",
            (
                Field(duty, "percent", "On, of ten minutes", "percent"),
                Field(duty, "rated_a", "At a current of", "current"),
                _source(*duty),
            ),
            is_folded=True,
        ),
        *(_supply(process, name) for name in _SUPPLIES if name in {*known, *of_shop}),
        TableBlock(
            "Consumables",
            "What one set lasts, by pierces or hours of cutting, whichever comes first; 0 where it isn't counted so.",
            (
                Field(wear, "pierces", "Pierces", "count"),
                Field(wear, "arc_hours", "Hours of cutting", "hours"),
                Field(wear, "set_price", "Price of a set", "money", "not given"),
                _source(*wear),
            ),
            is_folded=True,
        ),
    )


def _supply(process: str, name: str) -> TableBlock:
    table = ("processes", process, "supplies", name)
    title, flow, kind, price, per = _SUPPLIES[name]
    return TableBlock(
        title,
        "Used while it pierces and cuts; gas as it is at the pressure of the air.",
        (Field(table, flow, "In a minute", kind), Field(table, price, per, "money", "not given"), _source(*table)),
        is_folded=True,
    )


def choices_of(field: Field) -> Mapping[str, str]:
    """Return what there is to choose in a field, each with its title; of materials, the shop's own too."""
    return {slug: of.title for slug, of in materials().items()} if field.id == "usual.material" else field.choices


def options(field: Field, text: str) -> list[tuple[str, str, bool]]:
    """Return the options of a field with choices: value, title, whether it is chosen; what was typed is one too."""
    known = choices_of(field)
    titles = {**known, text: text} if known and text and text not in known else known
    return [(value, title, value == text) for value, title in titles.items()]


def unit_of(kind: QuantityKind, units: Units) -> str:
    """Return the unit of a bare number in a field."""
    if kind in _IN_INCHES:
        metric, inch, _ = _IN_INCHES[kind]
        return metric if units == "mm" else inch
    return {"length": units, "speed": f"{units}/min"}.get(kind) or _UNITS[kind]


def _one(kind: QuantityKind, units: Units) -> float:
    """How much of the file's unit is in one of the page's."""
    return _IN_INCHES[kind][2] if kind in _IN_INCHES and units == "in" else 1.0


def limits_in(sentence: str, units: Units) -> str:
    """Return what is said of a limit of the file in the page's units, rounded inward: what is read is accepted."""
    turn = math.floor if "at most" in sentence or "less" in sentence else math.ceil

    def inches(found: re.Match[str]) -> str:
        unit, one = _LIMITS[found[2]]
        number = float(found[1]) / one
        step = 10.0 ** (math.floor(math.log10(number)) - 3) if number else 1.0
        return with_unit(to_figures(turn(number / step) * step), unit)

    return _LIMIT.sub(inches, sentence) if units == "in" and "must be" in sentence else sentence


def shown(key: str, value: object, kind: QuantityKind, units: Units) -> str:
    """Return an entry of the file as its field shows it: text as it was written, a number in the page's units."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        text = str(value).strip()
        plain = kind == "length" and re.fullmatch(rf"[0-9.]+ *{units}", text)
        return text.removesuffix(units).strip() if plain else text
    if kind == "speed":
        return to_figures(speed_per_minute(value * _factor(key), units))
    return exact_number(float(value), units) if kind == "length" else to_figures(value / _one(kind, units), 12)


def said(value: float | str, kind: QuantityKind, units: Units) -> str:
    """Return a built-in number, in mm, mm/s or s, as it is read; a word as it is."""
    if isinstance(value, str):
        return value
    if kind == "length":
        return format_length(value, units)
    if kind == "speed":
        return format_speed(value, units)
    number = to_figures(value / _one(kind, units), 6 if _one(kind, units) == 1 else 3)
    return with_unit(number, unit_of(kind, units)).rstrip()


def read(text: str, name: str, kind: QuantityKind, units: Units) -> tuple[str, str | float | int]:
    """Return the key and the value that a typed text becomes in the file; what can't be read stays text."""
    if kind in ("words", "choice"):
        return name, text
    if kind == "length":
        return name.removesuffix("_mm"), _with_unit(text, units)
    try:
        number = parse_number(text)
    except UnitsError:
        return name, text
    key = f"{name.removesuffix('_mm_s')}_{units}_min" if kind == "speed" else name
    number = float(to_figures(number * _one(kind, units), 15))
    return key, int(number) if number.is_integer() else number


def own_text(own: Mapping[str, Any], field: Field, units: Units) -> str:
    """Return what a field shows of a shop's tree: nothing where the built-in number holds."""
    here = written(own, field.table, field.name)
    return shown(*here, field.kind, units) if here else ""


def change(field: Field, text: str, units: Units) -> Change:
    """Return what a typed text changes in the file; an empty one takes the entry out."""
    if not text:
        return Change(field.table, field.name, None)
    key, value = read(text, field.name, field.kind, units)
    return Change(field.table, field.name, value, key)


def _factor(key: str) -> float:
    """Mm/s in one of the unit that a key of the file names."""
    return _MM_S["in"] if key.endswith("_in_min") else _MM_S["mm"] if key.endswith("_mm_min") else 1.0


def _with_unit(text: str, units: Units) -> str:
    """The text with the page's unit where it has none: the file's own reading of a bare number is mm."""
    try:
        bare_is_read = parse_length(text, bare="mm") != parse_length(text, bare="in")
        return with_unit(text, units) if bare_is_read and parse_length(with_unit(text, units)) else text
    except UnitsError:
        return text
