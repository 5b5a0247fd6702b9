"""Hostile and broken files: one sentence each, in bounded time and memory."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from parts.errors import PartsError, Unreadable
from parts.read import limits, read_drawing
from parts.read.limits import MOST_SEGMENTS
from tests.depth import DEEP, several
from tests.files import hostile, unreadable
from tests.files.foreign import block, circle, dxf, insert, line, svg

ROOT = Path(__file__).parents[2]
LONGEST_S = 5.0
LARGEST_MB = 512.0

MEASURE = """
import json, sys
import parts
from tests.files import hostile
data = hostile.HEAVY[sys.argv[1]]()
start = hostile.spent_s()
try:
    parts.check(data, "heavy")
except parts.PartsError:
    pass
print(json.dumps([hostile.spent_s() - start, hostile.peak_mb()]))
"""


SLOW = {
    "800,000 lines",
    "5 million elements",
    "5 million records",
    "long path",
    "comments",
    "a million vertices",
    "use of use",
}
"""Refused by a limit that others reach sooner: for a deep run."""


@pytest.mark.parametrize("name", [name for name in unreadable.REFUSED if DEEP or name not in SLOW])
def test_what_can_not_be_read_is_one_sentence(name):
    make, why = unreadable.REFUSED[name]
    with pytest.raises(Unreadable, match=rf"^theirs\.dxf can't be read: .*(?:{why})") as refused:
        read_drawing(make(), "folder/theirs.dxf", "mm")
    assert_a_sentence(str(refused.value))


def assert_a_sentence(text: str) -> None:
    assert text.endswith(".")
    assert len(text) < 300
    assert text.isprintable()


# Each takes seconds by its nature: one always, all of them in a deep run.
ALWAYS = ("hatch at a slant",)


@pytest.mark.parametrize("name", hostile.HEAVY if DEEP else ALWAYS)
def test_what_is_heavy_is_checked_or_refused_in_bounded_time_and_memory(name):
    """In a process of its own, so that what it holds is what reading took; time is that of the thread."""
    done = subprocess.run([sys.executable, "-c", MEASURE, name], cwd=ROOT, capture_output=True, text=True, check=True)
    seconds, megabytes = json.loads(done.stdout)
    assert seconds < LONGEST_S
    assert megabytes < LARGEST_MB


@pytest.mark.parametrize(("most", "over"), [(500, -1), (500, 0), (500, 1), (several(5_000, MOST_SEGMENTS), 0)])
def test_the_limit_of_segments(most, over, monkeypatch):
    """As a zigzag closed by two long lines; every corner turns, so none are read as arcs. Time is no matter here.

    At a limit that is quick to reach, and as many as may be at the true one, or a tenth of them.
    """
    monkeypatch.setattr(limits, "LONGEST_S", 60.0)
    monkeypatch.setattr(limits, "MOST_SEGMENTS", most)
    count = most + over
    corners = "".join(f"10\n{0.01 * i:.2f}\n20\n{i % 2}\n" for i in range(count - 1)) + "10\n0\n20\n-9\n"
    data = dxf(f"0\nLWPOLYLINE\n8\n0\n70\n1\n{corners}")
    if over > 0:
        with pytest.raises(Unreadable, match="more than 500 lines and arcs"):
            read_drawing(data, "zigzag.dxf")
    else:
        assert read_drawing(data, "zigzag.dxf").segments == count


@pytest.mark.parametrize("depth", [16, 17])
def test_the_limit_of_blocks_in_blocks(depth):
    blocks = block("B1", circle(0, 0, 5)) + "".join(block(f"B{k}", insert(f"B{k - 1}")) for k in range(2, depth + 1))
    data = dxf(insert(f"B{depth}"), blocks)
    if depth > 16:
        with pytest.raises(Unreadable, match="more than 16 deep"):
            read_drawing(data, "deep.dxf")
    else:
        assert read_drawing(data, "deep.dxf").segments == 2


def test_a_claim_of_a_thousand_million_vertices_is_not_believed():
    corners = "10\n0\n20\n0\n10\n9\n20\n0\n10\n9\n20\n9\n"
    reading = read_drawing(dxf(f"0\nLWPOLYLINE\n8\n0\n90\n1000000000\n70\n1\n{corners}"), "claim.dxf")
    assert [loop.area for loop in reading.profile.outside] == [40.5]


def test_a_declaration_of_the_document_type_alone_is_harmless():
    """Many programs write one; nothing is fetched for it."""
    head = b'<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://nowhere.invalid/svg11.dtd">'
    assert read_drawing(head + svg('<circle r="3"/>'), "a.svg").segments == 2


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_svg_in_the_encodings_of_xml(encoding):
    assert read_drawing(svg('<circle r="3"/>').decode().encode(encoding), "a.svg").segments == 2


@pytest.mark.parametrize("end", [b"\n", b"\r\n", b"\r"], ids=repr)
def test_dxf_with_any_end_of_line(end):
    assert read_drawing(dxf(circle(0, 0, 3)).replace(b"\n", end), "a.dxf").segments == 2


def test_a_wrong_ending_is_said_and_the_file_read():
    assert read_drawing(dxf(circle(0, 0, 3)), "part.SVG").healed == (
        "read it as DXF, which it is, though its name ends in .svg",
    )
    assert read_drawing(svg('<circle r="3"/>'), "part.dxf").healed == (
        "read it as SVG, which it is, though its name ends in .dxf",
    )


@pytest.mark.parametrize("name", ["", "a/b/c.dxf", "x" * 500 + ".dxf", "bad\nname\x1b[31m.dxf"])
def test_any_name_makes_a_sentence(name):
    with pytest.raises(PartsError) as refused:
        read_drawing(b"", name)
    assert_a_sentence(str(refused.value))


def test_nothing_at_all_closed_is_still_a_reading():
    reading = read_drawing(dxf(line(0, 0, 50, 0)), "stroke.dxf")
    assert reading.profile.outside == ()
    assert [f.severity for f in reading.findings] == ["stop"]
    assert len(reading.open) == 1
