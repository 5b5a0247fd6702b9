"""How a template declares itself, on one made up for the purpose."""

from collections.abc import Iterator

import pytest

from parts.errors import Problem, Refused
from parts.geometry.draft import rectangle
from parts.profile import Profile
from parts.spec import ReadingContext
from parts.spec.kinds import bolt, count, flag, length
from parts.spec.parameters import Parameters
from parts.spec.template import Template
from parts.templates import template
from tests.jobs import BED, SHEET
from tests.library import part


class Strip(Parameters):
    """A strip with rounded ends."""

    width: float = length("Width", default=50, minimum=5, maximum=500)
    end: float = length("End radius", default=10, minimum=0, maximum=250)
    lug: float = length("Lug", default=5, minimum=0, maximum=250)
    holes: int = count("Holes", default=2, minimum=0, maximum=9)
    bolt: str = bolt("Bolt", default="M10", diameter="hole")
    hole: float = length("Hole", default=11, minimum=1, maximum=100)
    slit: bool = flag("Slit")

    def problems(self) -> Iterator[Problem]:
        yield from self.at_most("end", self.width / 2, "on this width")
        yield from self.under("lug", self.width, "beside it")
        yield from self.over("width", 3 * self.lug - 101, "past the lugs")


def outline(p: Strip) -> Profile:
    return Profile((rectangle((0, 0), 100, p.width, p.end),))


STRIP = Template("strip-plain", "Strip", Strip, outline, summary="A strip.", words=("band",))
COMMON = ["material", "thickness", "process", "small_holes", "bed_x", "bed_y", "sheet_x", "sheet_y", "units",
          "dxf_version", "notes", "paper", "picture", "drill_circles"]  # fmt: skip


def refusal(**values: object) -> list[tuple[str, str, str]]:
    with pytest.raises(Refused) as refused:
        Strip.read(values)
    return [(p.parameter, p.value, p.message) for p in refused.value.problems]


def test_the_templates_own_parameters_come_first():
    assert list(Strip.specs()) == ["width", "end", "lug", "holes", "bolt", "hole", "slit", *COMMON]
    assert "mild-steel" in Strip.specs()["material"].choices


def test_values_read_singly_need_not_go_together():
    assert Strip.read_singly({"end": 30}).end == 30
    with pytest.raises(Refused) as by_others:
        Strip.read({"end": 30})
    with pytest.raises(Refused) as by_itself:
        Strip.read_singly({"end": 251})
    assert [problem.parameter for refused in (by_others, by_itself) for problem in refused.value.problems] == [
        "end"
    ] * 2


def test_defaults():
    p = Strip.read({})
    assert (p.width, p.holes, p.bolt, p.slit, p.thickness, p.units) == (50, 2, "M10", False, 6, "mm")
    assert (p.bed_x, p.bed_y, p.sheet_x, p.sheet_y) == (BED.x_mm, BED.y_mm, SHEET.x_mm, SHEET.y_mm)
    assert p.texts() == {}


def test_values_are_read_in_the_working_units():
    p = Strip.read({"width": "4", "end": "20 mm", "units": "in", "thickness": "3/16"})
    assert (p.width, p.end, p.thickness) == (101.6, 20, 4.7625)
    assert p.texts() == {"width": "4in", "end": "20mm", "thickness": "3/16in", "units": "in"}


@pytest.mark.parametrize("units", ["in", "IN", " In "])
def test_units_in_any_spelling_are_the_working_units(units):
    assert Strip.read({"width": "4", "units": units}).width == 101.6


@pytest.mark.parametrize("material", ["mild-steel", "Mild_Steel", " MILD-STEEL "])
def test_a_material_in_any_spelling_has_its_gauges(material):
    """16 ga steel is 1.52 mm (manufacturers' standard gauge, 0.0598 in)."""
    p = Strip.read({"material": material, "thickness": "16 ga"})
    assert (p.material, p.thickness) == ("mild-steel", pytest.approx(0.0598 * 25.4, abs=0.005))


def test_every_reason_is_given_in_form_order():
    assert refusal(notes="perhaps", width="wide", holes=99, units="cm") == [
        ("width", "wide", refusal(width="wide")[0][2]),
        ("holes", "99", "must be at most 9."),
        ("units", "cm", "must be one of mm, in."),
        ("notes", "perhaps", "must be on or off."),
    ]


def test_an_unknown_parameter_is_named_with_the_one_meant():
    assert refusal(widht=5) == [("widht", "5", "is not a parameter of this template; did you mean width?")]
    assert refusal(xyzzy=5) == [("xyzzy", "5", "is not a parameter of this template.")]


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ({"end": 24.99}, None),
        ({"end": 25}, None),
        ({"end": 25 + 1e-10}, None),
        ({"end": 25.01}, ("end", "25.01 mm", "must be at most 25 mm on this width.")),
        ({"width": 33.3333, "end": 17}, ("end", "17 mm", "must be at most 16.666 mm on this width.")),
        ({"end": "1", "units": "in", "width": "1.25"}, ("end", "1 in", "must be at most 5/8 in on this width.")),
        ({"lug": 49.99, "width": 50}, None),
        ({"lug": 50 - 1e-10}, ("lug", "50 mm", "must be less than 50 mm beside it.")),
        ({"lug": 50}, ("lug", "50 mm", "must be less than 50 mm beside it.")),
        ({"lug": 61, "width": 82}, ("width", "82 mm", "must be more than 82 mm past the lugs.")),
        ({"lug": 61, "width": 82.01}, None),
    ],
)
def test_cross_limits(values, expected):
    if expected is None:
        assert Strip.read(values)
    else:
        assert refusal(**values) == [expected]


def test_a_limit_that_is_told_is_accepted():
    """5.5555 is said 5.556 mm; a person told so and typing it must not be refused again."""
    for units in ("mm", "in"):
        (problem,) = refusal(width=11.111, end=50, lug=0, units=units)
        assert problem[2].startswith("must be at most ")
        told = problem[2].removeprefix("must be at most ").removesuffix(" on this width.")
        assert Strip.read({"width": 11.111, "end": told, "lug": 0, "units": units}).end <= 11.111 / 2


@pytest.mark.parametrize(
    "values",
    [{}, {"width": 100 / 3}, {"width": "3-1/2 in", "units": "in"}, {"bolt": "5/16", "slit": True, "holes": 0},
     {"bed_x": 1000, "bed_y": 52 * 25.4}],
)  # fmt: skip
def test_texts_read_back_to_the_same(values):
    p = Strip.read(values)
    assert Strip.read(p.texts()) == p


def test_a_shops_own_bed_is_the_default_and_is_told_where_it_matters(own_file):
    """An address has to draw the same part in a shop with another bed."""
    own_file.write_text("[bed]\nx_mm = 2000\ny_mm = 3000\n")
    own = Strip.read({})
    assert (own.bed_x, own.bed_y) == (2000, 3000)
    built_in = Strip.read({"bed_x": BED.x_mm, "bed_y": BED.y_mm})
    assert Strip.read(built_in.texts()) == built_in
    own_texts = own.texts()
    own_file.write_text("")
    assert Strip.read(own_texts) == own


def test_a_shops_own_sheet_is_the_default_and_is_told_where_it_matters(own_file):
    own_file.write_text('[sheet]\nx = "1250 mm"\ny = "2500 mm"\n')
    own = Strip.read({})
    assert (own.sheet_x, own.sheet_y) == (1250, 2500)
    built_in = Strip.read({"sheet_x": SHEET.x_mm, "sheet_y": SHEET.y_mm})
    assert built_in.texts() == {"sheet_x": "1219.2mm", "sheet_y": "2438.4mm"}
    assert Strip.read(built_in.texts()) == built_in
    own_texts = own.texts()
    own_file.write_text("")
    assert Strip.read(own_texts) == own


def test_parameters_cant_be_changed():
    with pytest.raises(ValueError, match="frozen"):
        Strip.read({}).width = 3


def test_what_a_template_knows_of_itself():
    assert STRIP.family == "strip"
    assert dict(STRIP.letters) == {"width": "A", "end": "B", "lug": "C", "hole": "D"}


def test_only_what_a_drawing_may_show_has_a_letter():
    """What only says how, the smallest detail or the gap around a pipe, stands beside the letters of the others."""
    for slug, name in (("outline-map", "detail"), ("box-tray", "side_clearance"), ("bracket-pipe-saddle", "pipe_od")):
        chosen = template(slug)
        shown = {dimension.parameter for dimension in part(slug).profile.dimensions}
        assert name not in chosen.letters
        assert name not in shown


def test_a_choice_is_said_in_words_and_read_by_either():
    bolt, paper = (template("gusset-triangle").parameters.specs()[name] for name in ("bolt", "paper"))
    assert (bolt.say("by-diameter"), bolt.say("M10"), bolt.say("3/8")) == ("by diameter", "M10", "3/8")
    read = [bolt.read(text, ReadingContext()) for text in ("by-diameter", "by diameter", "BY_DIAMETER")]
    assert read == ["by-diameter"] * 3
    assert (paper.say("by-units"), paper.read("by the units", ReadingContext())) == ("by the units", "by-units")


def test_letters_go_on_after_z():
    class Many(Parameters):
        """Thirty lengths."""

        __annotations__ = {f"l{i:02}": float for i in range(30)}
        locals().update({f"l{i:02}": length("L", default=1, minimum=0, maximum=2) for i in range(30)})

    letters = list(Template("many-lengths", "Many", Many, outline).letters.values())
    assert (letters[0], letters[25], letters[26], letters[29]) == ("A", "Z", "AA", "AD")


def test_a_diameter_alone_is_by_diameter():
    assert Strip.read({"hole": "20"}).bolt == "by-diameter"
    assert Strip.read({"bolt": "M8"}).bolt == "M8"
    assert Strip.read({"bolt": "M8", "hole": "11"}).bolt == "M8"


def test_a_diameter_that_a_bolt_overrules_is_refused():
    message = "isn't used: M8 sets the hole. Choose by-diameter for bolt, or leave it."
    assert refusal(bolt="M8", hole="20") == [("hole", "20 mm", message)]


def test_a_length_is_nothing_or_can_be_measured():
    message = "is less than can be measured; write 0, or at least 0.001 mm."
    assert refusal(end=0.00099)[0][::2] == ("end", message)
    assert Strip.read({"end": 0.001}).end == 0.001
    assert Strip.read({"end": 0}).end == 0
