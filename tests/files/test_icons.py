"""An open icon set read as drawings: each icon's area against that which a renderer paints."""

from pathlib import Path

import pytest

from parts.read import read_drawing
from tests.depth import several
from tests.files.painted import net_area, painted_share

ICONS = (Path(__file__).parent / "icons" / "sample.txt").read_text("utf-8").splitlines()
SIDE = 24.0
PIXELS = 1024
NEAR = 0.002
SHARE_NEAR = 0.99


def off(icon: str) -> float:
    """By what part the area as read is larger than as painted, read at 24 mm, where tolerances show most."""
    reading = read_drawing(icon.encode(), "icon.svg", "mm")
    assert [finding.message for finding in reading.findings if finding.severity == "stop"] == []
    return net_area(reading.profile) / (painted_share(icon, PIXELS) * SIDE * SIDE) - 1


def name_of(icon: str) -> str:
    return icon.partition(' id="mdi-')[2].partition('"')[0]


def test_the_sample_is_whole():
    assert len(ICONS) == len({name_of(icon) for icon in ICONS}) == 250
    left_open = [icon for icon in ICONS if icon.count("M") > icon.lower().count("z")]
    assert len(left_open) > 50  # closed by their fill


def test_icons_have_the_area_that_is_painted():
    """A fixed twentieth of them every day; in a deep run all."""
    tried = ICONS[:: several(20, 1)]
    far = {name_of(icon): part for icon in tried if abs(part := off(icon)) > NEAR}
    assert len(far) <= (1 - SHARE_NEAR) * len(tried), far


@pytest.mark.parametrize("name", ["wall-sconce-outline", "symbol", "dice-d20-outline"])
def test_the_comparison_sees_what_is_missing(name):
    """An icon without its last subpath is far off by the same measure."""
    (icon,) = (icon for icon in ICONS if name_of(icon) == name)
    head, _, path = icon.partition(' d="')
    subpaths = path.partition('"')[0].split("M")
    less = f'{head} d="{"M".join(subpaths[:-1])}"/></svg>'
    reading = read_drawing(less.encode(), "icon.svg", "mm")
    assert abs(net_area(reading.profile) / (painted_share(icon, PIXELS) * SIDE * SIDE) - 1) > 5 * NEAR
