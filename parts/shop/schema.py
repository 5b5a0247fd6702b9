"""The tables of the shop's numbers, checked: bed, sheet, machine, brake, cautions, materials, processes.

Every entry is known and every number sensible: a slip is answered in the words that end a sentence on it.
"""

import math
from collections.abc import Iterable
from itertools import pairwise
from typing import Annotated, Generic, Literal, Self, TypeAlias, TypeVar, get_args

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from parts.data import OWN, Number, Table, Text, UnknownEntry, suggestion
from parts.shop.setting import SETTINGS, setting_of
from parts.shop.tree import ALIASES, as_table, builtin
from parts.shop.words import Ambiguous, taken_for
from parts.units import Gauge, Millimetres, format_figures

ANY = "any"
"""The group of a series that holds for every material without a column of its own."""

_NEW_MATERIAL = frozenset({"title", "density_kg_per_m3", "group"})


# 300 mm is where ISO 9013:2017 ends; the other bounds catch a slipped unit or point, not a good machine.
Thickness = Annotated[Millimetres, Field(gt=0, le=300)]
Travel = Annotated[Millimetres, Field(ge=100, le=50_000)]


class Strict(Table):
    """A table of a shop's file, where an entry may go by another name."""

    other_names = ALIASES


class SeriesRow(Strict):
    """One row of a series: a value in the series' own unit at a thickness, what it holds for, and where it is from.

    `current_a` is a plasma's current, `power_kw` a laser's power, `quality` the edge that a waterjet leaves.
    """

    thickness_mm: Thickness
    value: float
    current_a: Annotated[Number, Field(gt=0, le=2000)] | None = None
    power_kw: Annotated[Number, Field(gt=0, le=200)] | None = None
    quality: Text = ""
    source: Text = OWN

    @property
    def setting(self) -> str:
        """What the row holds for, in words: `45 A`, `3 kW`, `good edge`; empty where nothing is said."""
        return setting_of({name: getattr(self, name) for name in SETTINGS})


class KerfRow(SeriesRow):
    """Width of the slot the process leaves, mm."""

    value: Annotated[Millimetres, Field(alias="kerf_mm", gt=0, le=20)]


class DiameterRow(SeriesRow):
    """Diameter of the crater that a pierce blows, mm."""

    value: Annotated[Millimetres, Field(alias="diameter_mm", gt=0, le=100)]


class FeedRow(SeriesRow):
    """Speed along the cut, mm/s."""

    value: Annotated[Number, Field(alias="feed_mm_s", gt=0, le=2000)]


class TimeRow(SeriesRow):
    """Time from arc, flame or jet on to moving, s."""

    value: Annotated[Number, Field(alias="time_s", ge=0, le=1200)]


R = TypeVar("R", bound=SeriesRow)


class Series(Strict, Generic[R]):
    """Rows by rising thickness; straight lines between them, nothing beyond them."""

    rows: Annotated[tuple[R, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _rising(self) -> Self:
        """Refuse rows out of order: which of two holds would be a guess."""
        for thinner, thicker in pairwise(row.thickness_mm for row in self.rows):
            if thicker <= thinner:
                raise ValueError(
                    f"has {format_figures(thicker)} after {format_figures(thinner)}: rows must go from thin to thick"
                )
        return self


class Signed(Strict):
    """A table whose numbers share one source: the shop's own file, where it names none."""

    source: Text = OWN


class Limit(Signed):
    """A thickness at which a process starts or ends, mm."""

    thickness_mm: Thickness


class Rule(Signed):
    """A least size: the largest of `ratio` x thickness, `floor_mm` and `kerfs` x kerf."""

    ratio: Annotated[Number, Field(ge=0, le=10)]
    floor_mm: Annotated[Millimetres, Field(ge=0, le=100)]
    kerfs: Annotated[Number, Field(ge=0, le=20)]

    def least_mm(self, thickness_mm: float, kerf_mm: float) -> float:
        """Return the least size at this thickness and kerf, mm."""
        return max(self.terms_mm(thickness_mm, kerf_mm).values())

    def terms_mm(self, thickness_mm: float, kerf_mm: float) -> dict[str, float]:
        """Return what each entry asks for at this thickness and kerf, mm; the largest is the least size."""
        return {"ratio": self.ratio * thickness_mm, "floor_mm": self.floor_mm, "kerfs": self.kerfs * kerf_mm}


Side: TypeAlias = Literal["right", "left", "either"]
"""A side of the torch's path, seen the way it goes."""


class SquareSide(Signed):
    """The side of the kerf whose face the jet leaves squarer."""

    side: Annotated[Side, BeforeValidator(lambda said: _in_our_spelling(said, get_args(Side)))]


class HeightProbe(Signed):
    """What finding the plate's height takes before each pierce, s; 0 where it isn't felt for."""

    time_s: Annotated[Number, Field(ge=0, le=120)]


class ProcessData(Strict):
    """One process; each series is kept by group of materials."""

    title: Text
    thinnest: Limit
    thickest: Limit
    smallest_hole: Rule
    narrowest_bridge: Rule
    narrowest_slot: Rule
    inside_radius: Rule
    straight_strip: Rule
    lead_in: Rule
    square_side: SquareSide
    height_probe: HeightProbe
    cautions: tuple[Text, ...] = ()
    kerf: dict[str, Series[KerfRow]]
    pierce_diameter: dict[str, Series[DiameterRow]]
    feed: dict[str, Series[FeedRow]]
    pierce_time: dict[str, Series[TimeRow]]

    @model_validator(mode="after")
    def _range(self) -> Self:
        """Refuse a process that starts thicker than it ends."""
        low, high = self.thinnest.thickness_mm, self.thickest.thickness_mm
        if low >= high:
            raise ValueError(
                f"is thinnest at {format_figures(low)} and thickest at {format_figures(high)}: thinnest must be less"
            )
        return self


WhyNot = Annotated[str, BeforeValidator(lambda why: "" if why is False else why)]
"""Why a material can't be cut; false, as no sentence, leaves nothing against it."""


class MaterialData(Signed):
    """One material; `source` is its density's."""

    title: Text
    density_kg_per_m3: Annotated[Number, Field(ge=500, le=25_000)]
    group: Text
    gauge: Literal[Gauge, "none"] = "none"
    cautions: tuple[Text, ...] = ()
    not_cut_by: dict[str, WhyNot] = Field(default_factory=dict)


class BedData(Signed):
    """How far the machine travels, mm."""

    x_mm: Travel
    y_mm: Travel


class SheetData(Signed):
    """The sheet that parts are cut from, as it lies on the table, mm."""

    x_mm: Travel
    y_mm: Travel


def _or_none(least: float) -> AfterValidator:
    """Accept 0, which leaves it to the built-in tables, or at least so much."""

    def checked(value: float) -> float:
        if 0 < value < least:
            raise ValueError(f"it must be 0, or at least {least:g}")
        return value

    return AfterValidator(checked)


_SOURCES = ("source", "sources")


class BrakeData(Signed):
    """The press brake; see `parts.forming.brake` for what each ratio is of, and for what holds where it is 0.

    `sources` has the source of each, `source` that of the shop's own.
    """

    v_opening_ratio: Annotated[Number, Field(ge=0, le=20), _or_none(4)]
    flange_per_v: Annotated[Number, Field(ge=0.5, le=2)]
    inside_radius_per_v: Annotated[Number, Field(ge=0, le=0.5), _or_none(0.05)]
    k_factor: Annotated[Number, Field(ge=0, le=0.5), _or_none(0.2)]
    k_by: Annotated[
        Literal["handbook", "din-6935"],
        BeforeValidator(lambda said: _in_our_spelling(said, ("handbook", "din-6935"))),
    ]
    hole_ratio: Annotated[Number, Field(ge=0, le=10)]
    slot_ratio: Annotated[Number, Field(ge=0, le=10)]
    punch_width_mm: Annotated[Millimetres, Field(gt=0, le=200)]
    sources: dict[str, Text]

    @model_validator(mode="after")
    def _sourced(self) -> Self:
        """Refuse the source of what isn't there."""
        _all_known("sources", self.sources, tuple(name for name in type(self).model_fields if name not in _SOURCES))
        return self


class BendTestRow(Strict):
    """One test bend: what strips of this thickness showed over this V opening; see `parts.forming.own_bend`.

    Each u is a standard uncertainty, `coverage` how many of them the 95 % interval of the deduction has.
    """

    thickness_mm: Thickness
    measured_mm: Thickness
    measured_u_mm: Annotated[Millimetres, Field(gt=0, le=5)]
    v_opening_mm: Annotated[Millimetres, Field(gt=0, le=3000)]
    angle_deg: Annotated[Number, Field(ge=10, le=150)]
    inside_radius_mm: Annotated[Millimetres, Field(gt=0, le=1000)]
    inside_radius_u_mm: Annotated[Millimetres, Field(gt=0, le=500)]
    deduction_mm: Annotated[Millimetres, Field(ge=-100, le=1000)]
    deduction_u_mm: Annotated[Millimetres, Field(gt=0, le=100)]
    coverage: Annotated[Number, Field(ge=1.5, le=15)] = 2.0
    strips: Annotated[int, Field(strict=True, ge=1, le=500)] = 1
    date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")]
    source: Text = OWN

    def k_at(self, radius_mm: float, thickness_mm: float) -> float:
        """Return the K that gives this deduction at a radius and a thickness, by the formula of bend deductions."""
        angle = math.radians(self.angle_deg)
        setbacks = 2 * math.tan(angle / 2) * (radius_mm + thickness_mm)
        return (setbacks - angle * radius_mm - self.deduction_mm) / (angle * thickness_mm)

    @model_validator(mode="after")
    def _possible(self) -> Self:
        """Refuse a deduction that would have the neutral line outside the metal: a slip of a digit."""
        k = self.k_at(self.inside_radius_mm, self.measured_mm)
        if not 0 < k < 1:
            raise ValueError(
                f"has a deduction of {format_figures(self.deduction_mm)}, at this radius and thickness a K of {k:.3g}: "
                "it must be between 0 and 1"
            )
        return self


class BendTests(Strict):
    """The test bends of one material, each of another thickness or V opening."""

    rows: Annotated[tuple[BendTestRow, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _each_once(self) -> Self:
        """Refuse two of one thickness and V: which of them holds would be a guess."""
        seen: set[tuple[float, float]] = set()
        for row in self.rows:
            key = row.thickness_mm, row.v_opening_mm
            if key in seen:
                thick, v = map(format_figures, key)
                raise ValueError(f"has two of {thick} over a V of {v}: keep one of them")
            seen.add(key)
        return self


class LeastBendRadius(Signed):
    """The least inside radius that a material stands, bent square, in thicknesses."""

    ratio: Annotated[Number, Field(gt=0, le=20)]


class MachineData(Signed):
    """How the machine moves, and how far apart the slats under the plate are."""

    acceleration_mm_s2: Annotated[Number, Field(gt=0, le=100_000)]
    top_speed_mm_s: Annotated[Number, Field(gt=0, le=5000)]
    rapid_mm_s: Annotated[Number, Field(gt=0, le=5000)]
    corner_tolerance_mm: Annotated[Millimetres, Field(gt=0, le=5)]
    slat_pitch_mm: Annotated[Millimetres, Field(ge=5, le=1000)]


BY_UNITS = "by-units"
PAPERS = (BY_UNITS, "A4", "A3", "letter", "tabloid")
"""What a drawing may be printed on; by its units it is A4 for mm and letter for inches."""


class DrawingData(Signed):
    """The paper of the PDF where a part's address names none."""

    paper: Annotated[
        Literal["by-units", "A4", "A3", "letter", "tabloid"],
        BeforeValidator(lambda said: _in_our_spelling(said, PAPERS)),
    ]


class UsualData(Strict):
    """What the shop works with as a rule: what its pages and the command begin with; empty where it isn't said.

    No address of a file asks for it: a bookmark means the same wherever it is opened.
    """

    units: Annotated[Literal["", "mm", "in"], BeforeValidator(lambda said: _in_our_spelling(said, ("mm", "in")))] = ""
    process: str = ""
    material: str = ""


class CautionData(Signed):
    """One sentence on what can hurt; `source` says who warns of it."""

    text: Text


class ShopData(Strict):
    """All of it: what `load` returns."""

    bed: BedData
    sheet: SheetData
    machine: MachineData
    brake: BrakeData
    drawing: DrawingData
    usual: UsualData = Field(default_factory=UsualData)
    cautions: dict[str, CautionData]
    materials: dict[str, MaterialData]
    processes: dict[str, ProcessData]
    test_bends: dict[str, BendTests] = Field(default_factory=dict)
    least_bend_radius: dict[str, LeastBendRadius] = Field(default_factory=dict)

    def sentences(self, cautions: Iterable[str]) -> tuple[str, ...]:
        """Return the texts of cautions by their names, which are checked."""
        return tuple(self.cautions[name].text for name in cautions)

    @model_validator(mode="before")
    @classmethod
    def _new_ones(cls, tree: dict[str, object]) -> dict[str, object]:
        """Refuse a process that isn't there, and half a material: a slip of the pen, most likely."""
        stock = as_table(tree.get("materials"))
        whole = (slug for slug, of in stock.items() if as_table(of).keys() >= _NEW_MATERIAL)
        known = tuple(dict.fromkeys((*builtin()["materials"], *whole)))
        _all_known("processes", as_table(tree.get("processes")), tuple(builtin()["processes"]))
        _all_known("materials", stock, known, " (a new one needs title, density_kg_per_m3 and group)")
        return tree

    @model_validator(mode="after")
    def _names(self) -> Self:
        """Refuse names that lead nowhere: a process, or a group of materials, that isn't there."""
        groups = (ANY, *dict.fromkeys(material.group for material in self.materials.values()))
        columns = tuple(dict.fromkeys(group for process in self.processes.values() for group in process.feed))
        for slug, material in self.materials.items():
            _all_known(f"materials.{slug}.group", [material.group], columns)
            _all_known(f"materials.{slug}.not_cut_by", material.not_cut_by, tuple(self.processes))
            _all_known(f"materials.{slug}.cautions", material.cautions, tuple(self.cautions))
        for table in ("test_bends", "least_bend_radius"):
            _all_known(table, getattr(self, table), tuple(self.materials))
        _one_of("usual.process", self.usual.process, tuple(self.processes))
        _one_of("usual.material", self.usual.material, tuple(self.materials))
        for slug, process in self.processes.items():
            _all_known(f"processes.{slug}.cautions", process.cautions, tuple(self.cautions))
            for quantity in ("kerf", "pierce_diameter", "feed", "pierce_time"):
                _all_known(f"processes.{slug}.{quantity}", getattr(process, quantity), groups)
        return self


def _suggested(where: str, name: str, known: tuple[str, ...]) -> str:
    """What a name that isn't known may have been meant to be: by a shop's word, or by its spelling."""
    if where not in ("processes", "materials") and not where.endswith(".not_cut_by"):
        return suggestion(name, known)
    try:
        meant = taken_for("material" if where == "materials" else "process", name, known)
    except Ambiguous as error:
        return f"accepted: {', '.join(error.choices)}"
    return f"did you mean {meant}" if meant else suggestion(name, known)


def _in_our_spelling(said: object, words: Iterable[str]) -> object:
    """A word in the spelling it has here, whatever its letters' case; any other as it is, to be refused."""
    return next((word for word in words if word.lower() == str(said).strip().lower()), said)


def _one_of(entry: str, name: str, known: tuple[str, ...]) -> None:
    if name and name not in known:
        raise ValueError(
            f"has {entry} {name!r}: {_suggested('processes' if 'process' in entry else 'materials', name, known)}"
        )


def _all_known(where: str, names: Iterable[str], known: tuple[str, ...], hint: str = "") -> None:
    for name in names:
        if name not in known:
            path = (*where.split("."), name)
            raise UnknownEntry(f"has no entry {'.'.join(path)}: {_suggested(where, name, known)}{hint}", path)
