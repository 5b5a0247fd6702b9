"""Small DXF files, one feature each, written by another library, or by hand where that can't: areas worked by hand."""

import math

import pytest
from shapely import LineString

from parts.errors import Refused, Unreadable
from parts.profile import Drill
from tests.files.foreign import binary, block, circle, data, document, dxf, insert, line, read, with_rectangle

PI = math.pi


def sizes(reading):
    """The areas of outside and inside loops, each from the smallest."""
    profile = reading.profile
    return sorted(loop.area for loop in profile.outside), sorted(opening.loop.area for opening in profile.inside)


def said(reading):
    return [finding.message for finding in reading.findings]


def plate(*inside, marks=()):
    """What a plate of 100 by 50 is read as."""
    return [pytest.approx(5000)], [pytest.approx(area) for area in inside]


# ------------------------------------------------------------------ binary


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2007", "R2010", "R2018"])
def test_binary_dxf_is_read_as_the_same_file_in_text(version):
    made, space = document(version=version)
    corners = [(0, 0, 0), (100.125, 0, 0.5), (100.125, 50, 0), (0, 50, -1 / 3)]
    if version == "R12":
        space.add_polyline2d(corners, format="xyb", close=True)
    else:
        space.add_lwpolyline(corners, format="xyb", close=True)
        space.add_spline([(20, 10), (35, 16), (50, 10), (56, 28), (20, 10)])
    made.layers.add("MARK", color=3)
    made.layers.add("AWAY").off()
    space.add_line((5, 5), (1 / 3, 9), dxfattribs={"layer": "MARK"}).set_xdata("ACAD", [(1000, "word"), (1040, 2.5)])
    space.add_circle((-70, 25), 6.35, dxfattribs={"extrusion": (0, 0, -1)})
    space.add_circle((1, 1), 5, dxfattribs={"layer": "AWAY"})
    made.blocks.new("B").add_circle((0, 0), 2)
    space.add_blockref("B", (80, 10), dxfattribs={"xscale": 1.5, "yscale": 1.5, "rotation": 12.5})
    space.add_text("GATE")
    assert read(binary(made), "mm") == read(made, "mm")


def test_binary_dxf_of_one_byte_codes_and_of_two():
    """By hand: the same circle in inches, as release 12 and as later ones write it."""
    mark = b"Any Binary DXF\r\n\x1a\x00"
    for code in (lambda c: bytes([c]), lambda c: bytes([c, 0])):
        text = lambda c, value, code=code: code(c) + value + b"\0"  # noqa: E731
        real = lambda c, value, code=code: code(c) + bytes.fromhex(value)  # noqa: E731
        head = (
            text(0, b"SECTION") + text(2, b"HEADER") + text(9, b"$INSUNITS") + code(70) + b"\1\0" + text(0, b"ENDSEC")
        )
        body = text(0, b"SECTION") + text(2, b"ENTITIES") + text(0, b"CIRCLE") + text(8, b"0")
        body += real(10, "000000000000f03f") + real(20, "0000000000000040") + real(40, "000000000000e03f")
        reading = read(mark + head + body + text(0, b"ENDSEC") + text(0, b"EOF"))
        assert (reading.units, reading.profile.outside[0].circle.diameter) == ("in", pytest.approx(25.4))


# ------------------------------------------------------------------ lines with a width


def wide(points, *, close=False, version="R2010", form="xyse", **more):
    made, space = document(version=version)
    if version == "R12":
        space.add_polyline2d([(x, y, s, e, 0) for x, y, s, e in points], format="xyseb", close=close)
    else:
        space.add_lwpolyline(points, format=form, close=close, dxfattribs=more)
    return read(made, "mm")


NOTED = "1 line with a width is cut round: the cut is the outline."


@pytest.mark.parametrize("version", ["R12", "R2010"])
@pytest.mark.parametrize(
    ("points", "area"),
    [
        ([(0, 0, 4, 4), (50, 0, 4, 4)], 200),
        ([(0, 0, 4, 10), (50, 0, 4, 4)], 350),  # a taper: the mean of both widths
        ([(0, 0, 6, 0), (50, 0, 0, 0)], 150),  # to a point
        ([(0, 0, 4, 4), (50, 0, 4, 4), (50, 30, 4, 4)], 4 * (50 + 30)),  # mitred: the middle's length times the width
        ([(0, 0, 4, 4), (50, 0, 4, 4), (80, 40, 4, 4), (80, 90, 4, 4)], 4 * (50 + 50 + 50)),
    ],
    ids=["straight", "taper", "point", "corner", "two corners"],
)
def test_an_open_line_with_a_width_is_its_outline(version, points, area):
    reading = wide(points, version=version)
    assert sizes(reading) == ([pytest.approx(area)], [])
    assert said(reading) == [NOTED]


def test_a_line_of_one_width_everywhere():
    made, space = document()
    space.add_lwpolyline([(0, 0), (50, 0), (50, 30)], dxfattribs={"const_width": 4})
    reading = read(made)
    assert sizes(reading) == ([pytest.approx(320)], [])
    assert said(reading) == [NOTED]


def test_a_closed_line_with_a_width_is_two_outlines():
    reading = wide([(0, 0, 4, 4), (100, 0, 4, 4), (100, 50, 4, 4), (0, 50, 4, 4)], close=True)
    assert sizes(reading) == ([pytest.approx(104 * 54)], [pytest.approx(96 * 46)])
    assert said(reading) == [NOTED]


def test_a_frame_so_wide_that_nothing_is_left_in_it():
    reading = wide([(0, 0, 20, 20), (12, 0, 20, 20), (12, 12, 20, 20), (0, 12, 20, 20)], close=True)
    assert sizes(reading) == ([pytest.approx(32 * 32)], [])


def test_a_wide_line_of_lines_and_arcs():
    """A slot's middle as a hook: half a turn of radius 20 on a leg of 60, 6 wide; the area is length by width."""
    reading = wide([(0, 0, 6, 6, 0), (60, 0, 6, 6, 1), (60, 40, 6, 6, 0)], form="xyseb")
    assert sizes(reading) == ([pytest.approx(6 * (60 + 20 * PI))], [])


def test_a_wide_line_whose_arc_stands_at_an_angle_to_it():
    """A quarter turn that leaves a line at 45 degrees, mitred; against another library's buffer of fine chords."""
    bulge = math.tan(PI / 8)
    reading = wide([(0, 0, 4, 4, 0), (40, 0, 4, 4, bulge), (40, 60, 4, 4, 0)], form="xyseb")
    quarter = [(10 + 30 * math.sqrt(2) * math.cos(a), 30 + 30 * math.sqrt(2) * math.sin(a))
               for a in (PI / 4 * (i / 500 - 1) for i in range(1001))]  # fmt: skip
    due = LineString([(0, 0), *quarter]).buffer(2, cap_style="flat", join_style="mitre", mitre_limit=10).area
    assert sizes(reading) == ([pytest.approx(due, rel=1e-3)], [])


@pytest.mark.parametrize(
    ("diameter", "width", "inside"), [(20, 4, 16), (20, 10, 10), (10, 10, None)], ids=["ring", "thick", "disc"]
)
@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_a_donut_is_two_circles(version, diameter, width, inside):
    r, made = diameter / 2, document(version=version)
    corners = [(-r, 0, width, width, 1), (r, 0, width, width, 1)]
    if version == "R12":
        made[1].add_polyline2d(corners, format="xyseb", close=True)
    else:
        made[1].add_lwpolyline(corners, format="xyseb", close=True)
    reading = read(made[0], "mm")
    assert [loop.circle.diameter for loop in reading.profile.outside] == [pytest.approx(diameter + width)]
    assert [o.loop.circle.diameter for o in reading.profile.inside] == ([pytest.approx(inside)] if inside else [])
    assert said(reading) == ["1 ring drawn as a line with a width: the cut is its outer and inner circle."]


def test_a_width_grows_with_the_block_it_is_in():
    made, space = document()
    made.blocks.new("B").add_lwpolyline([(0, 0), (50, 0)], dxfattribs={"const_width": 4})
    space.add_blockref("B", (0, 0), dxfattribs={"xscale": -2, "yscale": 2, "rotation": 30})
    assert sizes(read(made)) == ([pytest.approx(800)], [])


def test_where_a_width_ends_the_middle_is_cut():
    """A strip with a tail of no width: the strip is an outline, the tail a line that joins it."""
    made, space = with_rectangle()
    space.add_lwpolyline([(20, 20, 4, 4), (60, 20, 0, 0), (80, 20, 0, 0)], format="xyse")
    reading = read(made)
    assert sizes(reading) == plate(160)
    assert said(reading) == ["This line joins nothing at either end, 20 mm long.", NOTED]


def test_a_line_bent_too_tightly_for_its_width_is_its_middle_and_said():
    reading = wide([(0, 0, 9, 9, 1), (4, 0, 9, 9, 0), (4, 30, 9, 9, 0), (0, 30, 9, 9, 0)], close=True, form="xyseb")
    assert said(reading)[0] == "1 line with a width: bent too tightly to be cut round, so the middle is cut."
    assert sizes(reading) == ([pytest.approx(4 * 30 + PI * 2)], [])


# ------------------------------------------------------------------ layers that don't show, or aren't plotted


def layered(layer, block_layer="0", **attributes):
    """A plate, and a hole in a block whose insert is on `layer`."""
    made, space = with_rectangle()
    added = made.layers.add(layer)
    for name, value in attributes.items():
        getattr(added, name)() if value is True else setattr(added.dxf, name, value)
    made.blocks.new("HOLE").add_circle((0, 0), 5, dxfattribs={"layer": block_layer})
    space.add_blockref("HOLE", (30, 25), dxfattribs={"layer": layer})
    return read(made)


@pytest.mark.parametrize(
    ("how", "block_layer", "shown"),
    [("off", "0", False), ("off", "CUTS", True), ("freeze", "0", False), ("freeze", "CUTS", False)],
)
def test_an_insert_on_a_layer_that_is_off_hides_only_what_lies_on_it_with_it(how, block_layer, shown):
    """Freezing hides the insert whole; switching off hides what is on that layer, by layer 0 or by name."""
    reading = layered("PARTS", block_layer, **{how: True})
    assert sizes(reading) == (plate(25 * PI) if shown else plate())
    why = "on layers switched off" if how == "off" else "on frozen layers"
    assert reading.healed == (() if shown else (f"passed over 1 entity {why}",))


def test_an_insert_in_an_insert_on_a_layer_that_is_off():
    made, space = with_rectangle()
    made.layers.add("OFF").off()
    made.blocks.new("HOLE").add_circle((0, 0), 5, dxfattribs={"layer": "CUTS"})
    made.blocks.new("GROUP").add_blockref("HOLE", (30, 25), dxfattribs={"layer": "0"})
    space.add_blockref("GROUP", (0, 0), dxfattribs={"layer": "OFF"})
    assert sizes(read(made)) == plate(25 * PI)


def test_a_layer_that_is_not_plotted_is_no_edge_and_said():
    made, space = with_rectangle()
    made.layers.add("HELP").dxf.plot = 0
    space.add_line((0, 0), (100, 50), dxfattribs={"layer": "HELP"})
    reading = read(made)
    assert sizes(reading) == plate()
    assert [message for message in said(reading) if "HELP (not plotted)" in message]


def test_a_layer_of_our_own_or_of_a_stated_use_keeps_it_plotted_or_not():
    made, space = with_rectangle()
    for y, name in ((10, "SCRIBE"), (20, "Bend lines"), (30, "DRILL")):
        made.layers.add(name, linetype="DASHED").dxf.plot = 0
        space.add_line((10, y), (90, y), dxfattribs={"layer": name})
    assert [mark.kind for mark in read(made).profile.marks] == ["scribe", "bend", "scribe"]


# ------------------------------------------------------------------ construction linetypes


LINETYPES = ["CENTER", "CENTER2", "CENTERX2", "HIDDEN", "HIDDEN2", "PHANTOM", "DASHDOT", "DASHED", "DIVIDE", "DOT"]


@pytest.mark.parametrize("name", LINETYPES)
@pytest.mark.parametrize("by", ["entity", "layer", "block", "insert's layer"])
def test_a_broken_line_is_no_edge(name, by):
    """A line from edge to edge: taken as cut, it would make two parts of one."""
    made, space = with_rectangle()
    made.linetypes.add(name, [1.0, 0.5, -0.25, 0.25])
    made.layers.add("AXES", linetype=name)
    into = space
    if by in ("block", "insert's layer"):
        into = made.blocks.new("AXIS")
        at = {"layer": "AXES"} if by == "insert's layer" else {"linetype": name}
        space.add_blockref("AXIS", (0, 0), dxfattribs=at)
    own = {"entity": {"linetype": name}, "layer": {"layer": "AXES"}, "block": {"linetype": "BYBLOCK"}}
    into.add_line((50, 0), (50, 50), dxfattribs=own.get(by, {}))
    reading = read(made)
    assert sizes(reading) == plate()
    layer = "AXES" if "layer" in by else "0"
    assert [message for message in said(reading) if f"{layer} ({name} lines)" in message]


@pytest.mark.parametrize("name", ["Continuous", "MY LINE", "ByBlock"])
def test_an_unbroken_line_is_an_edge_whatever_it_is_called(name):
    made, space = document()
    made.linetypes.add("MY LINE", [0.0])
    space.add_lwpolyline([(0, 0), (100, 0), (100, 50), (0, 50)], close=True, dxfattribs={"linetype": name})
    assert sizes(read(made)) == plate()


def test_without_a_table_of_linetypes_the_name_tells():
    made = dxf(line(0, 0, 9, 9).replace("8\n0\n", "8\n0\n6\nStrichpunkt\n") + circle(50, 50, 40))
    assert sizes(read(made)) == ([pytest.approx(1600 * PI)], [])
    made = dxf(circle(50, 50, 40).replace("8\n0\n", "8\n0\n6\nSOLID\n"))
    assert sizes(read(made)) == ([pytest.approx(1600 * PI)], [])


# ------------------------------------------------------------------ blocks


@pytest.mark.parametrize("extrusion", [(0, 0, 1), (0, 0, -1)])
@pytest.mark.parametrize(("sx", "sy"), [(1, 1), (-1, 1), (2, -2)], ids=str)
def test_rows_and_columns_lie_where_the_other_library_puts_them(extrusion, sx, sy):
    made, space = document()
    made.blocks.new("B", base_point=(1, 2)).add_circle((3, 4), 2)
    ref = space.add_blockref("B", (30, 20), dxfattribs={
        "xscale": sx, "yscale": sy, "rotation": 25, "extrusion": extrusion, "row_count": 2, "column_count": 3,
        "row_spacing": 15, "column_spacing": -12,
    })  # fmt: skip
    centres = [e.ocs().to_wcs(e.dxf.center) for single in ref.multi_insert() for e in single.virtual_entities()]
    x0, y0 = min(c.x for c in centres), min(c.y for c in centres)
    due = sorted((round(c.x - x0, 6), round(c.y - y0, 6)) for c in centres)
    found = [loop.circle.centre for loop in read(made).profile.outside]
    x0, y0 = min(x for x, _ in found), min(y for _, y in found)
    assert sorted((round(x - x0, 6), round(y - y0, 6)) for x, y in found) == due


# ------------------------------------------------------------------ paper


def test_what_is_on_paper_is_counted_and_not_cut():
    made, _ = with_rectangle()
    made.layout("Layout1").add_circle((50, 25), 10)
    made.new_layout("Second").add_circle((50, 25), 10)
    reading = read(made)
    assert sizes(reading) == plate()
    assert reading.healed == ("passed over 2 entities on a paper layout",)


def test_a_part_on_paper_alone_is_asked_into_model_space():
    made, _ = document()
    made.layout("Layout1").add_circle((50, 25), 10)
    with pytest.raises(Unreadable, match="all that it holds lies on a paper layout; draw the part in model space"):
        read(made)


# ------------------------------------------------------------------ what isn't read is named and counted


def entity(kind, more=""):
    return f"0\n{kind}\n8\n0\n10\n5\n20\n6\n{more}"


@pytest.mark.parametrize(
    ("kind", "message", "severity"),
    [
        ("HATCH", "2 hatches left out: only outlines are read.", "note"),
        ("SOLID", "2 filled shapes left out: only outlines are read.", "warn"),
        ("TRACE", "2 filled shapes left out: only outlines are read.", "warn"),
        ("MLINE", "2 multilines left out: only single lines and arcs are read.", "warn"),
        ("REGION", "2 regions left out: only single lines and arcs are read.", "warn"),
        ("3DFACE", "2 3D faces left out: only what lies flat in the plane of the drawing is read.", "warn"),
        ("3DSOLID", "2 3D entities left out: only what lies flat in the plane of the drawing is read.", "warn"),
        ("IMAGE", "2 pictures left out: they have no lines to cut.", "warn"),
        ("WIPEOUT", "2 masks left out: they only hide what lies behind.", "note"),
        ("TEXT", "2 texts left as text: letters aren't outlines.", "warn"),
        ("MTEXT", "2 texts left as text: letters aren't outlines.", "warn"),
        ("DIMENSION", "2 dimensions left out.", "note"),
        ("LEADER", "2 leaders left out.", "note"),
        ("MULTILEADER", "2 leaders left out.", "note"),
        ("TOLERANCE", "2 tolerance frames left out.", "note"),
        ("ACAD_TABLE", "2 tables left out.", "note"),
        ("XLINE", "2 endless lines left out.", "note"),
        ("ACAD_PROXY_ENTITY", "2 proxies left out: only the program that made it can draw it.", "warn"),
        ("SHAPE", "2 shapes of a font left out: what they draw isn't in the file.", "warn"),
        ("GIZMO", "2 GIZMO entities left out: they aren't read.", "warn"),
    ],
)  # fmt: skip
def test_what_is_not_read_is_named_and_counted(kind, message, severity):
    (finding,) = read(dxf(circle(0, 0, 50) + entity(kind) * 2)).findings
    assert (finding.message, finding.severity, finding.rule) == (message, severity, "reading")
    assert finding.at == pytest.approx((55, 56))
    assert finding.remedy


def test_what_is_not_read_on_a_layer_for_other_things_is_counted_too():
    made = dxf(circle(0, 0, 50) + entity("TEXT").replace("8\n0\n", "8\nDIM\n") * 3 + entity("LEADER", "8\nDIM\n"))
    reading = read(made.replace(b"LEADER\n8\n0\n", b"LEADER\n8\nDIM\n"))
    assert reading.findings == ()
    assert reading.healed == ("left out 3 texts, 1 leader on layers for other things",)


# ------------------------------------------------------------------ numbers and lengths


def bulged(bulge, chord=10):
    vertices = f"10\n0\n20\n0\n42\n{bulge}\n10\n{chord}\n20\n0\n42\n0\n"
    return dxf(f"0\nLWPOLYLINE\n8\n0\n90\n2\n70\n1\n{vertices}")


@pytest.mark.parametrize(
    ("made", "why"),
    [
        (bulged("1e9"), "a LWPOLYLINE in it has a bulge of 1e\\+09, an arc that lacks a hair of a full circle"),
        (bulged("-1000001"), "has a bulge of -1e\\+06"),
        (bulged("1e6"), "it is .* from end to end"),
        (bulged("1_0"), "group 42 of a LWPOLYLINE should be a number and is '1_0'"),
        (dxf(line(0, 0, "1_000", 1)), "group 11 of a LINE should be a number and is '1_000'"),
        (dxf(line(0, 0, "\uff11\uff12", 1)), "group 11 of a LINE should be a number and is '\uff11\uff12'"),
        (dxf(line(0, 0, "\u0663", 1)), "group 11 of a LINE should be a number"),
        (dxf(line(0, 0, "nan", 1)), "which is no place on a drawing"),
        (dxf(line(0, 0, "Infinity", 1)), "which is no place on a drawing"),
        (dxf(line(0, 0, "1,5", 1)), "should be a number and is '1,5'"),
        (dxf(line(0, 0, "0x10", 1)), "should be a number and is '0x10'"),
        (dxf(line(0, 0, 1, 1)).replace(b"\n11\n", b"\n1_1\n"), "should be a group code and is '1_1'"),
        (dxf(circle(0, 0, 5) + insert("A", "70\n2.5\n"), block("A", "")), "group 70 of a INSERT should be a whole"),
        (dxf(circle(0, 0, 1e9)), "it is .* from end to end"),
        (dxf(line(0, 0, 999_999_999, 0)), "it is .* from end to end"),
        (dxf(circle(0, 0, 5) + insert("A", "41\n1e9\n42\n1e9\n"), block("A", circle(0, 0, 5))), "from end to end"),
    ],
)  # fmt: skip
def test_numbers_that_are_none_and_lengths_past_the_limit_are_refused(made, why):
    with pytest.raises(Unreadable, match=rf"^theirs\.dxf can't be read: .*{why}"):
        read(made)


@pytest.mark.parametrize("bulge", [1.0, 1e3, 2.3e4])
def test_a_bulge_within_the_limit_is_the_arc_it_says(bulge):
    """Segment and chord: the circle but for what the chord cuts off, or the whole where that is a hair."""
    chord = 40 / bulge
    radius = chord * (1 + bulge**2) / (4 * bulge)
    sweep = 4 * math.atan(bulge)
    (area,), _ = sizes(read(bulged(bulge, chord)))
    assert area == pytest.approx(radius**2 * (sweep - math.sin(sweep)) / 2, rel=1e-8)


# ------------------------------------------------------------------ encodings


@pytest.mark.parametrize(
    ("version", "page", "encoding", "name"),
    [
        ("R12", "ANSI_1252", "cp1252", "Biegelöcher"), ("R2000", "ANSI_1251", "cp1251", "Контур"),
        ("R2000", "ANSI_932", "cp932", "外形線"), ("R2000", "ANSI_936", "gbk", "轮廓"),
        ("R2004", "ANSI_949", "cp949", "외곽선"), ("R12", "dos850", "cp850", "Löcher"),
        ("R2010", "ANSI_1252", "utf-8", "Löcher 外形"),
    ],
)  # fmt: skip
def test_layer_names_in_the_code_page_of_the_file(version, page, encoding, name):
    text = dxf(circle(0, 0, 50) + circle(0, 0, 10, "OUTSIDE").replace("OUTSIDE", f"{name} MARK"), units=4)
    head = f"0\nSECTION\n2\nHEADER\n9\n$DWGCODEPAGE\n3\n{page}\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n"
    body = text.decode().split("ENDSEC\n", 1)[1]
    reading = read((head + body).encode(encoding))
    assert reading.healed == (f"took 1 line on layer {name} MARK as a scribe line",)


def test_escaped_characters_and_wide_text():
    escaped = dxf(circle(0, 0, 50) + circle(0, 0, 10, "\\U+5916\\U+5F62 mark"))
    assert read(escaped).healed == ("took 1 line on layer 外形 mark as a scribe line",)
    for encoding in ("utf-16-le", "utf-16-be"):
        mark = "\ufeff".encode(encoding)
        assert read(mark + escaped.decode().encode(encoding)) == read(escaped)
    assert read(dxf(circle(0, 0, 50) + circle(0, 0, 10, "\\U+D83D mark"))).healed == (
        "took 1 line on layer \N{REPLACEMENT CHARACTER} mark as a scribe line",
    )


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"])
def test_every_version_the_other_library_writes(version):
    made, space = document(version=version)
    for start, end in (((0, 0), (100, 0)), ((100, 0), (100, 50)), ((100, 50), (0, 50)), ((0, 50), (0, 0))):
        space.add_line(start, end)
    space.add_circle((30, 25), 6)
    space.add_point((80, 25))
    reading = read(made, "mm")
    assert sizes(reading) == plate(36 * PI)
    assert reading.profile.marks == (Drill((80, 25), 0.0),)


# ------------------------------------------------------------------ units


@pytest.mark.parametrize("stated", ["", "0", "3", "4.0", "mm", "-1", "1_0", "99999999999"])
def test_units_that_are_missing_or_no_unit_are_asked_for(stated):
    text = dxf(circle(3, 3, 2)).decode().replace("70\n4\n", f"70\n{stated}\n")
    with pytest.raises(Refused) as refused:
        read(text.encode())
    assert refused.value.problems[0].parameter == "units"
    assert read(text.encode(), "in").profile.outside[0].circle.diameter == pytest.approx(4 * 25.4)


def test_a_header_without_units_or_no_header_at_all():
    bare = dxf(circle(3, 3, 2)).decode().split("ENDSEC\n", 1)[1].encode()
    assert read(bare, "mm").profile.outside[0].circle.diameter == pytest.approx(4)
    with pytest.raises(Refused):
        read(bare)


def test_the_corpus_is_written_by_the_other_library():
    made, _ = with_rectangle()
    assert data(made).startswith(b"  0\nSECTION")
