"""A table's own errors, as a measured test piece tells them: what they do to the places and the sizes of holes.

Places are as `parts.truing` has them put: ((1 + sx) x - (1 + sy) y sin e, (1 + sy) y cos e); holes come out k - h
wider, k the kerf's error and h what holes shrink. What the readings don't settle counts as none, without uncertainty,
and is named.
"""

import math
from dataclasses import dataclass

from parts.truing import Errors, true_table

_NO_ERRORS = Errors()


@dataclass(frozen=True, slots=True)
class TableErrors:
    """The errors of a table and their standard uncertainties; `open` are the names of those not settled."""

    name: str = ""
    value: Errors = _NO_ERRORS
    uncertainty: Errors = _NO_ERRORS
    open: tuple[str, ...] = ()

    @property
    def wider(self) -> float:
        """How much wider holes come out, mm."""
        return self.value.kerf - self.value.hole_shrinkage

    @property
    def wider_u(self) -> float:
        """The standard uncertainty of that, mm."""
        return math.hypot(self.uncertainty.kerf, self.uncertainty.hole_shrinkage)


def table_errors(text: str) -> TableErrors:
    """Return the errors that the readings of a TOML file's text tell.

    Raises:
        DataError: the text is no TOML.
        Refused: an entry can't be used, or the readings settle nothing.
    """
    report = true_table(text)
    told = report.solution.estimates
    value = Errors(**{name: told[name].value for name in Errors._fields if name in told})
    u = Errors(**{name: told[name].standard_uncertainty for name in Errors._fields if name in told})
    return TableErrors(report.table.name, value, u, tuple(report.missing))
