"""Which faces come with Platewright, and how delicate each is, without opening any."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Annotated

from pydantic import Field

from parts.data import Number, Sourced, Table, Text, load

OWN = r"own-[0-9a-f]{12}"
"""The word of any font of someone's own, as a regular expression."""
_Share = Annotated[Number, Field(ge=0, le=1)]


class FaceData(Table):
    """A face as the data has it; `counter`, `stroke` and `gap` are shares of the cap height."""

    name: Text
    files: Annotated[tuple[Text, ...], Field(min_length=1)]
    counter: _Share
    stroke: Annotated[Number, Field(gt=0, le=1)]
    gap: _Share


class FaceTable(Sourced):
    """The faces that come with Platewright, by the word for each."""

    faces: Annotated[dict[str, FaceData], Field(min_length=1)]


@cache
def face_table() -> Mapping[str, FaceData]:
    """Return what is known of every face, by its word.

    Raises:
        DataError: the data file is unusable.
    """
    return load("fonts.toml", FaceTable).faces


def words() -> Sequence[str]:
    """Return the words of the faces that come with Platewright, in the order of the data."""
    return tuple(face_table())
