"""Finding a place by what a person calls it: the map's own name, a longer one, or another that is usual."""

import difflib
import re
import unicodedata
from collections.abc import Iterator
from functools import cache

from parts.artwork.places.topology import has_outline, shapes

STATE = ", US"
"""What follows the name of a state that a country has as well."""

_ABBREVIATED = {
    "br": "british", "dem": "democratic", "eq": "equatorial", "fr": "french", "geo": "georgia", "gren": "grenadines",
    "herz": "herzegovina", "i": "island", "is": "islands", "n": "northern", "rep": "republic", "s": "south",
    "st": "saint", "ter": "territory", "vin": "vincent", "w": "western", "barb": "barbuda",
}  # fmt: skip
# What the maps' names are short for.
_ALSO = {
    "usa": "united states of america", "us": "united states of america", "united states": "united states of america",
    "america": "united states of america", "uk": "united kingdom", "great britain": "united kingdom",
    "britain": "united kingdom", "holland": "netherlands", "burma": "myanmar", "ivory coast": "cote d ivoire",
    "czech republic": "czechia", "swaziland": "eswatini", "north macedonia": "macedonia", "east timor": "timor leste",
    "cape verde": "cabo verde", "turkiye": "turkey", "drc": "democratic republic congo", "uae": "united arab emirates",
    "faroe islands": "faeroe islands", "washington dc": "district of columbia", "dc": "district of columbia",
    "democratic republic of the congo": "democratic republic congo", "republic of the congo": "congo",
    "bosnia": "bosnia and herzegovina", "vatican city": "vatican", "us virgin islands": "united states virgin islands",
}  # fmt: skip


def plain(name: str) -> str:
    """Return a name in small letters without accents and marks, what it abbreviates in full."""
    letters = unicodedata.normalize("NFKD", name.casefold())
    words = re.findall(r"[a-z]+", "".join(c for c in letters if not unicodedata.combining(c)))
    return " ".join(_ABBREVIATED.get(word, word) for word in words if word != "the")


@cache
def places() -> dict[str, tuple[str, str]]:
    """Return every place by its plain name, as map and name there; a state by its own where no country has it."""
    found: dict[str, tuple[str, str]] = {}
    for layer, name in shapes():
        if layer == "states":
            found[plain(name + STATE)] = layer, name
        found.setdefault(plain(name), (layer, name))
    return found


def place_names() -> tuple[str, ...]:
    """Return the names of all places as they are said, in their order."""
    return tuple(sorted(_said()))


def _said() -> Iterator[str]:
    for layer, name in shapes():
        yield name + STATE if layer == "states" and ("countries", name) in shapes() else name


def found(name: str) -> tuple[str, str] | None:
    """Return the place of a name, as map and name there; None where there is none."""
    key = plain(name)
    return places().get(_ALSO.get(key, key))


def known(name: str) -> bool:
    """Tell whether there is a place of this name."""
    return found(name) is not None


def is_point(name: str) -> bool:
    """Tell whether a place is so small that the maps have a point for it, or a line."""
    at = found(name)
    return at is not None and not has_outline(*at)


def named(name: str) -> str:
    """Return a place's name as the maps have it, which finds it again; nothing where they have no outline of it."""
    at = found(name)
    if at is None or not has_outline(*at):
        return ""
    return at[1] if found(at[1]) == at else at[1] + STATE


def nearest(name: str, most: int = 3) -> tuple[str, ...]:
    """Return the names of places that are spelled most like this; that itself where it is one."""
    if at := found(name):
        return (at[1],)
    by_plain = {plain(said): said for said in place_names()} | {also: also.title() for also in _ALSO}
    key = plain(name)
    within = [said for known, said in by_plain.items() if key and re.search(rf"\b{re.escape(key)}", known)]
    alike = [by_plain[known] for known in difflib.get_close_matches(key, by_plain, most, 0.6)]
    return tuple(dict.fromkeys([*within, *alike]))[:most]
