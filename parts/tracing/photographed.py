"""Photographed: what is said of a pattern whose size a sheet of paper in the photograph tells; how far it is proved."""

from collections.abc import Iterator

from parts.artwork.pictures import Taken
from parts.errors import Problem, Refused
from parts.finding import Finding
from parts.tracing.figure import Figure
from parts.tracing.settings import Tracing
from parts.units import format_figures, format_length

RULE = "reading"
AGREES_MM = 0.5
"""Between what is measured on the pattern and what the photograph says; more is a sheet or pattern that isn't flat."""


def proved(figure: Figure, taken: Taken, scale: float, p: Tracing) -> Iterator[str]:
    """Yield what is said of the photograph, a sentence each without its full stop.

    Raises:
        Refused: if the pattern was measured and the photograph says otherwise.
    """
    where = "on" if taken.on_sheet else "beside"
    yield (
        f"laid the photograph flat by the {_named(p.sheet)} sheet in it, its edges straight within "
        f"{taken.plane.residual_px:.2f} pixels, and took what is {where} it"
    )
    x0, _, x1, _ = figure.metal.bounds
    wide = (x1 - x0) / (scale * taken.px_per_mm)
    if not p.measured:
        yield (
            "sizes may be off by 1 mm in 250, and more where sheet or pattern doesn't lie flat: measure the pattern's "
            f"width, {format_figures(wide, p.units, 4)} by the photograph, and say it"
        )
        return
    off = abs(wide - p.measured)
    said = format_figures(wide, p.units, 4)
    if off > AGREES_MM:
        message = (
            f"isn't what the photograph says, {said}: take it again from straight above with sheet and pattern flat; "
            "it isn't stretched to fit."
        )
        raise Refused((Problem("measured", p.said("measured"), message),))
    yield f"the measured width agrees with the photograph's, {said}, within {format_length(max(off, 0.1), p.units)}"


def _named(sheet: str) -> str:
    return sheet.upper() if sheet[1:].isdigit() else sheet


def by_rule(p: Tracing, scale: float) -> str:
    """Return what is said of a picture whose size a known distance tells, without a full stop."""
    return (
        f"took {p.known_px:,.0f} pixels for the {format_length(p.known, p.units)} that are known, "
        f"{format_figures(scale, p.units, 3)} to a pixel; a photograph taken aslant isn't laid flat by that: measure "
        "another length of the outline before you cut"
    )


def unconfirmed(p: Tracing) -> tuple[Finding, ...]:
    """Return the finding of a photograph that nobody has confirmed."""
    if p.known:
        return (
            Finding(
                RULE, "warn", (0.0, 0.0), None, None,
                "The size rests on one known distance: what the camera sees aslant, or nearer than the rule, is off.",
                "Take it from straight above, the rule beside the pattern on one ground; measure another length too.",
            ),
        )  # fmt: skip
    if p.sheet == "none" or p.confirm:
        return ()
    return (
        Finding(
            RULE, "stop", (0.0, 0.0), None, None,
            "Nobody has looked yet whether the frame lies on the sheet's edges and the outline on the pattern's.",
            "Look at the photograph with both over it, and confirm it if they do.", (("confirm", "on"),),
        ),
    )  # fmt: skip
