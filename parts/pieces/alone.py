"""Alone: one piece of what is drawn in several as a record of its own; how a companion of a set is asked for."""

from dataclasses import replace
from typing import Any

from parts.cutting import measure
from parts.record import Record
from parts.rules import RULES_OF_SOUND_LOOPS, findings, told
from parts.spec import Companion, Parameters

_OWN = frozenset({"thickness", "small_holes"})
"""What a companion has of its own, of what all parts have."""


def alone(record: Record, name: str) -> Record:
    """Return a piece as a record of its own: measured and judged alone, at the address of the whole.

    Raises:
        KeyError: nothing drawn bears that name.
    """
    profile, of = record.profile.piece(name), record.template
    found = findings(profile, record.job, RULES_OF_SOUND_LOOPS)
    return replace(
        record,
        template=replace(of, title=f"{of.title}: {name}", assembly=None, companions=None),
        profile=profile,
        findings=told(found),
        routine=tuple(finding for finding in found if finding.is_routine),
        measures=measure(profile, record.job),
    )


def values_of(record: Record, companion: Companion) -> dict[str, Any]:
    """Return the values that draw a companion of a set: its own, and stock, bed and file of the set."""
    shared = (name for name in Parameters.model_fields if name not in _OWN)
    return {**{name: record.parameters[name] for name in shared}, **companion.values}
