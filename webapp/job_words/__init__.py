"""A saved job in words, for its pages and its command: what changed, what all of it comes to, its files' names."""

from webapp.job_words.changes import TURNS_SAID, changes, said
from webapp.job_words.file_name import plain
from webapp.job_words.sums import stock, sums

__all__ = ["TURNS_SAID", "changes", "plain", "said", "stock", "sums"]
