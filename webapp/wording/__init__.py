"""How an answer of `parts` is put in words, for pages and commands alike."""

from webapp.wording.facts import Flag, RuleRows, Verdict, as_cut_said, facts, healed_up_to, kinds, slow_said, verdict
from webapp.wording.numbers import CHOICES, as_data, asked_for, counted
from webapp.wording.table_errors import MINUS, TITLES, said_of
from webapp.wording.tape import tape_lines

__all__ = [
    "CHOICES",
    "MINUS",
    "TITLES",
    "Flag",
    "RuleRows",
    "Verdict",
    "as_cut_said",
    "as_data",
    "asked_for",
    "counted",
    "facts",
    "healed_up_to",
    "kinds",
    "said_of",
    "slow_said",
    "tape_lines",
    "verdict",
]
