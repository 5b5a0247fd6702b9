"""What is laid out how: all that a search for a layout is begun with."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from parts.store import Content

if TYPE_CHECKING:
    from parts.orders import Asked  # which is slow to load


@dataclass(frozen=True, slots=True)
class Searched:
    """A job, the files of its drawings by their digests, and stock, distances and time."""

    content: Content
    files: Mapping[str, bytes]
    asked: "Asked"
