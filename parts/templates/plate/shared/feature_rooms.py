"""What has no room on a face that is the same left and right of its middle: its features against edges and each other.

A feature names the parameters that place it, so a sentence tells of the height or the spacing that would do.
"""

from collections.abc import Iterator, Sequence

from parts.errors import Problem
from parts.spec import Parameters, say_least, say_most
from parts.templates.shared.feature import Edge, Feature


def height_problems(p: Parameters, features: Sequence[Feature], top: float) -> Iterator[Problem]:
    """Yield a problem where openings leave the face over its lower or its upper edge."""
    for up in dict.fromkeys(feature.up for feature in features):
        together = [feature for feature in features if feature.up == up]
        lowest, highest = min(together, key=lambda f: f.bottom), max(together, key=lambda f: f.top)
        height: float = getattr(p, up)
        yield from p.over(up, height - lowest.bottom, f"for {lowest.said} to clear the lower edge")
        yield from p.under(up, height + top - highest.top, f"for {highest.said} to clear the upper edge")


def spacing_problems(p: Parameters, feature: Feature, edges: Sequence[Edge]) -> Iterator[Problem]:
    """Yield a problem where a pair meets on the middle, or an opening leaves the face at an end."""
    room = 2 * feature.outermost(edges)
    if not feature.spacing:
        yield from p.under(feature.breadth, feature.width + room, "to stay inside the ends at this height")
    elif room <= feature.width:
        yield p.problem(feature.spacing, f"can't be: the face is too narrow for {feature.said} at this height.")
    else:
        yield from p.over(feature.spacing, feature.width, "to keep metal on the middle")
        yield from p.under(feature.spacing, room, f"for {feature.said} to stay inside the ends at this height")


def meeting_problems(p: Parameters, features: Sequence[Feature], edges: Sequence[Edge]) -> Iterator[Problem]:
    """Yield a problem for each feature that runs into one before it."""
    for i, feature in enumerate(features):
        for other in features[:i]:
            if feature.meets(other):
                yield _apart(p, feature, other, edges) if feature.spacing else _apart(p, other, feature, edges)


def _apart(p: Parameters, feature: Feature, other: Feature, edges: Sequence[Edge]) -> Problem:
    """The problem of a pair that runs into another feature, with the spacings at which it would pass it."""
    closer, wider = feature.passing(other)
    ways = []
    if closer > feature.width:
        ways.append(f"less than {say_most(closer, p.units)}")
    if wider < 2 * feature.outermost(edges):
        ways.append(f"more than {say_least(wider, p.units)}")
    limit = f"must be {' or '.join(ways)}" if ways else "leaves no room at this height"
    return p.problem(feature.spacing, f"{limit} to clear {other.said}.")
