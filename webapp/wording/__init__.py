"""How an answer of `parts` is put in words, for pages and commands alike."""

from parts.finding import Verdict
from webapp.wording.bend_test import HOLDS, SaidResult, bend_said, kept_said, results, what_was_bent
from webapp.wording.facts import Flag, RuleRows, as_cut_said, facts, healed_up_to, kinds, slow_said, verdict
from webapp.wording.found import found_in_words
from webapp.wording.numbers import CHOICES, as_data, asked_for, counted
from webapp.wording.table_errors import MINUS, TITLES, said_of
from webapp.wording.tape import tape_lines

__all__ = [
    "CHOICES",
    "HOLDS",
    "MINUS",
    "TITLES",
    "Flag",
    "RuleRows",
    "SaidResult",
    "Verdict",
    "as_cut_said",
    "as_data",
    "asked_for",
    "bend_said",
    "counted",
    "facts",
    "found_in_words",
    "healed_up_to",
    "kept_said",
    "kinds",
    "results",
    "said_of",
    "slow_said",
    "tape_lines",
    "verdict",
    "what_was_bent",
]
