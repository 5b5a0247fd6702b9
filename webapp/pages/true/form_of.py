"""A form of readings made of what there is: a piece's places, or a file of readings."""

import math
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from parts import Problem, Refused
from parts.spec import MeasuringPlace, Parameters
from parts.templates import template
from parts.truing import LONGEST_DRAWING, MOST_READINGS
from parts.units import Units, number_in_field, to_figures, with_unit
from webapp.pages.true.fields import AXES, ENTRIES, FIELDS, LENGTHS, LONGEST, MACHINE, PIECE, TEST_PIECE
from webapp.pages.true.form import ReadingsForm


def blank(places: tuple[MeasuringPlace, ...], units: Units, piece: str = "", drawing: str = "") -> ReadingsForm:
    """Return the form for places that are still to be measured; the letters stand after the name of their piece.

    `drawing` is the address that draws it.
    """
    lettered = (replace(place, letter=f"{piece} {place.letter}".strip()) for place in places)
    of = {"drawing": drawing} if drawing else {}
    return ReadingsForm(rows=tuple(_row(place, units) for place in lettered), units=units, piece=of)


def places_of(slug: str, values: Mapping[str, Any]) -> tuple[MeasuringPlace, ...]:
    """Return where a test piece of these values is measured.

    Raises:
        UnknownTemplate: if no template has this slug.
        Refused: if the values can't be drawn, or the template isn't measured.
    """
    chosen = template(slug)
    parameters: Parameters = chosen.parameters.read(values)
    places = chosen.places(parameters)
    if not places:
        raise Refused((Problem("template", slug, f"isn't a test piece; {TEST_PIECE} is one."),))
    return places


def of_file(text: str, units: Units | None = None) -> ReadingsForm:
    """Return the form filled in from a file of measurements, whatever it holds, in its own units unless others are.

    Raises:
        Refused: it is no TOML, or holds what the form has no place for.
    """
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        message = f"can't be read as TOML: {str(error) or 'nested too deep'}."
        raise Refused((Problem("file", "", message),)) from error
    machine, rows, piece = data.get("machine", {}), data.get("reading", []), data.get("piece", {})
    if (
        not isinstance(machine, dict)
        or not isinstance(piece, dict)
        or not isinstance(rows, list)
        or not all(isinstance(row, dict) for row in rows)
    ):
        message = "must hold a table [machine], a table [piece] and a table [[reading]] for each reading."
        raise Refused((Problem("file", "", message),))
    if len(rows) > MOST_READINGS:
        raise Refused((Problem("file", str(len(rows)), f"at most {MOST_READINGS} readings are taken."),))
    own = data.get("units", "mm")
    if own not in ("mm", "in"):
        raise Refused((Problem("file units", str(own)[:LONGEST], "must be mm or in."),))
    texts = {name: _text(machine[name], MACHINE[name][1], own) for name in MACHINE if name in machine}
    of = {name: str(piece[name])[:LONGEST_DRAWING] for name in PIECE if piece.get(name, "") != ""}
    filled = ReadingsForm(texts, tuple(_row_of(row, own) for row in rows), own, piece=of)
    return filled.in_units(units or own)


def _row_of(entries: Mapping[str, Any], units: Units) -> dict[str, str]:
    row: dict[str, str] = {}
    for name in FIELDS:
        entry = ENTRIES.get(name, name)
        if entry in entries:
            row[name] = _text(entries[entry], "length" if name in LENGTHS else "", units)
    return row


def _text(value: object, kind: str, units: Units) -> str:
    """A value of the file as the form shows it: a plain number of a length is in the file's units."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return with_unit(str(value), units) if is_number and kind == "length" else str(value)[:LONGEST]


def _row(place: MeasuringPlace, units: Units) -> dict[str, str]:
    degrees = round(math.degrees(place.direction), 6)
    names = {angle: axis.upper() for axis, angle in AXES.items()}
    return {
        "letter": place.letter,
        "kind": place.kind,
        "direction": names.get(degrees, to_figures(degrees)),
        "nominal": number_in_field(place.nominal, units),
    }
