"""Showing: a picture in grey as a PNG, small to lay under its outline, or whole."""

import io

import numpy as np

from parts.artwork.pictures.opening import Picture

LONGEST_PX = 900


def as_png(picture: Picture, longest_px: int = LONGEST_PX) -> bytes:
    """Return the picture in grey as a PNG of at most so many pixels a side; 0: all of it."""
    from PIL import Image  # noqa: PLC0415 - where no picture is asked for

    image = Image.fromarray(np.ascontiguousarray(picture.levels))
    if longest_px:
        image.thumbnail((longest_px, longest_px))
    made = io.BytesIO()
    image.save(made, "PNG", optimize=False, compress_level=6)
    return made.getvalue()
