"""How large an SVG's painted area is, by a renderer that shares nothing with the reader: resvg, counted in pixels."""

import io
from collections.abc import Iterable

import numpy as np
import resvg_py
from PIL import Image

from parts.profile import Profile


def painted_share(svg: str, pixels: int) -> float:
    """The share of the picture that is painted, drawn `pixels` wide; what is half covered counts half."""
    picture = Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=svg, width=pixels, skip_system_fonts=True))))
    return float(np.asarray(picture)[..., 3].mean(dtype=float)) / 255


def net_area(profile: Profile) -> float:
    """The area of the metal: the outside loops less the openings."""
    return _sum(loop.area for loop in profile.outside) - _sum(opening.loop.area for opening in profile.inside)


def _sum(areas: Iterable[float]) -> float:
    return float(sum(areas))
