"""Colour names: what a person calls a colour, `#rrggbb`: by its keyword, else by its hue and how light it is."""

from collections.abc import Mapping
from colorsys import rgb_to_hls

# The sixteen keywords of CSS Color 4, table 1, by which a person calls a colour rather than by its numbers.
KEYWORDS: Mapping[str, str] = {
    "#000000": "black", "#c0c0c0": "silver", "#808080": "gray", "#ffffff": "white", "#800000": "maroon",
    "#ff0000": "red", "#800080": "purple", "#ff00ff": "magenta", "#008000": "green", "#00ff00": "lime",
    "#808000": "olive", "#ffff00": "yellow", "#000080": "navy", "#0000ff": "blue", "#008080": "teal",
    "#00ffff": "cyan",
}  # fmt: skip

_HUES = (
    (15, "red"), (45, "orange"), (70, "yellow"), (165, "green"), (195, "cyan"), (255, "blue"), (290, "purple"),
    (345, "magenta"), (361, "red"),
)  # fmt: skip
"""Degrees up to which a hue is called so (a judgement, from memory)."""
_GREY, _BLACK, _DARK, _LIGHT, _WHITE = 0.12, 0.1, 0.3, 0.75, 0.95


def colour_name(colour: str) -> str:
    """Return what a colour is called; nothing for none."""
    if not colour or colour in KEYWORDS:
        return KEYWORDS.get(colour, "")
    hue, light, vivid = rgb_to_hls(*(int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)))
    if light < _BLACK:
        return "black"
    if light > _WHITE:
        return "white"
    name = "gray" if vivid < _GREY else next(name for most, name in _HUES if hue * 360 < most)
    if name == "orange" and light < _DARK:
        return "brown"
    return f"{'dark ' if light < _DARK else 'light ' if light > _LIGHT else ''}{name}"
