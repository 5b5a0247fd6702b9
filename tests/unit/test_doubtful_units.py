"""Drawings in the wrong unit are asked about, with why; those in the right one aren't. In 6 mm plate by air plasma."""

import pytest

import parts
from tests.files.foreign import circle, dxf, line

MM, CM, M, INCH, FOOT = 4, 5, 6, 1, 2


def drawn(width, height, holes=(), units=MM):
    edges = [(0, 0, width, 0), (width, 0, width, height), (width, height, 0, height), (0, height, 0, 0)]
    at = [width * (i + 1) / (len(holes) + 1) for i in range(len(holes))]
    rims = (circle(x, height / 2, diameter / 2) for x, diameter in zip(at, holes, strict=True))
    return dxf("".join(line(*edge) for edge in edges) + "".join(rims), units=units)


def asked(data, **values):
    values = {"thickness": "6 mm", **values}
    return [f for f in parts.check(data, "p.dxf", **values).part.findings if f.rule == "units"]


TOO_SMALL = "all too small to be cut or drilled"


@pytest.mark.parametrize(
    ("data", "why", "change"),
    [
        (drawn(100, 60, (0.25, 0.5)), f"100 mm x 60 mm with holes from 0.25 mm, {TOO_SMALL}; in inches", "in"),
        (drawn(4, 2.4, (0.25,)), "a hole of 0.25 mm, too small to be cut or drilled; in inches", "in"),
        (drawn(4, 2.4, (0.25,)), "it would be 4 in x 2.4 in with a hole of 1/4 in.", "in"),
        (drawn(4, 2.4), "4 mm x 2.4 mm, hardly a part to be cut; in inches it would be 4 in x 2.4 in.", "in"),
        (drawn(100, 60, (6.6,), INCH), "100 in x 60 in with a hole of 6.6 in, larger than the bed; in mill", "mm"),
        (drawn(100, 60, (6.6, 9), FOOT), "larger than the bed; in millimetres it would be 100 mm x 60 mm", "mm"),
        (drawn(100, 60, (6.6, 9), M), "larger than the bed; in millimetres it would be 100 mm x 60 mm", "mm"),
        (drawn(40, 30, (6.6, 9), INCH), "a size that inches don't come in; in millimetres it would be 40 mm x", "mm"),
    ],
)  # fmt: skip
def test_the_other_unit_is_asked_about(data, why, change):
    (finding,) = asked(data)
    assert (finding.severity, finding.changes) == ("warn", (("units", change),))
    assert finding.message.startswith("Is the unit right? The part is ")
    assert why in finding.message
    word = {"mm": "millimetres", "in": "inches"}[change]
    assert finding.remedy.startswith(f"If so, say that it is in {word}; if not, ")


@pytest.mark.parametrize(
    "data",
    [
        drawn(100, 60), drawn(100, 60, (6.6, 9)), drawn(100, 60, (6.35, 12.7)), drawn(100, 60, (0.25, 9)),
        drawn(4, 2.4, (0.25, 0.5), INCH), drawn(40, 30, (6.5, 9), INCH), drawn(90, 50, (), INCH),
        drawn(15, 10, (0.4,), CM), drawn(6, 4, (0.1, 0.4), INCH),
        drawn(10, 6, (1,), CM), drawn(100, 60, (1.6, 3)), drawn(15.1, 9), drawn(1200, 2400, (20,)),
        drawn(3000, 2000, (20,)),
    ],
)  # fmt: skip
def test_what_is_of_a_likely_size_is_not_asked_about(data):
    assert asked(data) == []


@pytest.mark.parametrize("units", ["mm", "in"])
def test_who_has_said_the_unit_is_not_asked(units):
    assert asked(drawn(4, 2.4, (0.25,)), units=units) == []


def test_a_size_converted_twice():
    (finding,) = asked(drawn(2540, 1524, (167.64,)))
    assert finding.changes == ()
    assert finding.message == (
        "Is the size right? The part is 2540 mm x 1524 mm with a hole of 167.64 mm, larger than the bed, and just 25.4 "
        "times 100 mm x 60 mm with a hole of 6.6 mm."
    )


@pytest.mark.parametrize(("longest", "is_asked"), [(15, True), (15.001, False)], ids=str)
def test_the_least_part(longest, is_asked):
    assert bool(asked(drawn(longest, 9))) == is_asked


@pytest.mark.parametrize(
    ("data", "values"),
    [
        (drawn(12, 12, (6.4,)), {"thickness": "2 mm", "process": "laser"}),
        (drawn(12, 8), {"thickness": "1 mm", "process": "laser"}),
        (drawn(15, 15, (6.4,)), {"thickness": "3 mm", "process": "laser"}),
        (drawn(4, 2.5, (0.3,), INCH), {"thickness": "1/4 in"}),
        (drawn(20, 12, (1.1,), INCH), {"thickness": "1/4 in"}),
        (drawn(120, 60, (0.5,), INCH), {"thickness": "1/4 in"}),
        (drawn(120, 60, (0.75,), INCH), {"thickness": "1/4 in"}),
        (drawn(2000, 1000, (0.4,)), {}),
    ],
    ids=["washer", "small tab", "small washer", "decimal inches", "decimal hole", "past the bed", "a larger hole",
         "pinhole in a panel"],
)  # fmt: skip
def test_where_both_units_or_only_the_stated_fits_nothing_is_asked(data, values):
    assert asked(data, **values) == []


@pytest.mark.parametrize(("longest", "is_asked"), [(6, True), (6.001, False)], ids=str)
def test_a_small_part_of_thin_sheet_is_one(longest, is_asked):
    assert bool(asked(drawn(longest, 3), process="laser", thickness="1 mm")) == is_asked


def test_a_part_not_much_longer_than_thick_is_asked_about_whatever_its_holes():
    assert len(asked(drawn(15, 15, (6.4,)), thickness="6 mm", process="laser")) == 1


def test_a_fine_process_has_finer_holes():
    """A quarter of a millimetre is half of the smallest hole a waterjet or laser cuts in thin sheet, or more."""
    (finding,) = asked(drawn(100, 60, (0.1,)), process="laser", thickness="1 mm")
    assert "too small" in finding.message
    assert asked(drawn(100, 60, (0.9,)), process="laser", thickness="1 mm") == []


def test_our_own_files_are_never_asked_about():
    for slug in ("plate-washer", "gusset-triangle", "bumper-skid", "plate-bumper", "square-frame"):
        part = parts.draw(slug)
        assert asked(part.to_dxf().encode(), thickness=part.record.job.cut.thickness_mm) == [], slug
