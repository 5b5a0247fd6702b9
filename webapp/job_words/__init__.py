"""A saved job in words, for its pages and its command: what changed, and what all of it comes to."""

from webapp.job_words.changes import TURNS_SAID, changes, said
from webapp.job_words.sums import stock, sums

__all__ = ["TURNS_SAID", "changes", "said", "stock", "sums"]
