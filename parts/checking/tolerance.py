"""Tolerance: how much of a drawing is healed on reading it: as asked, or the usual; never more than the cut hides.

An end that is moved, or a line that is dropped, moves the cut edge by no more than this. A third of the kerf is
what the edge wanders anyway; beyond it a healed drawing could be another part.
"""

import math

from parts.cutting import Job
from parts.errors import Problem, Refused, UnitsError
from parts.tolerance import HEAL_KERFS, HEAL_MM, LEAST_HEAL_MM, LIMIT_SLACK_MM
from parts.units import format_figures, parse_length

TOLERANCE = "tolerance"


def most_healed(job: Job) -> float:
    """Return the most that may be healed, mm: a third of the kerf."""
    return HEAL_KERFS * job.cut.kerf_mm


def tolerance_of(asked: object, job: Job) -> float:
    """Return the tolerance of healing in mm: what is asked for, as text or plain mm; else the usual one.

    Raises:
        Refused: if it can't be read, or is less than can be drawn or more than a third of the kerf.
    """
    most = most_healed(job)
    if asked is None or not str(asked).strip():
        return min(HEAL_MM, most)
    try:
        mm = parse_length(asked, bare=job.units) if isinstance(asked, str) else float(str(asked))
    except (UnitsError, ValueError) as error:
        message = str(error) if isinstance(error, UnitsError) else "can't be read as a length."
        raise Refused((Problem(TOLERANCE, str(asked), message),)) from error
    if not LEAST_HEAL_MM - LIMIT_SLACK_MM <= mm <= most + LIMIT_SLACK_MM:
        highest = format_figures(math.floor(most * 1000) / 1000)
        message = (
            f"must be {format_figures(LEAST_HEAL_MM)} to {highest}: no more than a third of the kerf, "
            f"{format_figures(job.cut.kerf_mm)} here, may be healed."
        )
        raise Refused((Problem(TOLERANCE, str(asked), message),))
    return mm
