"""Showing: what was told apart in a picture, as a small PNG to lay under its outline."""

import io

import numpy as np

from parts.artwork.pictures.opening import Picture

_LONGEST_PX = 900


def as_png(picture: Picture) -> bytes:
    """Return the picture in grey as a PNG of at most 900 pixels a side."""
    from PIL import Image  # noqa: PLC0415 - where no picture is asked for

    image = Image.fromarray(np.ascontiguousarray(picture.levels))
    image.thumbnail((_LONGEST_PX, _LONGEST_PX))
    made = io.BytesIO()
    image.save(made, "PNG", optimize=False, compress_level=6)
    return made.getvalue()
