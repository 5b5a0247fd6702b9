"""The snowflake against bars laid over each other by shapely, each corner's round added or taken off by hand."""

import math

import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely import affinity

import parts
from parts.templates.silhouette.snowflake import TEMPLATE
from tests.strategies import parts_of

some = settings(deadline=None, max_examples=12, suppress_health_check=list(HealthCheck))


def bars(v):
    """Arms and branches of full length, sharp; None where a sharp corner would lie over the next arm's."""
    half, made = v["arm_width"] / 2, [shapely.box(0, -v["arm_width"] / 2, v["diameter"] / 2, v["arm_width"] / 2)]
    lean = math.radians(v["branch_angle"])
    for i in range(v["pairs"]):
        share = i / max(v["pairs"] - 1, 1)
        at = (1 - share) * v["first_branch"] + share * v["last_branch"]
        reach = (1 - share) * v["first_length"] + share * v["last_length"]
        root = half / math.sin(lean) + v["branch_width"] / 2 / math.tan(lean)  # back to the arm's middle
        bar = shapely.box(-min(root, half), -v["branch_width"] / 2, reach, v["branch_width"] / 2)
        turned = affinity.rotate(bar, v["branch_angle"], (0, 0))
        branch = affinity.translate(turned, at, half)
        made += [branch, affinity.scale(branch, 1, -1, origin=(0, 0))]
    arm = shapely.union_all(made)
    ends = [point for branch in made[1:] for point in branch.exterior.coords if point[0] > v["first_branch"]]
    if any(abs(math.atan2(y, x)) > math.pi / v["arms"] for x, y in ends):
        return None
    return shapely.union_all([affinity.rotate(arm, 90 + 360 * i / v["arms"], (0, 0)) for i in range(v["arms"])])


@settings(some, max_examples=60)
@given(parts_of(TEMPLATE, hang="none", foot="none", seed=0))
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


@settings(some, max_examples=4)
@given(st.integers(1, 9999))
def test_a_variant_is_always_the_same_and_not_the_regular_one(seed):
    one, again = (parts.draw("silhouette-snowflake", seed=seed) for _ in range(2))
    assert one.profile == again.profile
    assert one.measures.area_mm2 < parts.draw("silhouette-snowflake").measures.area_mm2


@pytest.mark.parametrize("values", [{"first_length": 60}, {"pairs": 6}, {"tip_radius": 8}, {"middle": 28}])
def test_what_has_no_room_is_refused(values):
    with pytest.raises(parts.Refused):
        parts.draw("silhouette-snowflake", **values)
