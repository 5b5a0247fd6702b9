"""The snowflake against bars laid over each other by shapely, each corner's round added or taken off by hand."""

import math

import pytest
import shapely
from hypothesis import assume, example, given
from hypothesis import strategies as st
from shapely import affinity

import parts
from parts.templates.silhouette.snowflake import TEMPLATE
from tests.depth import tried
from tests.strategies import parts_of

some = tried(12)


def bars(v):
    """Arms and branches of full length, sharp; None where a sharp corner would lie over the next arm's.

    A branch is laid from within the arm and what is beyond the arm's side is kept: at a slant, its end square to its
    length would leave a corner of the side open.
    """
    half, made = v["arm_width"] / 2, [shapely.box(0, -v["arm_width"] / 2, v["diameter"] / 2, v["arm_width"] / 2)]
    for i in range(v["pairs"]):
        share = i / max(v["pairs"] - 1, 1)
        at = (1 - share) * v["first_branch"] + share * v["last_branch"]
        reach = (1 - share) * v["first_length"] + share * v["last_length"]
        bar = shapely.box(-v["branch_width"], -v["branch_width"] / 2, reach, v["branch_width"] / 2)
        turned = affinity.rotate(bar, v["branch_angle"], (0, 0))
        beyond = turned & shapely.box(-v["diameter"], 0, v["diameter"], reach + v["branch_width"])
        branch = affinity.translate(beyond, at, half)
        made += [branch, affinity.scale(branch, 1, -1, origin=(0, 0))]
    arm = shapely.union_all(made)
    ends = [point for branch in made[1:] for point in branch.exterior.coords if point[0] > v["first_branch"]]
    if any(abs(math.atan2(y, x)) > math.pi / v["arms"] for x, y in ends):
        return None
    return shapely.union_all([affinity.rotate(arm, 90 + 360 * i / v["arms"], (0, 0)) for i in range(v["arms"])])


@tried(60)
@given(
    parts_of(
        TEMPLATE, overall_width=0, overall_height=0, middle_plate=0, side_plate=0, hang="none", foot="none", seed=0
    )
)
@example(
    parts.draw("silhouette-snowflake", hang="none", foot="none", pairs=1, branch_angle=35, middle_plate=0, side_plate=0)
)
def test_area_is_that_of_the_bars_and_rounds(part):
    v = part.record.parameters
    n, lean = v["arms"], math.radians(v["branch_angle"])
    sharp = bars(v)
    assume(sharp)
    area = sharp.area - math.pi / 4 * v["middle"] ** 2
    area -= n * (2 + 4 * v["pairs"]) * (1 - math.pi / 4) * v["tip_radius"] ** 2
    for count, turn in ((2 * v["pairs"], lean), (2 * v["pairs"], math.pi - lean), (1, math.pi - 2 * math.pi / n)):
        area += n * count * v["notch_radius"] ** 2 * (math.tan(turn / 2) - turn / 2)
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-6)


@tried(4)
@given(st.integers(1, 9999))
def test_a_variant_is_always_the_same_and_not_the_regular_one(seed):
    one, again = (parts.draw("silhouette-snowflake", seed=seed) for _ in range(2))
    assert one.profile == again.profile
    assert one.measures.area_mm2 < parts.draw("silhouette-snowflake").measures.area_mm2


@pytest.mark.parametrize("diameter", [186, 208, "221.2"])
def test_the_last_branches_leave_the_arms(diameter):
    """Of a last pair 106 mm out, 8 mm wide at 60 degrees, the far root is 110.62 mm out: beyond those arms' ends."""
    values = {"hang": "none", "foot": "none", "middle_plate": 0, "side_plate": 0}
    with pytest.raises(parts.Refused) as caught:
        parts.draw("silhouette-snowflake", **values, diameter=diameter)
    assert [problem.parameter for problem in caught.value.problems] == ["diameter"]
    assert "must be more than 221.238 mm" in caught.value.problems[0].message
    parts.draw("silhouette-snowflake", **values, diameter=223, tip_radius=0.5, notch_radius=0)


@pytest.mark.parametrize("values", [{"first_length": 60}, {"pairs": 6}, {"tip_radius": 8}, {"middle": 28}])
def test_what_has_no_room_is_refused(values):
    with pytest.raises(parts.Refused):
        parts.draw("silhouette-snowflake", **values)
