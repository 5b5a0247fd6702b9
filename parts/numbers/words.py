"""What a number is for, in words, by its path in the data."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from parts.data import said_of_threshold
from parts.units import with_unit

_LEAF = {
    "ratio": "times the thickness", "floor_mm": "never under", "kerfs": "times the kerf", "x_mm": "in X",
    "y_mm": "in Y", "density_kg_per_m3": "density, for the mass", "edge_mm": "least edge distance",
    "edge_in": "least edge distance", "beyond_ratio": "least edge distance beyond the table", "v_opening_ratio":
    "V opening", "flange_per_v": "least outside flange", "inside_radius_per_v": "inside radius that air bending leaves",
    "k_factor": "where the neutral line lies", "hole_ratio":
    "from where a bend begins to a hole", "slot_ratio": "from where a bend begins to a slot",
    "rapid_mm_s": "travel between cuts, for the time", "most_length_to_width": "longest part that it is for",
    "least_cut_length_mm": "shortest cut round a part that it is for", "thinnest_mm": "thinnest plate that it is for",
    "thickest_mm": "thickest plate that it is for", "paper": "what the PDF is printed on",
}  # fmt: skip
_WHOLE = {
    "pierce_diameter": "crater that a pierce blows", "pierce_time": "time that a pierce takes",
    "feed": "speed along the cut", "kerf": "width of the cut", "thinnest": "thinnest that is cut",
    "thickest": "thickest that is cut", "square_side": "side of the cut that is square, for which way loops run",
    "height_probe": "time to find the plate before a pierce",
}  # fmt: skip
_TABLE = {
    "bed": "travel of the torch", "sheet": "sheet on the table", "brake": "press brake",
    "bolts": "bolts and their clearance holes", "iso9013": "size to expect of a thermal cut",
    "hole_making": "holes worked after cutting", "bolt_up": "two parts bolted together",
    "gauges": "thickness by gauge number", "instruments": "uncertainty of a reading, for truing",
    "k_factors": "neutral line of a bend, for the flat", "torch_height": "over the plate, for the set-up sheet",
    "duty_cycle": "power source, for its rests", "supplies": "used while it cuts", "consumables": "what a set lasts",
    "blank": "what a part takes of a sheet", "lifting": "caution of a heavy part", "rates": "cost of a part",
}  # fmt: skip
_OF_BOLTS = {"holes": "bolts in structural steel, holes", "increments": "bolts in structural steel, added to the edge"}
_ENDS = ("_mm_s2", "_mm_s", "_mm", "_in", "_deg", "_s", "_a", "_kw", "_k", "_kerfs", "_widths", "_pitches", "_share")
_AT = {"limits_mm": ("sizes from", "mm"), "thickness_in": ("gauge", "")}
"""What the numbers are that entries of a table go by, and their unit."""


def topic(path: Iterable[str]) -> tuple[str, ...]:
    """Return a path as rules name it: that of a process begins with its table."""
    words = tuple(path)
    return words[2:] if words[0] == "processes" else words


def used_for(path: Sequence[str]) -> str:
    """Return what a number is for, in words."""
    table, *_, last = words = topic(path)
    if table == "rules":
        return said_of_threshold(words[1], last)
    if table in _WHOLE:
        return _WHOLE[table]
    if table == "edge_distance":
        what = next((said for word, said in _OF_BOLTS.items() if word in words), "bolts in structural steel")
        return f"{what}: {_LEAF.get(last, plain(last))}"
    said = _LEAF.get(last, plain(last))
    return said if table == "materials" else f"{_TABLE.get(table, plain(table))}: {said}"


def keyed(path: Sequence[str]) -> tuple[str, ...]:
    """Return what is said of the entries of a path that are called by a number: `sizes from 125 mm`, `gauge 16`."""
    return tuple(_said_at(*_AT[above], word) for above, word in pairwise(path) if above in _AT)


def _said_at(what: str, unit: str, word: str) -> str:
    return " ".join((what, with_unit(word, unit).rstrip()))


def named(path: Sequence[str]) -> tuple[str, ...]:
    """Return the path without those entries: the name of a number."""
    return (*path[:1], *(word for above, word in pairwise(path) if above not in _AT))


def plain(name: str) -> str:
    """Return the name of an entry in words, without its unit: `slat pitch`."""
    if name == "lead_in":
        return "lead-in"
    end = next((end for end in _ENDS if name.endswith(end)), "")
    return name.removesuffix(end).replace("_", " ")
