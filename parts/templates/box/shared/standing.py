"""Where the panels of a box stand, each in the frame that `panels` draws it in; the inside's corner is the origin."""

from collections.abc import Iterable, Iterator, Mapping

from parts.profile import Profile
from parts.spec import ACROSS, BACK, UP, Frame, Standing
from parts.templates.box.shared.panels import Panel
from parts.templates.box.shared.tabbed import JointedBox


def frames(p: JointedBox) -> Mapping[str, Frame]:
    """Return the frame of each panel by its name."""
    (long, wide, high), t = p.inside, p.plate
    return {
        "base": Frame((0.0, 0.0, -t)),
        "lid": Frame((0.0, 0.0, high)),
        "front": Frame((0.0, 0.0, 0.0), ACROSS, UP),
        "back": Frame((0.0, wide + t, 0.0), ACROSS, UP),
        "left side": Frame((-t, 0.0, 0.0), BACK, UP),
        "right side": Frame((long, 0.0, 0.0), BACK, UP),
    }


def standing(p: JointedBox, panels: Iterable[Panel]) -> Iterator[Standing]:
    """Yield each panel in its place; they are drawn without an overcut, and so as they are when cut."""
    placed = frames(p)
    for panel in panels:
        yield Standing(panel.name, Profile((panel.edge,), panel.openings), p.plate, placed[panel.name])
