"""Every number that stands in the data, in force now: value, unit, what it is for, which rules read it, where from."""

from parts.numbers.listed import every, told_of
from parts.numbers.number import HEADINGS, Number, row_of
from parts.numbers.resting import Rest, kinds_said, of_process, rests_on

__all__ = ["HEADINGS", "Number", "Rest", "every", "kinds_said", "of_process", "rests_on", "row_of", "told_of"]
