"""What is answered of measurements."""

from typing import Any

from pydantic import ConfigDict, Field

from webapp.openapi.answer import Answer


class Estimate(Answer):
    """One error of the table; scales are ratios less 1, the angle is in degrees, lengths are mm."""

    value: float
    standard_uncertainty: float
    expanded_uncertainty: float
    low95: float
    high95: float
    differs_from_zero: bool


class Correction(Answer):
    """One thing to change, or to leave; `old` and `new` are null where not known."""

    setting: str
    sentence: str
    old: float | None
    new: float | None
    unit: str
    leave: bool
    asked: bool = Field(description="Larger than a shop misses: looked for a slip first")
    waits: bool = Field(description="Until what is asked is answered")


class Reading(Answer):
    """A reading by its number, as it is said."""

    number: int
    said: str


class AssumedReading(Answer):
    """The uncertainty that was taken for a reading, by its instrument."""

    reading: int
    instrument: str
    u_mm: float


class Correlation(Answer):
    """How far two errors can't be told apart."""

    between: tuple[str, str]
    coefficient: float


class Unchecked(Answer):
    """An error that a slip of up to `slip_mm` in a reading may have made unseen; null: of any size."""

    error: str
    slip_mm: float | None
    readings: list[int]
    sentence: str


class OffOverASheet(Answer):
    """What is off over a sheet, mm; null where that isn't known."""

    x: float | None
    y: float | None
    diagonals: float | None


class OverASheet(Answer):
    """Before and, with 95 % confidence, after the corrections."""

    before_mm: OffOverASheet
    after_95_mm: OffOverASheet


class Truing(Answer):
    """What readings say of a table; of an error that they don't settle `missing` says why."""

    scale_x: Estimate | None
    scale_y: Estimate | None
    out_of_square_deg: Estimate | None
    kerf_error_mm: Estimate | None
    hole_shrinkage_mm: Estimate | None
    missing: dict[str, str]
    weak: dict[str, str] = Field(description="What would settle an error better")
    unchecked: list[Unchecked]
    corrections: list[Correction]
    residuals: list[float] = Field(description="In units of each reading's uncertainty")
    left_out: list[str] = Field(description="Readings that aren't taken yet")
    disagreeing: list[list[int]]
    readings: list[Reading] = Field(description="What residuals are of, in order")
    assumed: list[AssumedReading]
    chi_square: float
    degrees_of_freedom: int
    birge_ratio: float = Field(description="What every uncertainty is multiplied by")
    correlation: list[Correlation]
    over_a_sheet: OverASheet
    coverage_factor: float
    machine: dict[str, Any] = Field(description="The table's settings, lengths in mm")
    cautions: list[str]


class BendNumber(Answer):
    """A result with its 95 % interval; mm, K a ratio."""

    value: float
    standard_uncertainty: float
    coverage_factor: float
    low95: float
    high95: float
    measured: bool | None = None


class BendAnswer(Answer):
    """What the strips of a test bend say of the brake, as `true --json` prints it."""

    model_config = ConfigDict(extra="allow")

    k: BendNumber
    inside_radius_mm: BendNumber
    deduction_mm: BendNumber
    allowance_mm: BendNumber
    asked: list[str]


MODELS = (Truing, BendAnswer)
