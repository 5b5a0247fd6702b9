"""The picture of the faces that letters are cut in, each named in its own letters: for the page, beside the field."""

from collections.abc import Iterator

from parts.artwork import pieces
from parts.artwork.glyphs import Text, face, laid_out, lettered, words

_CAP, _APART, _COLUMN, _COLUMNS = 14.0, 30.0, 150.0, 2
_FINEST = 0.04
# How coarse the outlines may be at the size that they are seen at, about a pixel to a unit.


def files() -> dict[str, str]:
    """Return the picture, by its path within `docs`."""
    high = _APART * -(-len(words()) // _COLUMNS)
    size = f'viewBox="0 0 {_COLUMNS * _COLUMN:g} {high:g}"'
    paths = "".join(f'<path d="{"".join(_path(word, *_place(i)))}"/>\n' for i, word in enumerate(words()))
    return {"../static/faces.svg": f'<svg xmlns="http://www.w3.org/2000/svg" {size}>\n{paths}</svg>\n'}


def _place(number: int) -> tuple[float, float]:
    """Where a face's base line begins: columns from left to right, rows downwards."""
    return number % _COLUMNS * _COLUMN, number // _COLUMNS * _APART + 0.7 * _APART


def _path(word: str, x: float, y: float) -> Iterator[str]:
    lines = laid_out(Text(word.capitalize(), face(word)))
    if lines is None:
        return
    x0, y0, x1, y1 = lines.box
    shape = lettered(lines, _CAP, (_CAP * (x1 - x0) / 2, _CAP * (y0 + y1) / 2)).area
    for piece in pieces(shape):
        for ring in (piece.exterior, *piece.interiors):
            places = [f"{x + a:.1f} {y - b:.1f}" for a, b in ring.simplify(_FINEST).coords[:-1]]
            yield f"M{'L'.join(places)}Z"
