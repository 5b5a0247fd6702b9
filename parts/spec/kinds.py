"""The functions by which a template declares a parameter, one for each kind.

A parameter is declared once, inside a `Parameters` class. From that come the form, the command line, the JSON
description and the checking of values.
"""

from collections.abc import Iterable, Sequence
from typing import Any

from pydantic import Field

from parts.fasteners import FITS, bolts
from parts.spec.condition import When, conditions
from parts.spec.parameter import BY_DIAMETER, Moves, ParameterKind, Value


def length(
    label: str,
    *,
    default: float,
    minimum: float,
    maximum: float,
    group: str = "Outline",
    help: str = "",
    when: When = (),
    moves: Moves = "never",
    auto: str = "",
    inches: str = "",
    drawn: bool = True,
) -> Any:
    """Declare a length; default and limits are mm. `auto` names the property with what 0 stands for.

    `drawn` is whether the drawing ever has a dimension of it, which its letter is for.

    `inches` is its default where inches are worked in, as a shop says it (`2-3/8`), where that isn't the size nearest
    to `default`.
    """
    return _declare(
        "length",
        default,
        label=label,
        minimum=minimum,
        maximum=maximum,
        group=group,
        help=help,
        when=when,
        moves=moves,
        auto=auto,
        inches=inches,
        is_drawn=drawn,
    )


def thickness(label: str, *, default: float, minimum: float, maximum: float, group: str) -> Any:
    """Declare the thickness of the stock in mm; its text may be a gauge number."""
    hint = "As on the rack: 6, 1/4 in, 16 ga."
    return _declare(
        "length",
        default,
        label=label,
        minimum=minimum,
        maximum=maximum,
        group=group,
        help=hint,
        is_thickness=True,
    )


def count(
    label: str,
    *,
    default: int,
    minimum: int,
    maximum: int,
    group: str = "Holes",
    help: str = "",
    when: When = (),
    moves: Moves = "never",
) -> Any:
    """Declare a whole number of things."""
    return _declare(
        "count",
        default,
        label=label,
        minimum=minimum,
        maximum=maximum,
        group=group,
        help=help,
        when=when,
        moves=moves,
    )


def angle(
    label: str,
    *,
    default: float,
    minimum: float,
    maximum: float,
    group: str = "Outline",
    help: str = "",
    when: When = (),
    moves: Moves = "never",
) -> Any:
    """Declare an angle; default and limits are degrees."""
    return _declare(
        "angle",
        default,
        label=label,
        minimum=minimum,
        maximum=maximum,
        group=group,
        help=help,
        when=when,
        moves=moves,
    )


def number(
    label: str,
    *,
    default: float,
    minimum: float,
    maximum: float,
    group: str = "Outline",
    help: str = "",
    when: When = (),
    moves: Moves = "never",
    auto: str = "",
) -> Any:
    """Declare a number without a unit; `auto` as of a length."""
    return _declare(
        "number",
        default,
        label=label,
        minimum=minimum,
        maximum=maximum,
        group=group,
        help=help,
        when=when,
        moves=moves,
        auto=auto,
    )


def choice(
    label: str,
    *,
    default: str,
    choices: Iterable[str],
    group: str = "Outline",
    help: str = "",
    when: When = (),
    moves: Moves = "never",
    also: str = "",
) -> Any:
    """Declare a choice of one among several words; `also` is a regular expression of others that it takes."""
    return _declare(
        "choice",
        default,
        label=label,
        choices=tuple(choices),
        group=group,
        help=help,
        when=when,
        moves=moves,
        also=also,
    )


def flag(
    label: str,
    *,
    default: bool = False,
    group: str = "Outline",
    help: str = "",
    when: When = (),
    moves: Moves = "never",
) -> Any:
    """Declare something that is done or not."""
    return _declare("flag", default, label=label, group=group, help=help, when=when, moves=moves)


def text(
    label: str,
    *,
    default: str,
    characters: str,
    longest: int,
    group: str = "Outline",
    help: str = "",
    when: When = (),
    inches: str = "",
) -> Any:
    """Declare a text of at most `longest` among `characters`; `inches` is its default where inches are worked in."""
    return _declare(
        "text",
        default,
        label=label,
        characters=characters,
        longest=longest,
        group=group,
        help=help,
        when=when,
        inches=inches,
    )


def bolt(
    label: str,
    *,
    default: str,
    diameter: str,
    group: str = "Holes",
    help: str = "",
    when: When = (),
    inches: str = "",
) -> Any:
    """Declare the choice of a bolt size, or of a hole given by the parameter `diameter` (`by-diameter`).

    `inches` is its default where inches are worked in, where that isn't the size nearest to `default`.
    """
    return _declare(
        "choice",
        default,
        label=label,
        choices=(BY_DIAMETER, *bolts()),
        group=group,
        help=help,
        when=when,
        diameter=diameter,
        inches=inches,
    )


def fit(label: str = "Fit of the bolts", *, group: str = "Holes", of: Sequence[str] = ()) -> Any:
    """Declare how loose clearance holes are: those of the bolts chosen by the parameters `of`."""
    hint = "Clearance by ISO 273 or ASME B18.2.8."
    return _declare(
        "choice", "normal", label=label, choices=FITS, group=group, help=hint, when=[(size, *bolts()) for size in of]
    )


def _declare(kind: ParameterKind, default: Value, *, when: When = (), **facts: Any) -> Any:
    facts["when"] = conditions(when)
    exact = float(default) if kind in ("length", "angle", "number") else default
    return Field(default=exact, json_schema_extra={"kind": kind, **facts})
