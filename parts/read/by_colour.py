"""By colour: a drawing whose lines lie on one layer, in several colours, as one with a layer for each colour.

Many programs tell what is cut from what is marked by its colour alone. No colour says by itself which: that is chosen.
"""

from dataclasses import replace

from parts.read.colour_names import KEYWORDS
from parts.read.layers import GROUND
from parts.read.pieces import Stroke
from parts.read.raw import Raw

NO_LAYER = ("", "0")
"""What a drawing's only layer is called where nobody made one: in SVG, and in DXF."""

MOST = 24
"""Colours that a person tells apart; a picture of more means nothing by them."""


def by_colour(raw: Raw) -> Raw:
    """Return a drawing with its colours as layers, where it has no layers and more than one colour."""
    colours = {stroke.colour for stroke in raw.strokes if stroke.layer != GROUND}
    if not 2 <= len(colours) <= MOST or any(stroke.layer not in (*NO_LAYER, GROUND) for stroke in raw.strokes):
        return raw
    return replace(raw, strokes=[_on_its_own(stroke) for stroke in raw.strokes])


def _on_its_own(stroke: Stroke) -> Stroke:
    return (
        replace(stroke, layer=KEYWORDS.get(stroke.colour, stroke.colour))
        if stroke.colour and stroke.layer != GROUND
        else stroke
    )
