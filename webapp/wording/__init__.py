"""How an answer of `parts` is put in words, for pages and commands alike."""

from webapp.wording.facts import Flag, Kind, Verdict, as_cut_said, bends, facts, kinds, mass, slow_said, verdict
from webapp.wording.table_errors import MINUS, TITLES, said_of, small_length
from webapp.wording.tape import tape_lines

__all__ = [
    "MINUS",
    "TITLES",
    "Flag",
    "Kind",
    "Verdict",
    "as_cut_said",
    "bends",
    "facts",
    "kinds",
    "mass",
    "said_of",
    "slow_said",
    "small_length",
    "tape_lines",
    "verdict",
]
