"""Shaping: a line of text becomes glyphs in their places, kerned, marks on their letters, whichever way it runs.

cluster  glyphs that stand for characters which can't be parted: a letter with its accents, a ligature

Lengths are cap heights of the face.
"""

import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from itertools import groupby
from typing import NamedTuple

from parts.artwork.glyphs.bidi import runs
from parts.artwork.glyphs.faces import Face, FontFile

NEW_LINE = " | "
"""What begins a new line."""


class Glyph(NamedTuple):
    """A glyph and where its origin lies beside that of its cluster."""

    file: FontFile
    number: int
    dx: float
    dy: float


class Cluster(NamedTuple):
    """Glyphs that stay together, how far the next cluster's origin is from theirs, and whether it is a blank."""

    glyphs: tuple[Glyph, ...]
    advance: float
    is_blank: bool


def lines_of(text: str) -> list[str]:
    """Return the lines of a text, blanks at their ends left out, characters composed where they can be."""
    return [unicodedata.normalize("NFC", line).strip() for line in text.split(NEW_LINE)]


def missing(text: str, face: Face) -> tuple[str, ...]:
    """Return the characters of a text that a face has no glyph for, each once."""
    found = dict.fromkeys(c for line in lines_of(text) for c in line if not c.isspace() and not _file_for(c, face))
    return tuple(found)


@lru_cache(maxsize=512)
def shaped(line: str, face: Face) -> tuple[Cluster, ...]:
    """Return the clusters of a line from left to right; what the face lacks must not be in it."""
    found: list[Cluster] = []
    for run in runs(line):
        pieces = list(_by_file(run.text, face))
        for file, text in reversed(pieces) if run.right_to_left else pieces:
            found += _shaped(text, file, right_to_left=run.right_to_left)
    return tuple(found)


def _file_for(character: str, face: Face) -> FontFile | None:
    """The file that draws a character, whole or in its parts."""
    if whole := face.file_of(character):
        return whole
    parts = [ord(part) for part in unicodedata.normalize("NFD", character)]
    return next((file for file in face.files if len(parts) > 1 and file.characters.issuperset(parts)), None)


def _by_file(text: str, face: Face) -> Iterator[tuple[FontFile, str]]:
    """The stretches of a text that one file draws; blanks and marks go with what is before them, where that may be."""
    files: list[FontFile] = []
    for character in text:
        before = files[-1] if files else None
        follows = character.isspace() or unicodedata.combining(character)
        if before and follows and (character.isspace() or ord(character) in before.characters):
            files.append(before)
        else:
            files.append(_file_for(character, face) or face.files[0])
    start = 0
    for file, group in groupby(files):
        end = start + len(list(group))
        yield file, "".join(" " if character.isspace() else character for character in text[start:end])
        start = end


def _shaped(text: str, file: FontFile, *, right_to_left: bool) -> Iterator[Cluster]:
    import uharfbuzz  # noqa: PLC0415 - only what draws letters needs it

    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    buffer.direction = "rtl" if right_to_left else "ltr"
    uharfbuzz.shape(file.font, buffer)
    placed = zip(buffer.glyph_infos, buffer.glyph_positions, strict=True)
    for cluster, group in groupby(placed, key=lambda pair: pair[0].cluster):
        glyphs: list[Glyph] = []
        along = 0.0
        for info, position in group:
            at = (along + position.x_offset) / file.cap, position.y_offset / file.cap
            glyphs.append(Glyph(file, info.codepoint, *at))
            along += position.x_advance
        yield Cluster(tuple(glyphs), along / file.cap, text[cluster].isspace())
