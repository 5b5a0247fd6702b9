"""How a process cuts a material at a thickness: kerf, smallest hole, narrowest bridge, pierce, feed.

*Kerf* is the width of the slot that cutting leaves. A *pierce* is the start through solid plate; it blows a
crater, `pierce_diameter_mm`. *Feed* is the speed along the cut. The numbers are rows by thickness in
`parts/data/processes.toml` or the shop's own file, on straight lines between rows, and none beyond them.
"""

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite
from types import MappingProxyType
from typing import NamedTuple, TypeVar

from parts import shop
from parts.cutting.origin import Origin
from parts.cutting.stock import Material, materials_at, unknown
from parts.data import Kind, kind_of, weakest
from parts.errors import Problem, Refused
from parts.shop import ANY, DiameterRow, FeedRow, KerfRow, ProcessData, Series, SeriesRow, Side, TimeRow, builtin
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import exact_text, format_both, format_figures, format_length, to_figures

T = TypeVar("T")

PROCESSES: Mapping[str, str] = MappingProxyType(
    {slug: str(data["title"]) for slug, data in builtin()["processes"].items()}
)
"""Title of each process by its slug."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A process at one material and thickness; lengths in mm, times in s.

    `square_side` is the side of the kerf, seen along the way, whose face comes out square; loops are written so that
    it is the part's. `inside_radius_mm` is the least that an inside corner should have, `straight_strip_mm` the width
    from which a long strip stays straight (0: any does), `lead_in_mm` the least way from the pierce to the outline,
    `probe_time_s` what finding the plate's height takes before each pierce.
    `cautions` are sentences on what can hurt when cutting this way; `origins` say of each number where it is from.
    """

    process: str
    title: str
    material: str
    thickness_mm: float
    kerf_mm: float
    smallest_hole_mm: float
    narrowest_bridge_mm: float
    narrowest_slot_mm: float
    inside_radius_mm: float
    straight_strip_mm: float
    lead_in_mm: float
    pierce_diameter_mm: float
    pierce_time_s: float
    feed_mm_s: float
    square_side: Side
    probe_time_s: float
    cautions: tuple[str, ...]
    origins: tuple[Origin, ...]

    @property
    def sources(self) -> tuple[str, ...]:
        """A line per number: what it is and where it is from."""
        return tuple(f"{origin.label}: {origin.source}" for origin in self.origins)


def cut_for(process: str, material: str, thickness_mm: float) -> Cut:
    """Return how `process` cuts `material` at this thickness; remembered, so asking again costs microseconds.

    Raises:
        Refused: an unknown process or material, a material the process can't cut, or a thickness outside
            what it cuts; each Problem names `process`, `material` or `thickness`.
        DataError: the shop's own file is unusable.
    """
    return _cut(process, material, thickness_mm, shop.edition())


def thickness_range(process: str, material: str) -> tuple[float, float]:
    """Return the thinnest and thickest of `material` that `process` cuts, mm.

    Raises:
        Refused: an unknown process or material, or one that the other can't cut.
        DataError: the shop's own file is unusable.
    """
    return _columns(process, material, shop.edition()).range_mm


@dataclass(frozen=True, slots=True)
class _Columns:
    """The four series of a process that hold for one material."""

    data: ProcessData
    kerf: Series[KerfRow]
    pierce_diameter: Series[DiameterRow]
    pierce_time: Series[TimeRow]
    feed: Series[FeedRow]

    @property
    def range_mm(self) -> tuple[float, float]:
        """Where the process cuts and all four series have rows."""
        series = (self.kerf.rows, self.pierce_diameter.rows, self.pierce_time.rows, self.feed.rows)
        return (
            max(self.data.thinnest.thickness_mm, *(rows[0].thickness_mm for rows in series)),
            min(self.data.thickest.thickness_mm, *(rows[-1].thickness_mm for rows in series)),
        )


@lru_cache(maxsize=4096)
def _cut(process: str, material: str, thickness_mm: float, at: shop.Edition) -> Cut:
    columns = _columns(process, material, at)
    low, high = columns.range_mm
    if not low - LIMIT_SLACK_MM <= thickness_mm <= high + LIMIT_SLACK_MM:
        raise Refused((_wrong_thickness(process, material, thickness_mm, at),))
    data = columns.data
    kerf = between(columns.kerf.rows, thickness_mm)
    crater = between(columns.pierce_diameter.rows, thickness_mm)
    time = between(columns.pierce_time.rows, thickness_mm)
    feed = between(columns.feed.rows, thickness_mm)
    least = {name: getattr(data, name).least_mm(thickness_mm, kerf.value) for name in LEAST_SIZES}
    series = (("pierce_diameter", "mm", crater), ("pierce_time", "s", time), ("feed", "mm/s", feed))
    single = (
        ("square_side", data.square_side.side, "", data.square_side),
        ("height_probe", data.height_probe.time_s, "s", data.height_probe),
        ("thinnest", data.thinnest.thickness_mm, "mm", data.thinnest),
        ("thickest", data.thickest.thickness_mm, "mm", data.thickest),
    )
    return Cut(
        process=process,
        title=data.title,
        material=material,
        thickness_mm=thickness_mm,
        kerf_mm=kerf.value,
        smallest_hole_mm=least["smallest_hole"],
        narrowest_bridge_mm=least["narrowest_bridge"],
        narrowest_slot_mm=least["narrowest_slot"],
        inside_radius_mm=least["inside_radius"],
        straight_strip_mm=least["straight_strip"],
        lead_in_mm=least["lead_in"],
        pierce_diameter_mm=crater.value,
        pierce_time_s=time.value,
        feed_mm_s=feed.value,
        square_side=data.square_side.side,
        probe_time_s=data.height_probe.time_s,
        cautions=shop.load(at).sentences(data.cautions),
        origins=(
            Origin("kerf", *kerf, "mm"),
            *(_least(process, name, data, thickness_mm, kerf) for name in LEAST_SIZES),
            *(Origin(name, *between, unit) for name, unit, between in series),
            *(Origin(name, value, of.source, kind_of(of.source), "", unit) for name, value, unit, of in single),
        ),
    )


LEAST_SIZES = ("smallest_hole", "narrowest_bridge", "narrowest_slot", "inside_radius", "straight_strip", "lead_in")
"""The least sizes of a process, each the largest of a share of the thickness, a floor, and a number of kerfs."""


def _least(process: str, name: str, data: ProcessData, thickness_mm: float, kerf: "Between") -> Origin:
    """A least size; of what kind it is follows from the one of the three numbers that decides, and from its kerf."""
    rule = getattr(data, name)
    built_in = getattr(shop.built_in().processes[process], name)
    terms = rule.terms_mm(thickness_mm, kerf.value)
    decides = max(terms, key=lambda term: terms[term])
    kinds = [kind_of(rule.source, own=getattr(rule, decides) != getattr(built_in, decides))]
    kinds += [kerf.kind] if decides == "kerfs" and rule.kerfs else []
    return Origin(name, rule.least_mm(thickness_mm, kerf.value), rule.source, weakest(kinds), "", "mm")


class Between(NamedTuple):
    """A value of a series at a thickness, where it is from, of what kind it is, and what it holds for."""

    value: float
    source: str
    kind: Kind
    setting: str


def between(rows: tuple[SeriesRow, ...], thickness_mm: float) -> Between:
    """Return the value on the straight line between the rows either side, with both their sources.

    What lies between two published values is no published one: it is derived.
    """
    above = bisect_right(rows, thickness_mm, key=lambda row: row.thickness_mm)
    low, high = rows[max(above - 1, 0)], rows[min(above, len(rows) - 1)]
    if thickness_mm <= low.thickness_mm or low is high:  # on a row; or off an end by no more than the slack
        return Between(low.value, low.source, kind_of(low.source), low.setting)
    part = (thickness_mm - low.thickness_mm) / (high.thickness_mm - low.thickness_mm)
    value = low.value + part * (high.value - low.value)
    sources = dict.fromkeys((low.source, high.source))
    thin, thick = to_figures(low.thickness_mm), format_figures(high.thickness_mm)
    source = f"between {thin} and {thick}, {'; '.join(sources)}"
    kind = weakest(kind_of(each) for each in sources)
    setting = " to ".join(dict.fromkeys(filter(None, (low.setting, high.setting))))
    return Between(value, source, "derived" if kind == "published" else kind, setting)


def _columns(process: str, material: str, at: shop.Edition) -> _Columns:
    known = materials_at(at)
    if problems := (*unknown("process", process, PROCESSES), *unknown("material", material, known)):
        raise Refused(problems)
    columns = _find(process, known[material], at)
    if isinstance(columns, str):
        others = _others(process, material, None, at)
        ways = tuple({"process": other} for other in others)
        raise Refused((Problem("material", material, f"{columns}{_choose([*others.values()])}", ways=ways),))
    return columns


def _find(process: str, material: Material, at: shop.Edition) -> _Columns | str:
    """Return the series of a process that hold for a material, or the sentence why it can't cut it."""
    data = shop.load(at).processes[process]
    if why_not := material.why_not(process):
        return why_not
    kerf, crater = _column(data.kerf, material.group), _column(data.pierce_diameter, material.group)
    time, feed = _column(data.pierce_time, material.group), _column(data.feed, material.group)
    if kerf is None or crater is None or time is None or feed is None:
        return f"There are no numbers here for cutting {material.title.lower()} by {data.title.lower()}."
    return _Columns(data, kerf, crater, time, feed)


def _column(by_group: Mapping[str, T], group: str) -> T | None:
    return by_group.get(group, by_group.get(ANY))


def _wrong_thickness(process: str, material: str, thickness_mm: float, at: shop.Edition) -> Problem:
    """Say what thickness would do, and which process would cut this one."""
    low, high = _columns(process, material, at).range_mm
    data = shop.load(at)
    message = (
        f"{data.processes[process].title} cuts {data.materials[material].title.lower()} "
        f"from {format_both(low)} to {format_both(high)} here."
    )
    others = _others(process, material, thickness_mm, at)
    value = format_length(thickness_mm, "mm") if isfinite(thickness_mm) else str(thickness_mm)
    near = {"thickness": exact_text(low if thickness_mm < low else high, "mm")}
    ways = (near, *({"process": other} for other in others))
    return Problem("thickness", value, f"{message}{_choose([*others.values()])}", ways=ways)


def _others(process: str, material: str, thickness_mm: float | None, at: shop.Edition) -> dict[str, str]:
    """Return the other processes that cut this material, at this thickness if one is given, with their titles."""
    titles = {}
    for other in PROCESSES:
        columns = _find(other, materials_at(at)[material], at)
        if other == process or isinstance(columns, str):
            continue
        low, high = columns.range_mm
        if thickness_mm is None or low <= thickness_mm <= high:
            titles[other] = columns.data.title.lower()
    return titles


def _choose(titles: list[str]) -> str:
    """Return ` Choose a, b or c.`, or nothing where there is no choice."""
    if not titles:
        return ""
    *first, last = titles
    return f" Choose {', '.join(first)} or {last}." if first else f" Choose {last}."
