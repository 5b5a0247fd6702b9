"""What a finding of a rule rests on in one job: each number with its value there, of what kind it is, where from."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import ModuleType

from parts import shop
from parts.cutting import Cut, Job, Origin
from parts.data import KINDS, Kind, kind_of
from parts.numbers.listed import names, of_files
from parts.numbers.number import Number, unit_of
from parts.numbers.words import plain, topic
from parts.rules import RULES
from parts.units import Units, format_length, to_figures, with_unit

_OF_THE_JOB = ("bed", "sheet", "machine", "brake")


@dataclass(frozen=True, slots=True)
class Rest:
    """A number that a rule reads in a job; `value` is None for a table of which each bolt has its own row."""

    name: str
    value: float | str | None
    unit: str
    kind: Kind
    source: str
    setting: str = ""

    @property
    def said(self) -> str:
        """The number and its kind in words: `smallest hole 9 mm, common practice`."""
        return self.said_in("mm")

    def said_in(self, units: Units) -> str:
        """Return the same with its length in the working units: `smallest hole 3/8 in, common practice`."""
        figures = to_figures(self.value, 4) if isinstance(self.value, float | int) else self.value or ""
        value = f" {with_unit(figures, self.unit).rstrip()}" if figures else ""
        if units == "in" and self.unit == "mm" and isinstance(self.value, float | int):
            value = f" {format_length(self.value, units)}"
        setting = f" at {self.setting}" if self.setting else ""
        return f"{self.name}{value}{setting}, {self.kind}"


def rests_on(rule: str, job: Job) -> tuple[Rest, ...]:
    """Return what a finding of a rule rests on in a job, in the order in which the rule names it.

    Raises:
        DataError: the shop's own file, or a built-in one, can't be used.
    """
    known = _rules().get(rule)
    return tuple(rest for named in known.NUMBERS for rest in _rests(named, job)) if known else ()


def of_process(cut: Cut) -> tuple[Rest, ...]:
    """Return every number of a process at one thickness."""
    return tuple(_of_cut(origin) for origin in cut.origins)


def kinds_said(rests: Iterable[Rest]) -> str:
    """Return the kinds of what a finding rests on: `common practice, from memory`; empty where it rests on none."""
    return ", ".join(kind for kind in KINDS if kind in {rest.kind for rest in rests})


def _of_cut(origin: Origin) -> Rest:
    return Rest(origin.label, origin.value, origin.unit, origin.kind, origin.source, origin.setting)


@cache
def _rules() -> Mapping[str, ModuleType]:
    return {rule.RULE: rule for rule in RULES}


def _rests(named: str, job: Job) -> Iterator[Rest]:
    table, _, entry = named.partition(".")
    of_cut = next((origin for origin in job.cut.origins if origin.name == named), None)
    if of_cut:
        yield _of_cut(of_cut)
    elif table in _OF_THE_JOB:
        yield from _of_the_job(table, entry, job)
    elif table == "rules":
        yield from _thresholds(named)
    elif table == "test_bends":
        if test := job.brake.tested(job.cut.thickness_mm):
            yield Rest(test.name, None, "", "yours", test.row.source)
    elif table == "least_bend_radius":
        yield from _own_least_radius(job.brake.material)
    elif named == "air_bending.least_radius" and job.brake.least_radius_ratio:
        return  # the shop's own stands over it
    else:
        yield from _tables(named, job.brake.group, job.brake.k_by)


def _of_the_job(table: str, entry: str, job: Job) -> Iterator[Rest]:
    """The numbers of bed, sheet, machine or brake; one that isn't the shop's was typed with the part."""
    held, built_in = (getattr(of, table) for of in (shop.load(shop.edition()), shop.built_in()))
    for name in [entry] if entry else [field for field in type(held).model_fields if field != "source"]:
        said = getattr(held, "sources", {}).get(name, held.source)
        value = _value(getattr(job, table), name)
        if table == "brake" and not value:  # the built-in tables hold, which are named beside
            continue
        of_shop, builtin = getattr(held, name), getattr(built_in, name)
        kind: Kind = kind_of(said, own=of_shop != builtin) if value == of_shop else "yours"
        source = said if value == of_shop else "typed with the part"
        words = f"{table} in {name[0].upper()}" if name in ("x_mm", "y_mm") else plain(name)
        yield Rest(words, value, unit_of(name), kind, source)


def _own_least_radius(material: str) -> Iterator[Rest]:
    if own := shop.load(shop.edition()).least_bend_radius.get(material):
        yield Rest("least bend radius", own.ratio, unit_of("ratio"), "yours", own.source)


def _value(of: object, name: str) -> float:
    """A number of a job's bed, sheet, machine or brake, which may go without its unit there."""
    plain = name.removesuffix("_mm_s2").removesuffix("_mm_s").removesuffix("_mm")
    return float(getattr(of, name) if hasattr(of, name) else getattr(of, plain))


@cache
def _thresholds(named: str) -> tuple[Rest, ...]:
    return tuple(
        Rest(plain(n.name.rpartition(".")[2]), n.value, n.unit, n.kind, n.source)
        for n in of_files()
        if names(named, topic(n.name.split(".")))
    )


@cache
def _tables(named: str, group: str, k_by: str) -> tuple[Rest, ...]:
    """The tables that a rule looks a bolt or a bend up in: one entry for each source.

    Rows of other groups of materials, and of the formula for K that doesn't hold, are none of them.
    """
    others = _groups() - {group} | {"handbook": {"din_6935"}, "din-6935": {"handbook", "by_likeness"}}[k_by]
    of = [n for n in of_files() if names(named, topic(n.name.split("."))) and others.isdisjoint(n.name.split("."))]
    by_source: dict[str, Number] = {}
    for number in of:
        by_source.setdefault(number.source, number)
    return tuple(Rest(_TABLES.get(named, named), None, "", n.kind, source) for source, n in by_source.items())


@cache
def _groups() -> frozenset[str]:
    return frozenset(material.group for material in shop.load(shop.edition()).materials.values())


_TABLES = {
    "edge_distance.metric": "edge distances of metric bolts",
    "edge_distance.inch": "edge distances of inch bolts",
    "edge_distance.spacing": "spacing of bolts",
    "bolts": "sizes of bolts",
    "hole_making": "threads, heads, pilots and anchors",
    "air_bending.v_openings": "V opening by thickness",
    "air_bending.radius_per_v": "inside radius that air bending leaves",
    "air_bending.least_radius": "least inside radius of the metal",
    "k_factors": "neutral line of a bend",
}
