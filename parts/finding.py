"""What a rule may say about a profile."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from parts.geometry.segment import Point

Severity: TypeAlias = Literal["stop", "warn", "note"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a rule found, where it is, and how to mend it.

    `measured` and `limit` are mm (None where the rule measures nothing); `message` says what is wrong
    and `remedy` what to do, in a shop's words; `changes` are the parameters, as text, that do it.
    `at` is the worst place; `also` are the others, where one sentence says it of all of them.
    """

    rule: str
    severity: Severity
    at: Point
    measured: float | None
    limit: float | None
    message: str
    remedy: str
    changes: tuple[tuple[str, str], ...] = ()
    also: tuple[Point, ...] = ()
