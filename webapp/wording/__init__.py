"""How an answer of `parts` is put in words, for pages and commands alike."""

from parts.finding import Verdict
from webapp.wording.facts import Flag, RuleRows, as_cut_said, facts, healed_up_to, kinds, slow_said, verdict
from webapp.wording.table_errors import MINUS, TITLES, said_of
from webapp.wording.tape import tape_lines

__all__ = [
    "MINUS",
    "TITLES",
    "Flag",
    "RuleRows",
    "Verdict",
    "as_cut_said",
    "facts",
    "healed_up_to",
    "kinds",
    "said_of",
    "slow_said",
    "tape_lines",
    "verdict",
]
