"""Which source a file is: a picture, a photograph with a sheet in it, an SVG or a DXF; and what is known of its size.

A picture's unit is a pixel, which says nothing of mm. A DXF or SVG may say how large it is.
"""

from dataclasses import replace
from functools import lru_cache

from parts.artwork.pictures import LARGEST_BYTES as LARGEST_PICTURE
from parts.artwork.pictures import (
    Picture,
    is_picture,
    levelled,
    opened,
    taken,
)
from parts.errors import Problem, Refused, Unreadable
from parts.read import kind_of
from parts.tracing.figure import Source, named
from parts.tracing.painted import OfDxf, OfSvg
from parts.tracing.pictured import OfPicture
from parts.tracing.settings import Tracing, place_of

LARGEST_BYTES = LARGEST_PICTURE
ENDINGS = ("svg", "dxf", "png", "jpg", "jpeg", "webp")


def source_of(data: bytes, filename: str, sheet: str = "none") -> Source:
    """Return what a file holds, a photograph laid flat by a sheet of paper in it where one is named.

    Raises:
        Unreadable: if it is broken, hostile, too large, of a kind that isn't read, or shows no such sheet.
        Refused: if a sheet is named and it is no picture.
    """
    if is_picture(data):
        return _picture(data, named(filename)) if sheet == "none" else _photograph(data, named(filename), sheet)
    if sheet != "none":
        raise Refused((Problem("sheet", sheet, "is only for a photograph: choose none for a drawing."),))
    if (kind := kind_of(data)) == "svg":
        return OfSvg(data, filename)
    if kind == "dxf":
        return OfDxf(data, filename)
    why = "it is empty" if not data.strip() else "it is no PNG, JPEG or WebP picture, and no SVG or DXF drawing"
    raise Unreadable(f"{named(filename)} can't be traced: {why}.")


def by_known(source: Source, p: Tracing) -> Source:
    """Return a picture whose size a known distance in it tells.

    Raises:
        Refused: if it is no picture, or one of the points lies outside it.
    """
    if not isinstance(source, OfPicture):
        raise Refused((Problem("known", p.said("known"), "is only for a picture: a drawing has its own size."),))
    wide, high = (side * source.picture.reduced for side in source.size)
    for name in ("known_from", "known_to"):
        x, y = place_of(str(getattr(p, name))) or (0.0, 0.0)
        if not (x <= wide and y <= high):
            message = f"lies outside the picture, which has {wide:,.0f} by {high:,.0f} pixels."
            raise Refused((Problem(name, p.said(name), message),))
    return replace(source, unit_mm=p.known / p.known_px * source.picture.reduced)


def picture_of(data: bytes, filename: str) -> Picture | None:
    """Return the picture in a file, to be shown; None where it can't be opened."""
    try:
        return _picture(data, named(filename)).picture
    except Unreadable:
        return None


@lru_cache(maxsize=2)
def _picture(data: bytes, name: str) -> "OfPicture":
    try:
        picture = opened(data)
        return OfPicture(name, picture, levelled(picture))
    except Unreadable as error:
        raise Unreadable(f"{name} can't be traced: {error}.") from error


@lru_cache(maxsize=2)
def _photograph(data: bytes, name: str, sheet: str) -> "OfPicture":
    try:
        found = taken(opened(data), sheet)
        return OfPicture(name, found.picture, levelled(found.picture), 1 / found.px_per_mm, found)
    except Unreadable as error:
        raise Unreadable(f"{name} can't be traced: {error}.") from error


def needs_size(source: Source, filename: str) -> Refused:
    """Return the refusal of a file that doesn't say its size, where none was asked for."""
    what = "a picture doesn't tell" if source.picture else "the file doesn't tell"
    return Refused((
        Problem("width", "", f"isn't given: say how wide the finished piece shall be, as 300 mm or 12 in; {what}."),
    ))  # fmt: skip
