"""What of a test bend is kept in the shop's own file, and how the file changes: a row of its material's test bends.

A row takes the place of an earlier one of the same thickness and V opening; the others stay.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from parts import shop
from parts.errors import Problem, Refused
from parts.forming import OwnBend
from parts.shop import as_table
from parts.shop.editing import Change, changed
from parts.truing.bend.report import BendReport

TABLE = "test_bends"


@dataclass(frozen=True, slots=True)
class KeptBend:
    """A test bend of a material, as it is or would be in the shop's file, and the one whose place it takes, if any."""

    material: str
    bend: OwnBend
    replaces: OwnBend | None = None


def keep_as(report: BendReport, own: Mapping[str, Any], today: str) -> tuple[KeptBend, Change]:
    """Return what of a report is kept, and the change to a shop's tree of own numbers that keeps it.

    Args:
        report: what the strips say.
        own: the shop's tree as it is.
        today: the date of a test that tells none, as 2026-03-14.

    Raises:
        Refused: something looks like a slip and wasn't confirmed, or strips disagree.
    """
    if report.asked:
        why = 'Look at it first; where it really is so, say confirmed = "yes" under [bend].'
        raise Refused(tuple(Problem("bend", "", f"{question} {why}") for question in report.asked))
    if report.solution.disagreeing:
        said = report.doubts[0]
        how = "A strip whose lengths are left empty is left out, and what the others say is kept."
        raise Refused((Problem("strip", "disagrees", f"{said} {how}"),))
    row, material = dict(_row(report, today)), report.test.material
    made, rows, held = OwnBend(shop.BendTestRow(**row)), _rows(own, material), _held(own, material)
    alike = [i for i, each in enumerate(held) if each.key == made.key]
    others = [(each.key, dict(of)) for i, (each, of) in enumerate(zip(held, rows, strict=True)) if i not in alike]
    ordered = sorted([*others, (made.key, row)], key=lambda each: each[0])
    change = Change((TABLE, material), "rows", [of for _, of in ordered])
    found = shop.checked(changed(own, [change]))
    if not isinstance(found, shop.ShopData):
        raise Refused(tuple(Problem("shop", "", f"{slip.sentence}.") for slip in found))
    return KeptBend(material, made, held[alike[0]] if alike else None), change


def kept_bends(own: Mapping[str, Any]) -> tuple[KeptBend, ...]:
    """Return every test bend in a shop's tree; none where the tree isn't in order."""
    return tuple(KeptBend(material, bend) for material in as_table(own.get(TABLE)) for bend in _held(own, material))


def without_bend(own: Mapping[str, Any], material: str, number: int) -> Change:
    """Return the change that takes a test bend out; `number` counts those of its material from 1.

    Raises:
        Refused: there is none.
    """
    rows = _rows(own, material)
    if not 1 <= number <= len(rows):
        raise Refused((Problem("bend", f"{material} {number}", "isn't kept; look at the page again."),))
    left = [dict(row) for i, row in enumerate(rows, start=1) if i != number]
    return Change((TABLE, material), "rows", left or None)


def _row(report: BendReport, today: str) -> Iterator[tuple[str, Any]]:
    test, found = report.test, report.estimates
    deduction, radius, thickness = found["deduction"], found["inside_radius"], found["thickness"]
    yield "thickness_mm", round(test.stock, 4)
    yield "measured_mm", round(test.thickness, 4)
    yield "measured_u_mm", round(thickness.standard_uncertainty, 4)
    yield "v_opening_mm", round(test.v_opening, 4)
    yield "angle_deg", round(math.degrees(test.angle), 6)
    yield "inside_radius_mm", round(radius.value, 4)
    yield "inside_radius_u_mm", round(radius.standard_uncertainty, 4)
    yield "deduction_mm", round(deduction.value, 4)
    yield "deduction_u_mm", round(deduction.standard_uncertainty, 4)
    yield "coverage", round(deduction.coverage, 3)
    yield "strips", len(test.strips)
    yield "date", test.date or today


def _rows(own: Mapping[str, Any], material: str) -> list[Mapping[str, Any]]:
    rows = as_table(as_table(own.get(TABLE)).get(material)).get("rows", [])
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []


def _held(own: Mapping[str, Any], material: str) -> list[OwnBend]:
    """The rows of a material as they are read."""
    found = shop.checked(dict(own))
    rows = found.test_bends.get(material) if isinstance(found, shop.ShopData) else None
    return [OwnBend(row) for row in rows.rows] if rows else []
