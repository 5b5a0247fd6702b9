"""The tables of the shop's numbers, checked: bed, sheet, machine, brake, cautions, materials, processes.

Every entry is known and every number sensible: a slip is answered in the words that end a sentence on it.
"""

import re
from collections.abc import Iterable
from pathlib import PurePath
from typing import Annotated, Literal, Self, TypeAlias, get_args

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from parts.data import Number, Text
from parts.shop.bending import BendTests, BrakeData, LeastBendRadius
from parts.shop.entries import Signed, Strict, Thickness, Travel, all_known, in_our_spelling, one_of
from parts.shop.series import ANY, DiameterRow, FeedRow, KerfRow, Series, TimeRow
from parts.shop.setting_up import (
    BY_MASS,
    BlankData,
    Consumables,
    DutyCycle,
    LiftingData,
    Money,
    RatesData,
    Supply,
    SupplyName,
    TorchHeight,
)
from parts.shop.tree import as_table, builtin
from parts.units import Gauge, Millimetres, format_figures

_NEW_MATERIAL = frozenset({"title", "density_kg_per_m3", "group"})


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

    side: Annotated[Side, BeforeValidator(lambda said: in_our_spelling(said, get_args(Side)))]


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
    torch_height: TorchHeight
    duty_cycle: DutyCycle
    supplies: dict[SupplyName, Supply]
    consumables: Consumables
    cautions: tuple[Text, ...] = ()
    kerf: dict[str, Series[KerfRow]]
    pierce_diameter: dict[str, Series[DiameterRow]]
    feed: dict[str, Series[FeedRow]]
    pierce_time: dict[str, Series[TimeRow]]

    @model_validator(mode="after")
    def _counted(self) -> Self:
        """Refuse a gas by its mass, and an abrasive by its volume."""
        for name, supply in self.supplies.items():
            wanted = "flow_kg_min" if name == BY_MASS else "flow_l_min"
            if getattr(supply, wanted) is None:
                raise ValueError(f"has supplies.{name} without {wanted}, by which it is counted")
        return self

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
    """One material; `source` is its density's, `price_per_kg` what the shop pays for it."""

    title: Text
    density_kg_per_m3: Annotated[Number, Field(ge=500, le=25_000)]
    price_per_kg: Money | None = None
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


_SITE = re.compile(r"https?://[A-Za-z0-9.:\[\]-]{1,80}(?:/[A-Za-z0-9._~/-]{0,80})?")
LONGEST_LINE = 60


def _site(text: str) -> str:
    """The address of a page, without a slash at its end; "" where there is none.

    Raises:
        ValueError: it is none of a page.
    """
    said = text.strip().rstrip("/")
    if said and not _SITE.fullmatch(said):
        raise ValueError("must be the address of your page, as http://192.168.1.20:8765")
    return said


def _in_a_line(text: str) -> str:
    """A text that stands in one field."""
    if len(text) > LONGEST_LINE or not text.isprintable():
        raise ValueError(f"it must be one line of at most {LONGEST_LINE} letters")
    return text.strip()


def _of_a_mark(name: str) -> str:
    """The name of a file beside the shop's own: nothing that leads elsewhere."""
    if name and (PurePath(name).name != name or "\\" in name or not name.lower().endswith((".png", ".svg"))):
        raise ValueError("it must be the name of a .png or .svg beside this file, without a folder")
    return _in_a_line(name)


Line = Annotated[str, AfterValidator(_in_a_line)]


class DrawingData(Signed):
    """The paper of the PDF where a part's address names none; the address of the shop's page, for the code on it."""

    page: Annotated[str, AfterValidator(_site)] = ""
    paper: Annotated[
        Literal["by-units", "A4", "A3", "letter", "tabloid"],
        BeforeValidator(lambda said: in_our_spelling(said, PAPERS)),
    ]


class TitleBlockData(Strict):
    """What the title block of every drawing says (ISO 7200); empty where it is left to fill in by hand.

    `mark` is the name of a PNG or SVG beside the shop's own file.
    """

    owner: Line = ""
    document_type: Line = ""
    creator: Line = ""
    approval: Line = ""
    tolerances: Line = ""
    mark: Annotated[str, AfterValidator(_of_a_mark)] = ""


class UsualData(Strict):
    """What the shop works with as a rule: what its pages and the command begin with; empty where it isn't said.

    No address of a file asks for it: a bookmark means the same wherever it is opened.
    """

    units: Annotated[Literal["", "mm", "in"], BeforeValidator(lambda said: in_our_spelling(said, ("mm", "in")))] = ""
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
    blank: BlankData
    lifting: LiftingData
    rates: RatesData
    title_block: TitleBlockData = Field(default_factory=TitleBlockData)
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
        all_known("processes", as_table(tree.get("processes")), tuple(builtin()["processes"]))
        all_known("materials", stock, known, " (a new one needs title, density_kg_per_m3 and group)")
        return tree

    @model_validator(mode="after")
    def _names(self) -> Self:
        """Refuse names that lead nowhere: a process, or a group of materials, that isn't there."""
        groups = (ANY, *dict.fromkeys(material.group for material in self.materials.values()))
        columns = tuple(dict.fromkeys(group for process in self.processes.values() for group in process.feed))
        for slug, material in self.materials.items():
            all_known(f"materials.{slug}.group", [material.group], columns)
            all_known(f"materials.{slug}.not_cut_by", material.not_cut_by, tuple(self.processes))
            all_known(f"materials.{slug}.cautions", material.cautions, tuple(self.cautions))
        for table in ("test_bends", "least_bend_radius"):
            all_known(table, getattr(self, table), tuple(self.materials))
        one_of("usual.process", self.usual.process, tuple(self.processes))
        one_of("usual.material", self.usual.material, tuple(self.materials))
        for slug, process in self.processes.items():
            all_known(f"processes.{slug}.cautions", process.cautions, tuple(self.cautions))
            for quantity in ("kerf", "pierce_diameter", "feed", "pierce_time"):
                all_known(f"processes.{slug}.{quantity}", getattr(process, quantity), groups)
        return self
