"""Where a number of a cut is from: its value at one thickness, of what kind it is, and for which setting it holds."""

from dataclasses import dataclass

from parts.data import Kind


@dataclass(frozen=True, slots=True)
class Origin:
    """A number of a process at one thickness, by its entry in the data, with its source.

    `setting` is what it holds for: the current, the power, the edge; empty where nothing is said.
    """

    name: str
    value: float
    source: str
    kind: Kind
    setting: str
    unit: str

    @property
    def label(self) -> str:
        """What it is called: `smallest hole`."""
        return "lead-in" if self.name == "lead_in" else self.name.replace("_", " ")
