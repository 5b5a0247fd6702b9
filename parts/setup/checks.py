"""Checks to make before and with the first part: thickness, a kerf piece, the first hole. Common practice."""

from collections.abc import Iterator, Sequence

from parts.cutting import expected
from parts.record import Record
from parts.setup.steps import Step
from parts.units import format_kerf, with_unit


def checks(record: Record, steps: Sequence[Step]) -> Iterator[str]:
    """Yield the checks, a sentence or two each, in the order in which they are made."""
    job, cut = record.job, record.job.cut
    kerf, half = (format_kerf(mm, job.units) for mm in (cut.kerf_mm, cut.kerf_mm / 2))
    yield (
        f"Measure the sheet: {job.say(cut.thickness_mm)} is drawn, and real plate is thicker or thinner than its name. "
        "Slots for tabs go by what is measured."
    )
    yield (
        f"Kerf piece: cut a slot and a square in the drop at these settings and measure both. The kerf is set to "
        f"{kerf}, {half} to each side; set what was measured."
    )
    yield from _first_hole(record, steps)
    if job.cut.square_side != "either":
        yield (
            f"Look at the cut faces: the square one is to be the part's, which is on the {job.cut.square_side} of the "
            "torch's way. Where it is the drop's, the loops run the wrong way round."
        )


def _first_hole(record: Record, steps: Sequence[Step]) -> Iterator[str]:
    """The first round opening, or where there is none the part's longer side, against its drawn size."""
    job = record.job
    holes = [step for step in steps if step.side == "inside" and step.diameter]
    if holes and (first := holes[0]).diameter:
        size = first.diameter
        yield (
            f"First hole, step {first.number}: drawn {job.say(size)} in diameter{_margin(record, size)}. Measure it "
            "across two ways and try the bolt or pin before going on."
        )
        return
    longer = max(record.measures.width_mm, record.measures.height_mm)
    said = with_unit(record.number(longer), job.units)
    yield f"First part: drawn {said} over all{_margin(record, longer)}. Measure it before going on."


def _margin(record: Record, nominal: float) -> str:
    """How far a size may be off by the class that its process usually keeps; nothing where there is none."""
    cut = record.job.cut
    found = expected(cut.process, cut.thickness_mm, nominal)
    if found is None:
        return ""
    recalled = ", from memory" if found.recalled else ""
    return f", to expect \u00b1 {record.job.say(found.limit_mm)} (ISO 9013 class {found.tolerance_class}{recalled})"
