"""A preset: a part that is asked for again and again, as it is said in millimetres and as it is said in inches.

It is said once, in millimetres or in the inches of an inch part. Where inches are worked in, what is in inches stays; a
length in mm becomes the size that a shop chooses nearest to it, a metric bolt the nearest inch one, thin sheet its
gauge; what the template adds for inches goes over that. A preset of a metric standard stays that part exactly.
"""

import shlex
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import cast

from parts.cutting import materials
from parts.fasteners import inch_bolt
from parts.spec.condition import applies
from parts.spec.defaults import default_of
from parts.spec.parameter import BY_DIAMETER, ReadingContext, Spec, Value
from parts.spec.parameters import Parameters
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import MM_PER_IN, Units, exact_number, inch_length, inch_stock


@dataclass(frozen=True, slots=True)
class Preset:
    """A part that is asked for again and again: its name, and its values as on the command line.

    `words` are `name=value` with blanks between, those that differ from the defaults; a value with blanks in it stands
    in quotation marks, `text="MILL POND"`. `inches` are those that are
    said otherwise in inches than by the nearest size, `inch_name` is its name there where sizes are in it, `is_metric`
    whether it is of a metric standard or part, and stays so.
    """

    name: str
    words: str = ""
    inches: str = ""
    inch_name: str = ""
    is_metric: bool = False

    @property
    def values(self) -> Mapping[str, str]:
        """The values by the names of their parameters."""
        return _by_name(self.words)

    def name_in(self, units: Units) -> str:
        """Return its name where these units are worked in."""
        return (self.inch_name if units == "in" else "") or self.name

    def values_in(self, units: Units, of: type[Parameters]) -> Mapping[str, str]:
        """Return its values for working in these units, which they don't say; what isn't among them is at its default.

        Raises:
            Refused: it can't be read as parameters `of` a template.
            DataError: the data of sizes, bolts or gauges is unusable.
        """
        if units == "mm":
            return self.values
        if self.is_metric:
            return dict(_as_it_is(of, self.values))
        specs = of.specs()
        said = {name: _in_inches(specs[name], text, self.values) for name, text in self.values.items()}
        return said | dict(_by_name(self.inches))


def parted(words: str) -> list[str]:
    """Return the words of a preset, quotation marks taken off, as a command line is read.

    Raises:
        ValueError: a quotation mark is left open.
    """
    return shlex.split(words)


def _by_name(words: str) -> Mapping[str, str]:
    return dict(word.split("=", 1) for word in parted(words))


def _as_it_is(of: type[Parameters], values: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Every value in use that inches would have otherwise, a length with its unit where that isn't inches."""
    drawn, specs = of.read_singly(values), of.specs()
    every: dict[str, Value] = {name: getattr(drawn, name) for name in specs}
    for name, spec in specs.items():
        value = every[name]
        if name in values or (value != default_of(spec, "in") and applies(name, specs, every)):
            yield name, exact_number(cast(float, value), "in") if spec.kind == "length" else spec.text(value)


def _in_inches(spec: Spec, text: str, beside: Mapping[str, str]) -> str:
    """The text of one value as an inch shop says it."""
    if spec.is_bolt:
        return text if text == BY_DIAMETER else inch_bolt(str(spec.read(text, ReadingContext())))
    if spec.kind != "length":
        return text
    stock = materials()[beside.get("material", "mild-steel")]
    mm = cast(float, spec.read(text, ReadingContext("in" if beside.get("units") == "in" else "mm", stock.gauge)))
    if _is_of_inches(text, mm):
        return text if "ga" in text else exact_number(mm, "in")
    return inch_stock(mm, stock.gauge) if spec.is_thickness else exact_number(inch_length(mm), "in")


def _is_of_inches(text: str, mm: float) -> bool:
    """Whether a size is one of inches as it stands: said so, or whole thousandths of one, or nothing."""
    thousandth = MM_PER_IN / 1000
    return abs(mm - round(mm / thousandth) * thousandth) <= LIMIT_SLACK_MM or any(w in text for w in ("in", "/", "ga"))
