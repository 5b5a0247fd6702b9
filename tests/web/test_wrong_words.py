"""A wrong word is answered with the one that was probably meant: every known word, slipped at, wherever it is typed."""

import pytest

import parts
from parts.cutting import PROCESSES, materials
from parts.errors import nearest
from parts.export import FORMATS
from parts.rules import RULES
from parts.templates import template
from parts.truing.reading import KINDS
from tests.depth import one_in
from tests.web.refusals import assert_refusal
from webapp.cli import main
from webapp.commands import COMMANDS

SLUGS = sorted(parts.templates())
RULE_NAMES = [str(rule.RULE) for rule in RULES]
MOST_UNLIKE = 4
"""Letters of a word that may be like another one too, once one of them is out of place."""


def slips(word):
    """Two neighbours exchanged, one letter left out, one doubled, each at the middle; no other known word."""
    i = max(len(word) // 2, 1)
    yield word[: i - 1] + word[i] + word[i - 1] + word[i + 1 :]
    yield word[:i] + word[i + 1 :]
    yield word[:i] + word[i] + word[i:]


FAMILIES = {
    "slug": SLUGS, "command": list(COMMANDS), "format": list(FORMATS), "process": list(PROCESSES),
    "material": list(materials()), "rule": RULE_NAMES, "kind of reading": list(KINDS),
    **{slug: list(template(slug).parameters.specs()) for slug in SLUGS[::8]},
}  # fmt: skip


@pytest.mark.parametrize("family", FAMILIES)
def test_the_nearest_word_is_the_one_that_was_slipped_at(family):
    """At every third word, in a deep run at each."""
    known = FAMILIES[family]
    wrong = {
        slip: near
        for word in one_in(3, (word for word in known if len(word) > MOST_UNLIKE))
        for slip in slips(word)
        if slip not in known and (near := nearest(slip, known)) != word
    }
    assert wrong == {}


def test_nothing_is_suggested_for_what_is_like_nothing():
    assert nearest("xylophone", SLUGS) == ""
    assert nearest("", SLUGS) == ""
    assert nearest("word", ()) == ""


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("triangle-gusset", "gusset-triangle"), ("Gusset Triangle", "gusset-triangle"),
        ("gusset_triangel", "gusset-triangle"), ("bumper-plate", "plate-bumper"), ("test-square", "square-test"),
    ],
)  # fmt: skip
def test_words_in_another_order_or_spelling(typed, meant):
    assert nearest(typed, SLUGS) == meant


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        (["drwa"], "there is no command drwa; did you mean draw?"),
        (["draw", "gusset-triangel", "-o", "g.dxf"], "'gusset-triangel'; did you mean gusset-triangle?"),
        (["sheet", "square-tset", "-o", "s.pdf"], "'square-tset'; did you mean square-test?"),
        (["draw", "gusset-triangle", "leg=9", "-o", "g.dxf"], "is not a parameter of this template; did you mean leg_"),
        (["draw", "gusset-triangle", "process=lazer", "-o", "g.dxf"], "did you mean laser?"),
        (["draw", "gusset-triangle", "material=mild_stel", "-o", "g.dxf"], "did you mean mild-steel?"),
        (["draw", "gusset-triangle", "material=metal", "-o", "g.dxf"], "may be mild-steel, stainless-steel or"),
        (["draw", "gusset-triangle", "small_holes=dril", "-o", "g.dxf"], "did you mean drill?"),
        (["draw", "gusset-triangle", "-o", "g.dfx"], "did you mean dxf?"),
        (["draw", "gusset-triangle", "-o", "g", "--format", "dfx"], "--format can't be dfx; did you mean dxf?"),
        (["draw", "gusset-triangle", "-o", "g.dxf", "--apply", "bridgewidth"], "did you mean bridge-width?"),
        (["draw", "gusset-triangle", "-o", "g.dxf", "--evenso"], "--evenso isn't understood here; did you mean --even"),
        (["check", "p.dxf", "--tickness", "6mm"], "did you mean --thickness?"),
        (["check", "p.dxf", "--tickness=6mm"], "did you mean --thickness?"),
        (["list", "--jsn"], "did you mean --json?"),
        (["serve", "--port", "8_765"], "'8_765' is no whole number."),
        (["serve", "--port", "\u0663\u0664"], "is no whole number."),
        (["frobnicate"], "there is no command frobnicate; there are list, draw,"),
    ],
    ids=lambda words: " ".join(words) if isinstance(words, list) else "",
)  # fmt: skip
def test_commands_say_what_was_probably_meant(words, answer, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    try:
        status = main(words)
    except SystemExit as left:
        status = left.code
    told = capsys.readouterr().err
    assert status == 2
    assert answer in told
    assert told.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_addresses_say_so_too(client):
    answer = client.get("/parts/gusset-triangel.json")
    assert_refusal(answer, 404, "template")
    assert "did you mean gusset-triangle?" in answer.json["errors"][0]["message"]
    answer = client.get("/parts/gusset-triangle.json?leg_aa=9")
    assert_refusal(answer, 422, "leg_aa")
    assert "did you mean leg_a?" in answer.json["errors"][0]["message"]
    assert "did you mean gusset-triangle?" in client.get("/parts/gusset-triangel").text
