"""A file that Platewright wrote, opened again: its template and values, and whether its outline was edited since."""

from parts.reopen.differences import Difference
from parts.reopen.facts import Facts, facts_in
from parts.reopen.reopened import Reopened, address_in, reopen

__all__ = ["Difference", "Facts", "Reopened", "address_in", "facts_in", "reopen"]
