"""What is asked of a drawing, read from text."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, TypeVar, cast

from parts.checking.chosen import layer_roles, outline_boxes
from parts.checking.of_svg import DPI, STROKES_CUT, dpi_of, strokes_of
from parts.errors import Problem, Refused, UnitsError
from parts.read import More
from parts.spec import Parameters
from parts.spec import ReadingContext as Spoken
from parts.units import Units

UNITS, THICKNESS = "units", "thickness"
HOW_THICK = "isn't given: say how thick the plate is, such as 6 mm, 3/16 in or 16 ga."


P = TypeVar("P", bound=Parameters)


class Asked(NamedTuple):
    """What was said of the drawing itself, as text."""

    values: Mapping[str, Any]
    layers: Sequence[str]
    outlines: Sequence[str]
    said_in: Units | None

    def more(self) -> More:
        """Return what was said besides the units."""
        return {
            "dpi": dpi_of(self.values.get(DPI)),
            "strokes": strokes_of(self.values.get(STROKES_CUT)),
            "layers": layer_roles(self.layers),
            "outlines": outline_boxes(self.outlines),
            "said_in": self.said_in,
        }


def read_values(of: type[P], given: Mapping[str, Any], how_thick: str = HOW_THICK) -> P:
    """The values read; how thick the plate is has to be said, since a drawing doesn't tell and every rule asks."""
    missing = () if str(given.get(THICKNESS) or "").strip() else (Problem(THICKNESS, "", how_thick),)
    try:
        parameters = of.read({name: value for name, value in given.items() if not missing or name != THICKNESS})
    except Refused as refused:
        raise Refused((*missing, *refused.problems)) from None
    if missing:
        raise Refused(missing)
    return parameters


def read_units(asked: object) -> Units | None:
    """The units that are asked for; nothing and blank text leave it to the file."""
    if asked is None or not str(asked).strip():
        return None
    spec = Parameters.specs()[UNITS]
    try:
        return cast(Units, spec.read(asked, Spoken()))
    except UnitsError as error:
        raise Refused((Problem(UNITS, str(asked), str(error)),)) from error
