"""The folded pan: its flat against lengths put together by hand, its corners by where the walls come to."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.box.pan import TEMPLATE
from tests.depth import tried
from tests.property.bent_by_hand import k_of, radius_of
from tests.strategies import parts_of

many = tried(100)


def across(v, size):
    """Length of the flat across: two walls and the base, each bend for its allowance (Machinery's Handbook)."""
    t, r, k = v["thickness"], radius_of(v), k_of(v)
    flat = size + 2 * v["high"] - 4 * (r + t) + math.pi * (r + k * t)
    if v["rim"] == "hem":
        h = v["hem_radius"]
        flat += 2 * (v["hem"] - 2 * (h + t) + math.pi * (h + k * t))
    return flat


@pytest.mark.parametrize("rim", ["plain", "hem"])
@pytest.mark.parametrize("thickness", [1, 1.5, 3])
def test_the_flat_is_as_long_as_its_pieces(rim, thickness):
    """K is given: a hem's own would be that of its small radius."""
    part = parts.draw("box-pan", rim=rim, thickness=thickness, k=0.42, bend_radius=2, hem=12)
    v = part.record.parameters
    assert part.measures.width_mm == pytest.approx(across(v, v["long"]), abs=1e-9)
    assert part.measures.height_mm == pytest.approx(across(v, v["deep"]), abs=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_reliefs_clear_both_bends(part):
    """The corner of the flat base isn't metal, nor is where a bend would run out beside another wall's."""
    v = part.record.parameters
    t, r, k = v["thickness"], radius_of(v), k_of(v)
    half = math.pi / 4 * (r + k * t)
    (loop,) = part.profile.outside
    x, y = part.measures.width_mm / 2, part.measures.height_mm / 2
    line_x, line_y = v["long"] / 2 - (r + t) + half, v["deep"] / 2 - (r + t) + half
    for a in (-1, 1):
        for b in (-1, 1):
            for dx, dy in ((0, 0), (half, 0), (0, half), (half, half), (-half, half), (half, -half)):
                at = x + a * (line_x + dx * (1 - 1e-6)), y + b * (line_y + dy * (1 - 1e-6))
                assert not loop.contains(at)
    bends = [mark for mark in part.profile.marks if mark.kind == "bend"]
    assert len(bends) == (8 if v["rim"] == "hem" else 4)
    for bend in bends:
        assert loop.contains(bend.line.at(1e-6))
        assert loop.contains(bend.line.at(1 - 1e-6))


@pytest.mark.parametrize(
    ("values", "named"),
    [({"high": 6, "thickness": 3}, "high"), ({"relief": 1}, "relief"),
      ({"rim": "hem", "hem": 2}, "hem"), ({"drain": 198}, "drain"),
     ({"rim": "hem", "hem": 49}, "hem")],
)  # fmt: skip
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("box-pan", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]
