"""By colour: a drawing whose lines lie on one layer, in several colours, as one with a layer for each colour.

Many programs tell what is cut from what is marked by its colour alone. No colour says by itself which: that is chosen.
"""

from collections.abc import Mapping
from dataclasses import replace

from parts.read.layers import GROUND
from parts.read.pieces import Stroke
from parts.read.raw import Raw

NO_LAYER = ("", "0")
"""What a drawing's only layer is called where nobody made one: in SVG, and in DXF."""

# The sixteen keywords of CSS Color 4, table 1, by which a person calls a colour rather than by its numbers.
_NAMES: Mapping[str, str] = {
    "#000000": "black", "#c0c0c0": "silver", "#808080": "gray", "#ffffff": "white", "#800000": "maroon",
    "#ff0000": "red", "#800080": "purple", "#ff00ff": "magenta", "#008000": "green", "#00ff00": "lime",
    "#808000": "olive", "#ffff00": "yellow", "#000080": "navy", "#0000ff": "blue", "#008080": "teal",
    "#00ffff": "cyan",
}  # fmt: skip


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
        replace(stroke, layer=_NAMES.get(stroke.colour, stroke.colour))
        if stroke.colour and stroke.layer != GROUND
        else stroke
    )
