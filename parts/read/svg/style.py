"""Style of an element: what is declared of it and what it inherits, as what is painted.

Initial values are those of SVG 2 (chapters 11 and 13) and CSS Masking 1: filled in black, not stroked, a stroke 1 wide
with butt ends and mitred corners.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, TypeAlias

from tinycss2.color4 import Color, parse_color

Rule: TypeAlias = Literal["nonzero", "evenodd"]

_INHERITED = frozenset({
    "clip-rule", "color", "fill", "fill-opacity", "fill-rule", "marker-end", "marker-mid", "marker-start", "stroke",
    "stroke-dasharray", "stroke-dashoffset", "stroke-linecap", "stroke-linejoin", "stroke-miterlimit",
    "stroke-opacity", "stroke-width", "visibility",
})  # fmt: skip
_INITIAL = ("initial", "revert", "revert-layer")


@dataclass(frozen=True, slots=True)
class Style:
    """Computed values by property, as text; none for what nobody says."""

    values: Mapping[str, str]

    def get(self, name: str, default: str = "") -> str:
        """Return the value of a property."""
        return self.values.get(name, default)

    def of_child(self, declared: Mapping[str, str]) -> "Style":
        """Return the style of an element inside this one."""
        if not declared and self.values.keys() <= _INHERITED:
            return self
        values = {name: value for name, value in self.values.items() if name in _INHERITED}
        for name, value in declared.items():
            word = value.lower()
            if word == "inherit" or (word == "unset" and name in _INHERITED):
                word = value = self.values.get(name, "")
            if word in ("", "unset", *_INITIAL):
                values.pop(name, None)
            else:
                values[name] = value
        return Style(values)

    @property
    def shown(self) -> bool:
        """Whether the element and all in it may be seen: it is displayed, and not wholly see-through."""
        return self.get("display") != "none" and self.share("opacity") > 0

    def as_shown(self) -> "Style":
        """Return the style without what hides the element."""
        hiding = ("display", "visibility", "opacity")
        return Style({name: value for name, value in self.values.items() if name not in hiding})

    @property
    def visible(self) -> bool:
        """Whether the element's own shape may be seen; what lies in it may say otherwise."""
        return self.get("visibility") not in ("hidden", "collapse")

    @property
    def says_paint(self) -> bool:
        """Whether anything is said of how it is painted."""
        return "fill" in self.values or "stroke" in self.values

    def share(self, name: str) -> float:
        """Return an opacity, between 0 and 1: a number or a percentage; 1 where it is neither."""
        text = self.get(name, "1")
        try:
            found = float(text[:-1]) / 100 if text.endswith("%") else float(text)
        except ValueError:
            return 1.0
        return min(max(found, 0.0), 1.0)

    def rule(self, name: str) -> Rule:
        """Return `fill-rule` or `clip-rule`."""
        return "evenodd" if self.get(name) == "evenodd" else "nonzero"

    def paint(self, name: Literal["fill", "stroke"]) -> str:
        """Return the paint of a fill or a stroke, nothing where it isn't painted.

        A colour, or `url(...)` with what follows it.
        """
        text = self.get(name, "black" if name == "fill" else "none")
        if self.share(f"{name}-opacity") == 0:
            return ""
        if text.lower() == "currentcolor":
            text = self.get("color", "black")
        if text.lower() == "none" or (not text.startswith("url(") and alpha(text) == 0):
            return ""
        return text

    @property
    def colour(self) -> str:
        """The colour of the stroke, else of the fill, as `#rrggbb`; nothing for a gradient or a colour unknown."""
        found = _colour(self.paint("stroke") or self.paint("fill"))
        if found is None:
            return ""
        return "#" + "".join(f"{round(255 * min(max(each, 0.0), 1.0)):02x}" for each in _srgb(found))


@lru_cache(maxsize=1024)
def _colour(text: str) -> Color | None:
    found = parse_color(text)
    return found if isinstance(found, Color) else None


def _srgb(colour: Color) -> list[float]:
    """Red, green and blue, 0 to 1."""
    return [float(share or 0.0) for share in tuple(colour.to("srgb"))[:3]]


def is_colour(text: str) -> bool:
    """Return whether a text is a colour that we know."""
    return _colour(text) is not None


def alpha(text: str) -> float:
    """Return how opaque a colour is; what is no colour that we know counts as one."""
    found = _colour(text)
    return 1.0 if found is None else float(tuple(found)[-1] or 0.0)


def luminance(text: str) -> float:
    """Return how light a colour is, 0 to 1, as a mask takes it (CSS Masking 1, section 7.10.1); 1 if unknown."""
    found = _colour(text)
    if found is None:
        return 1.0
    red, green, blue = _srgb(found)
    return 0.2125 * red + 0.7154 * green + 0.0721 * blue


def reference(text: str) -> str:
    """Return the id that `url(#id)` points to; nothing where the text isn't of that kind."""
    if not text.startswith("url("):
        return ""
    inner = text[4:].partition(")")[0].strip().strip("\"'")
    return inner[1:] if inner.startswith("#") else ""
