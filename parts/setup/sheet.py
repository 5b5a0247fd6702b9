"""The set-up of one part: all that its sheet says, reckoned from its record and the shop's numbers."""

from dataclasses import dataclass
from itertools import pairwise

from parts import shop
from parts.cutting import travel_time
from parts.data import Kind
from parts.errors import Problem, Refused
from parts.geometry import distance
from parts.numbers import Rest
from parts.record import Record
from parts.setup.basis import kind_in
from parts.setup.checks import checks
from parts.setup.cost import Cost, cost
from parts.setup.duty import Duty, duty
from parts.setup.steps import Step, steps
from parts.setup.stock import Blank, blank
from parts.setup.supplies import Used, used
from parts.setup.wear import Wear, wear


@dataclass(frozen=True, slots=True)
class Height:
    """A height of the torch over the plate, mm; None where the machine's book tells it."""

    mm: float | None
    source: str
    kind: Kind


@dataclass(frozen=True, slots=True)
class Lift:
    """Whether a part is too heavy for one person, and the mass from which on it is, kg."""

    limit_kg: float
    is_over: bool
    source: str
    kind: Kind


@dataclass(frozen=True)
class SetUp:
    """What a person at the table has to know of a part; lengths mm, times s, masses kg.

    `steps` is the order in which to cut, `more_travel_s` how much longer the ways between the cuts take in it than in
    that by which the part's time is reckoned. `handling` is what a person has to do with it besides standing by.
    """

    record: Record
    steps: tuple[Step, ...]
    more_travel_s: float
    pierce_height: Height
    cut_height: Height
    duty: Duty
    blank: Blank
    supplies: tuple[Used, ...]
    wear: Wear
    lift: Lift
    handling_s: float
    handling: Rest
    cost: Cost
    checks: tuple[str, ...]

    @property
    def clear_of_crater(self) -> float:
        """How far a pierce stays off the outline at least: half of its crater, mm."""
        return self.record.job.cut.pierce_diameter_mm / 2


def set_up(record: Record) -> SetUp:
    """Return the set-up of a part.

    Raises:
        Refused: the part is drawn for one table: what is set up is the part itself.
        ValueError: the rules haven't looked at it.
        DataError: the shop's own file is unusable.
    """
    if not record.is_judged:
        raise ValueError("no set-up is made of a part that isn't checked")
    if record.compensation is not None:
        message = "goes with the drawing, not with its set-up sheet; leave it out here."
        raise Refused((Problem("compensate", record.compensation.label, message),))
    job, measures = record.job, record.measures
    every, asked = steps(record.profile, job), duty(record.profile, job)
    laid, uses = blank(measures, job), used(job.cut, asked.on_s)
    worn = wear(job.cut, measures.pierces, asked.on_s)
    rates, built_in = (of.rates for of in (shop.load(shop.edition()), shop.built_in()))
    table_s = measures.cut_time_s + asked.rest_in_all_s
    return SetUp(
        record=record,
        steps=every,
        more_travel_s=_travel_s(record, every) - measures.travel_time_s,
        pierce_height=_height(record, "pierce_height_mm"),
        cut_height=_height(record, "cut_height_mm"),
        duty=asked,
        blank=laid,
        supplies=uses,
        wear=worn,
        lift=_lift(measures.mass_kg),
        handling_s=60 * rates.handling_min,
        handling=Rest("handling", rates.handling_min, "min", kind_in(rates, built_in, "handling_min"), rates.source),
        cost=cost(job.cut.material, laid.mass_kg, table_s, uses, worn),
        checks=tuple(checks(record, every)),
    )


def _height(record: Record, name: str) -> Height:
    held, built_in = (
        of.processes[record.job.cut.process].torch_height for of in (shop.load(shop.edition()), shop.built_in())
    )
    return Height(getattr(held, name) or None, held.source, kind_in(held, built_in, name))


def _lift(mass_kg: float) -> Lift:
    held, built_in = (of.lifting for of in (shop.load(shop.edition()), shop.built_in()))
    return Lift(held.mass_kg, mass_kg > held.mass_kg, held.source, kind_in(held, built_in, "mass_kg"))


def _travel_s(record: Record, every: tuple[Step, ...]) -> float:
    """How long the ways between cuts take in the order of the steps, s."""
    starts = [record.profile.boundary[step.loop].segments[0].start for step in every]
    return sum(travel_time(distance(a, b), record.job.machine) for a, b in pairwise(starts))
