"""Findings alike are one row: the same rule, severity and words, but for which hole of many it is."""

import json
from io import BytesIO

import pytest
from pypdf import PdfReader

import parts
from parts.finding import Finding, alike
from parts.geometry.draft import circle, rectangle
from parts.profile import Drill, Opening, Profile

PLATE = Profile(
    (rectangle((0, 0), 300, 100),),
    (*(Opening(circle((20 * i, 30), 5), "hole in leg A") for i in (1, 2, 3)), Opening(circle((200, 50), 9), "slot")),
    (Drill((250, 50), 4, "pin hole"), Drill((270, 50), 4, "pin hole")),
)


def said(message: str, remedy: str = "Widen it.", rule: str = "bridge-width", severity: str = "stop") -> Finding:
    return Finding(rule, severity, (0.0, 0.0), 1.0, 2.0, message, remedy)


@pytest.mark.parametrize(
    ("one", "other", "are_alike"),
    [
        (said("Same."), said("Same."), True),
        (said("Hole 1 in leg A is small."), said("Hole 12 in leg A is small."), True),
        (said("Hole 2 in leg A and hole 1 in leg A."), said("Hole 3 in leg A and hole 2 in leg A."), True),
        (said("Small.", "Move hole 1 in leg A."), said("Small.", "Move hole 2 in leg A."), True),
        (said("Pin hole 1 is near."), said("Pin hole 2 is near."), True),
        (said("Near bend line 1."), said("Near bend line 2."), True),
        (said("The edge of piece 1."), said("The edge of piece 2."), True),
        (said("Same."), said("Other."), False),
        (said("Same."), said("Same.", rule="slot-width"), False),
        (said("Same."), said("Same.", severity="warn"), False),
        (said("Same.", "Widen it by 2 mm."), said("Same.", "Widen it by 3 mm."), False),
        (said("Hole 1 in leg A is 5 mm."), said("Hole 2 in leg A is 6 mm."), False),
        (said("Hole 1 in leg A."), said("Hole 1 in leg B."), False),
        (said("A hole 5 mm wide."), said("A hole 6 mm wide."), False),
        (said("A hole 0.2 in wide."), said("A hole 0.3 in wide."), False),
        (said("A slot 1/4 in wide."), said("A slot 1/8 in wide."), False),
        (said("Ring 1 is small."), said("Ring 2 is small."), False),
    ],
    ids=lambda value: value if isinstance(value, bool) else f"{value.message} {value.remedy}",
)  # fmt: skip
def test_what_is_alike(one, other, are_alike):
    rows = alike(PLATE, (one, other))
    assert [row.number for row in rows] == ([1] if are_alike else [1, 2])
    assert [finding for row in rows for finding in row.findings] == [one, other]


def test_rows_stand_where_their_first_stood_and_count_the_rest():
    a, b, c = said("A."), said("B."), said("C.")
    rows = alike(PLATE, (a, b, a, c, a, b))
    assert [(row.number, row.first, len(row.findings)) for row in rows] == [(1, a, 3), (2, b, 2), (3, c, 1)]
    assert [row.rest for row in rows] == ["2 more places like it.", "1 more place like it.", ""]


def test_a_panel_of_bridges_too_narrow_is_one_row_everywhere():
    """Forty openings in a row leave one width of bridge between them, so there is one thing to say."""
    part = parts.draw("plate-panel", width=600, height=400, bridge=4)
    (row,) = part.record.rows
    assert len(row.findings) == len(part.findings) > 100
    (told,) = json.loads(part.to_json())["findings"]
    assert told["count"] == len(part.findings)
    assert sorted(map(tuple, [told["at"], *told["also"]])) == sorted(finding.at for finding in part.findings)
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(part.to_pdf())).pages)
    assert text.count("Stop:") == 1
    assert row.rest in " ".join(text.split())
