"""`platewright draw ... font=./My.ttf`: a font of one's own, read for this one part."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from parts import Problem, Refused
from parts.spec import Spec
from webapp.commands.console import tell

FONT = "font"
ENDINGS = (".ttf", ".otf", ".woff", ".woff2", ".ttc", ".otc", ".pfb")
"""What a font's file ends in, whether it can be read or not."""


@contextmanager
def own_font(values: Mapping[str, str], specs: Mapping[str, Spec]) -> Iterator[Mapping[str, str]]:
    """Lend the font of a file within, where the values name one, and say what is to be said of it.

    Raises:
        Refused: the file can't be read, or used as a font.
    """
    named = values.get(FONT, "")
    if FONT not in specs or not specs[FONT].also or not _is_file(named, specs[FONT]):
        yield values
        return
    from parts.artwork.glyphs import LARGEST_BYTES, lent  # noqa: PLC0415 - slow to load, and of few commands

    try:
        with Path(named).open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise Refused((Problem(FONT, named, f"can't be read: {error.strerror or error}."),)) from error
    with lent(data, named) as font:
        tell(f"font: {' '.join((f'{font.title}, of {named}.', *font.notes))}")
        yield {**values, FONT: font.word}


def _is_file(named: str, spec: Spec) -> bool:
    """Whether a value means a file: it ends like a font's or names a place, and is no face."""
    if named in spec.choices or not named:
        return False
    return named.lower().endswith(ENDINGS) or "/" in named or "\\" in named or Path(named).is_file()
