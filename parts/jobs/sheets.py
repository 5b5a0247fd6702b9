"""A job's layout, for whoever waits for it."""

from typing import TYPE_CHECKING

from parts.jobs.searched import Searched

if TYPE_CHECKING:
    from parts.orders import Nested  # which is slow to load


def laid_out(searched: Searched) -> "Nested":
    """Return the best layout of a job that is found in the time asked for.

    Raises:
        Refused: there are more parts than are laid out at once.
        DataError: the shop's own file is unusable.
    """
    from parts.jobs.layout import laid_out as found  # noqa: PLC0415 - as above

    return found(searched)
