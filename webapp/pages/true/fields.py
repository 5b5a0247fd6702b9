"""What a form of readings asks for, and how lengths are typed into it."""

import re
from urllib.parse import urlsplit

from parts.templates import templates
from parts.units import Units, with_unit

KINDS = {
    "centres": "between centres",
    "outside": "over outside faces",
    "inside": "between inside faces",
    "hole": "across a round hole",
    "reversal": "gap when flipped",
}


MACHINE = {
    "name": ("Name of the table", ""),
    "travel_x": ("Travel in X", "length"),
    "travel_y": ("Travel in Y", "length"),
    "gantry": ("Axis the gantry lies along, x or y", ""),
    "gantry_rail_spacing": ("Between the rails of the gantry", "length"),
    "steps_per_mm_x": ("Steps per mm of X", "steps"),
    "steps_per_mm_y": ("Steps per mm of Y", "steps"),
    "steps_per_inch_x": ("Or steps per inch of X", "steps"),
    "steps_per_inch_y": ("Or steps per inch of Y", "steps"),
    "gear_ratio_x": ("Or gear ratio of X, motor turns to one", "steps"),
    "gear_ratio_y": ("Or gear ratio of Y, motor turns to one", "steps"),
    "screw_lead_x": ("Or travel of X to a turn", "length"),
    "screw_lead_y": ("Or travel of Y to a turn", "length"),
    "kerf": ("Kerf it was set to allow for", "length"),
    "confirmed": ("Errors this large were looked at and are so", "yes"),
}


PIECE = {
    "temperature": "How warm the piece was",
    "instrument_temperature": "How warm the instrument was",
    "metal": "Metal",
    "drawing": "",
}
"""What is said of the piece; its drawing's address comes with the form, unseen."""


FIELDS = ("letter", "kind", "direction", "nominal", "measured", "instrument", "u")


MORE = 4
"""Rows that the button for more adds."""


TEST_PIECE = "square-test"


ENTRIES = {"direction": "direction_deg", "letter": "note"}


LENGTHS = ("nominal", "measured", "u")


AXES = {"x": 0.0, "y": 90.0}


BARE = re.compile(r"[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)")


LONGEST = 200


def drawn_here(address: str) -> bool:
    """Return whether an address is that of a test piece's drawing here: what a file says may be anything."""
    at = urlsplit(address)
    return not at.scheme and not at.netloc and at.path in {f"/parts/{slug}" for slug in pieces()}


def pieces() -> dict[str, str]:
    """Return the title of each test piece by its slug."""
    return {slug: of.title for slug, of in templates().items() if of.readings}


def piece_name(slug: str) -> str:
    """Return what a piece is called beside its letters: `comb` of gauge-kerf-comb."""
    return slug.rsplit("-", 1)[-1]


def length(text: str, units: Units) -> str:
    """A bare number with the form's unit, anything else as it was typed."""
    return with_unit(text, units) if BARE.fullmatch(text) else text
