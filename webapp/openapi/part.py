"""The `.json` of a part, and of a drawing of someone's own; lengths are mm, areas mm², masses kg, angles degrees."""

from typing import Annotated, Literal

from pydantic import Field

from parts.data import Kind
from webapp.openapi.answer import Answer, Point


class Line(Answer):
    """A straight segment."""

    kind: Literal["line"]
    start: Point
    end: Point


class Arc(Answer):
    """A circular segment; the sweep is positive counter-clockwise."""

    kind: Literal["arc"]
    start: Point
    end: Point
    centre: Point
    radius: float
    clockwise: bool
    sweep_deg: float


Segment = Annotated[Line | Arc, Field(discriminator="kind")]


class Circle(Answer):
    """A full circle."""

    centre: Point
    diameter: float


class Outside(Answer):
    """An outside loop, counter-clockwise."""

    side: Literal["outside"]
    segments: list[Segment]
    circle: Circle | None = None


class Inside(Answer):
    """An opening, clockwise; `parameter` sets its size."""

    side: Literal["inside"]
    name: str
    parameter: str
    segments: list[Segment]
    circle: Circle | None = None


class Drill(Answer):
    """A centre to drill."""

    kind: Literal["drill"]
    at: Point
    diameter: float


class Worked(Answer):
    """What is done to holes after cutting."""

    kind: str
    name: str
    count: int
    said: str
    cut_diameter: float | None
    drill_diameter: float | None
    made_diameter: float
    depth: float | None
    angle_deg: float | None
    thread: str | None
    pitch: float | None
    side: Literal["near", "far"] | None
    bolt: str
    at: list[Point]


class BendMark(Answer):
    """A bend line; of one that is only drawn, in another's file, no more than its ends is known."""

    kind: Literal["bend"]
    start: Point
    end: Point
    angle_deg: float | None = None
    radius: float | None = None
    up: bool | None = None
    k: float | None = None


class Scribe(Answer):
    """A line to scribe."""

    kind: Literal["scribe"]
    segments: list[Segment]


class Bend(Answer):
    """A row of the bend table; `deduction` is null for half a turn, `v_opening` past 150 degrees."""

    number: int
    angle_deg: float
    up: bool
    radius: float
    k: float
    k_name: str
    k_source: str
    k_kind: str
    v_opening: float | None
    allowance: float
    deduction: float | None
    deduction_margin95: float | None
    from_end: float
    line: tuple[Point, Point]


class Formed(Answer):
    """A section of the bent part across its bends; `outside` has its pieces from the first edge on."""

    bends: list[list[int]]
    outside: list[float]
    flat: float
    width: float
    height: float
    segments: list[Segment]


class Stop(Answer):
    """The back gauge's stop for a bend, in the order of bending: an edge of the drawing, or a bend's outer face."""

    bend: int
    edge: str | None
    face_of: int | None
    to_line: float | None


class FindingAnswer(Answer):
    """What a rule found, all alike in one: the worst place and the others, and values that mend it."""

    rule: str
    severity: Literal["stop", "warn", "note"]
    at: Point
    measured: float | None
    limit: float | None
    message: str
    remedy: str
    changes: dict[str, str]
    also: list[Point]
    count: int
    at_drawing: Point | None = Field(None, description="In the drawing's own coordinates")


class Routine(Answer):
    """What always holds of such a part, told outside the findings."""

    rule: str
    message: str
    remedy: str
    places: list[Point]


class NumberAnswer(Answer):
    """A number, of what kind it is, and for which current, power or edge it holds."""

    number: str
    value: float | str | None
    unit: str
    kind: Kind
    source: str
    setting: str


class Listed(NumberAnswer):
    """A number of the data: where it holds, what it is for, which rules read it."""

    holds_at: str
    used_for: str
    rules: list[str]


class Numbers(Answer):
    """Every number that was asked for."""

    numbers: list[Listed]


class Stock(Answer):
    """What it is cut from."""

    material: str
    title: str
    thickness_mm: float


class Measures(Answer):
    """Sizes and sums; `cut_time_s` is the sum of the times after it, `slow_share` what is much slower than the feed."""

    area_mm2: float
    cut_length_mm: float
    pierces: int
    width_mm: float
    height_mm: float
    mass_kg: float
    loops: int
    drill_centres: int
    scribe_length_mm: float
    cut_time_s: float
    cutting_time_s: float
    lead_in_time_s: float
    pierce_time_s: float
    probe_time_s: float
    travel_time_s: float
    travel_mm: float
    slow_share: float


class Part(Answer):
    """All that is known of a part; `compensated` says for which table, where it is for one."""

    platewright_version: str
    template: str
    address: str
    compensated: str | None = None
    title: str
    parameters: dict[str, float | int | str | bool]
    stock: Stock
    process: str
    process_numbers: list[NumberAnswer]
    units: Literal["mm", "in"]
    measures: Measures
    loops: list[Annotated[Outside | Inside, Field(discriminator="side")]]
    holes: list[Worked] | None = None
    marks: list[Annotated[Drill | BendMark | Scribe, Field(discriminator="kind")]]
    bends: list[Bend]
    formed: list[Formed]
    stops: list[Stop]
    findings: list[FindingAnswer]
    routine: list[Routine]
    rests_on: dict[str, list[NumberAnswer]]
    cautions: list[str]


class Mend(Answer):
    """What was put right, where, and its length or how far off it was."""

    kind: Literal["gap", "double", "outline", "stray", "tail", "jog", "circle"]
    size_mm: float
    at: Point
    at_drawing: Point


class DrawnLayer(Answer):
    """A layer: by its name, why not, and as chosen; its closed outlines."""

    name: str
    colour: str
    count: int
    guess: Literal["cut", "scribe", "bend", "drill", "aside"]
    chosen: Literal["cut", "scribe", "bend", "drill", "aside"] | None
    why: list[str]
    cut: int
    aside: int
    marked: int
    role: Literal["cut", "scribe", "bend", "drill", "aside"]


class DrawnOutline(Answer):
    """A closed outline by its box in drawing units; its box in mm, its segments where left out."""

    outline: str
    layer: str
    cut: bool
    chosen: bool
    box: tuple[float, float, float, float]
    segments: list[Segment]


class Checked(Part):
    """The same of a drawing of someone's own, with what was healed and what doesn't close."""

    verdict: str
    unchecked: list[str] = Field(description="Rules not asked")
    healed: list[str]
    open: list[list[Segment]]
    tolerance_mm: float
    mends: list[Mend]
    layers: list[DrawnLayer]
    outlines: list[DrawnOutline]


MODELS = (Part, Checked, Numbers, Listed)
