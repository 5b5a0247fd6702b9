"""Totals: what all lines of a job come to."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from parts.jobs.summary import Summary


@dataclass(frozen=True, slots=True)
class Stock:
    """What is cut from one material and thickness: how many parts, and their mass in kg."""

    material: str
    thickness_mm: float
    parts: int
    mass_kg: float


@dataclass(frozen=True, slots=True)
class Totals:
    """All parts that could be drawn: masses in kg, lengths in mm, times in s, costs in the shop's money.

    `cost` is what could be reckoned, None where no rate is given; `missing` are the rates that aren't. `stops`, `warns`
    and `notes` count findings by line. `left_out` counts the parts that can't be drawn.
    """

    parts: int
    mass_kg: float
    cut_length_mm: float
    pierces: int
    time_s: float
    cost: float | None
    missing: tuple[str, ...]
    currency: str
    stock: tuple[Stock, ...]
    stops: int
    warns: int
    notes: int
    left_out: int


def totals(lines: Sequence[tuple[int, Summary | None]]) -> Totals:
    """Return what lines come to.

    Args:
        lines: of each how many, and the summary of one; None where it can't be drawn.
    """
    drawn = [(count, line) for count, line in lines if line is not None]
    costs = [count * line.of.cost for count, line in drawn if line.of.cost is not None]
    severities = [finding.severity for _, line in drawn for finding in line.findings]
    return Totals(
        parts=sum(count for count, _ in drawn),
        mass_kg=sum(count * line.of.mass_kg for count, line in drawn),
        cut_length_mm=sum(count * line.of.cut_length_mm for count, line in drawn),
        pierces=sum(count * line.of.pierces for count, line in drawn),
        time_s=sum(count * line.of.time_s for count, line in drawn),
        cost=sum(costs) if costs else None,
        missing=tuple(dict.fromkeys(name for _, line in drawn for name in line.of.missing)),
        currency=next((line.of.currency for _, line in drawn), ""),
        stock=tuple(_stock(drawn)),
        stops=severities.count("stop"),
        warns=severities.count("warn"),
        notes=severities.count("note"),
        left_out=sum(count for count, line in lines if line is None),
    )


def _stock(drawn: Iterable[tuple[int, Summary]]) -> Iterable[Stock]:
    sorts: dict[tuple[str, float], tuple[int, float]] = {}
    for count, line in drawn:
        key = (line.material, round(line.thickness_mm, 6))
        parts, mass = sorts.get(key, (0, 0.0))
        sorts[key] = parts + count, mass + count * line.of.mass_kg
    return (Stock(material, mm, parts, mass) for (material, mm), (parts, mass) in sorts.items())
