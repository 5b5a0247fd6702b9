"""What a choice is called in words: `choices.toml` where its name, with blanks for hyphens, isn't plain English."""

import re
from collections.abc import Mapping
from functools import cache

from parts.data.files import load
from parts.data.table import Table, Text

FILE = "choices.toml"
_JOINED = re.compile(r"[a-z]+(?:-[a-z]+)+")


class Choices(Table):
    """The file: the names of choices, each with its words."""

    choices: Mapping[str, Text]


@cache
def _choices() -> Mapping[str, str]:
    return load(FILE, Choices).choices


def word_of(choice: str) -> str:
    """Return a choice in words: `by diameter`; a size or an abbreviation as it is: `3/8`, `R12`, `A4`.

    Raises:
        DataError: the file can't be used; names the entry and what is accepted.
    """
    return _choices().get(choice) or (choice.replace("-", " ") if _JOINED.fullmatch(choice) else choice)
