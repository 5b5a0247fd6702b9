"""Bolt-up: the chance that all bolts of two parts enter, the worst hole, and the clearance that makes it safe."""

from parts.boltup.accuracy import Accuracy, Cutting, accuracy_of
from parts.boltup.assumed import assumed
from parts.boltup.chance import MOST_TRIALS, SEED, TRIALS, Answer, answer
from parts.boltup.errors import Setting
from parts.boltup.holes import Hole, holes_of
from parts.boltup.joint import MOST_BOLTS, Joint, joint_of
from parts.boltup.pattern import EXAMPLES, as_holes, pattern
from parts.boltup.table import TableErrors, table_errors

__all__ = [
    "EXAMPLES",
    "MOST_BOLTS",
    "MOST_TRIALS",
    "SEED",
    "TRIALS",
    "Accuracy",
    "Answer",
    "Cutting",
    "Hole",
    "Joint",
    "Setting",
    "TableErrors",
    "accuracy_of",
    "answer",
    "as_holes",
    "assumed",
    "holes_of",
    "joint_of",
    "pattern",
    "table_errors",
]
