"""How lengths and small ratios are said in the working units."""

from dataclasses import dataclass

from parts.units import Units, format_length

_SPANS: dict[Units, tuple[str, float]] = {"mm": ("a metre", 1000.0), "in": ("8 ft", 2438.4)}


@dataclass(frozen=True, slots=True)
class Words:
    """The words of the working units; a ratio is said as what it makes over a length, `span`."""

    units: Units = "mm"

    @property
    def span(self) -> str:
        """The length over which a ratio is said."""
        return _SPANS[self.units][0]

    @property
    def span_mm(self) -> float:
        """The same in mm."""
        return _SPANS[self.units][1]

    def say(self, mm: float) -> str:
        """Return a length."""
        return format_length(mm, self.units)

    def signed(self, mm: float, more: str, less: str) -> str:
        """Return a length without its sign and what the sign means: `0.4 mm long`; `0 mm` where none shows."""
        said = self.say(abs(mm))
        return said if said.startswith("0 ") else f"{said} {less if mm < 0 else more}"

    def over_a_length(self, ratio: float) -> str:
        """Return what a ratio makes over `span`, without its sign: `0.4 mm in a metre`."""
        return f"{self.say(abs(ratio) * self.span_mm)} in {self.span}"

    def over_each(self, ratio: float) -> str:
        """Return the same as what goes with each length of it: `0.4 mm for each metre`."""
        return f"{self.say(abs(ratio) * self.span_mm)} for each {self.span.removeprefix('a ')}"

    def between(self, low: float, high: float, more: str, less: str) -> str:
        """Return an interval of mm: `0.2 mm to 0.5 mm long`, `0.1 mm short to 0.3 mm long`."""
        if low * high > 0:
            near, far = sorted((abs(low), abs(high)))
            return f"{self.say(near)} to {self.say(far)} {less if high < 0 else more}"
        return f"{self.signed(low, more, less)} to {self.signed(high, more, less)}"
