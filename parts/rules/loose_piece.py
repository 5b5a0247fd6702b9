"""Loose piece: all of a part hangs together.

An *island* is an outside loop in an opening of another: the middle of an O, held by nothing. It drops out with the
opening (stop). Outside loops side by side are several parts in one drawing (note): each is cut out by itself. Of a
template that names its pieces, as a box does its panels, they are meant to be.

Rule    one outside loop, and none in an opening
Number  none
"""

from collections.abc import Iterator

from parts.cutting import Job
from parts.finding import Finding
from parts.geometry import centroid
from parts.geometry.narrow import islands
from parts.profile import Profile

RULE = "loose-piece"
NUMBERS = ("narrowest_bridge",)


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a stop for each opening with islands in it, and a note where pieces lie side by side."""
    if len(profile.outside) > 1:
        loose = islands(profile.boundary)
        for opening, pieces in sorted(loose.items()):
            yield _drops_out(profile, opening, pieces, job)
        within = {piece for pieces in loose.values() for piece in pieces}
        apart = [piece for piece in range(len(profile.outside)) if piece not in within]
        if len(apart) > 1 and not profile.pieces:
            yield _side_by_side(profile, apart)


def _drops_out(profile: Profile, opening: int, pieces: list[int], job: Job) -> Finding:
    places = sorted(centroid(profile.boundary[piece]) for piece in pieces)
    one = len(pieces) == 1
    held = job.say(job.cut.narrowest_bridge_mm)
    return Finding(
        RULE, "stop", places[0], None, None,
        f"{'A piece lies' if one else f'{len(pieces)} pieces lie'} loose in {profile.name(opening)}, held by nothing; "
        f"{'it drops' if one else 'they drop'} out when that is cut.",
        f"Hold {'it' if one else 'each'} by bridges of {held} or more, or take {'it' if one else 'them'} out.",
        also=tuple(places[1:]),
    )  # fmt: skip


def _side_by_side(profile: Profile, pieces: list[int]) -> Finding:
    places = sorted(centroid(profile.boundary[piece]) for piece in pieces)
    return Finding(
        RULE, "note", places[0], None, None,
        f"{len(pieces)} pieces lie side by side in one drawing, with nothing between them to hold them together.",
        "Join them if they are meant to be one part; else they are cut as parts of their own.",
        also=tuple(places[1:]),
    )  # fmt: skip
