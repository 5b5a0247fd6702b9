"""The page of the rules: each with its statement, its number, and a drawing that breaks it beside one that obeys."""

import importlib
import re
from collections.abc import Iterator
from types import ModuleType

from parts.data import KINDS
from parts.export import page_drawing
from parts.finding import Finding
from parts.numbers import every, told_of
from parts.part import Part, assembled, job_of
from parts.profile import Profile
from parts.rules import RULES, findings
from parts.spec import Parameters, Template

HEAD = """# What is checked

Every part is checked on its true lines and arcs before any file is written. A finding has a severity (`stop`: don't
cut this; `warn`: look at it; `note`: good to know), a place on the drawing, what was measured, the limit, and what to
do about it. Findings that say the same are one row with one number: its first three places have a flag each, the
others a dot, and the `.json` lists each place in it. What always holds of such a part is told once beside the cautions
and is no finding. Made from the code by `docs/build.py`; every drawing here was checked by
the rule it stands under.

**Holes too small to cut** come out as a cone with a lump where the pierce was. Those for bolts leave the cut by
themselves, and a note says so: they stand on the layer `DRILL` as centres to drill, with a slot for a bolt scribed.
`small_holes=cut` has them cut all the same, which the rule then stops; `small_holes=drill` drills every round hole.

The numbers are in [your shop's data](shop-data.md), each with its source, and each [says what kind it
is](numbers.md): most are common practice or from memory, so overwrite them with what your own table shows. The page
`/numbers` and `platewright numbers` list every one that a finding rests on; under a finding stand those of its rule.
"""


def files() -> dict[str, str]:
    """Return the page and its pictures, by their paths within `docs`."""
    made = {"rules.md": page()}
    for rule in RULES:
        for verb in ("breaks", "obeys"):
            made[_picture(rule, verb)] = page_drawing(example(rule, verb).record) + "\n"
    return made


def page() -> str:
    """Return the text of `rules.md`."""
    lines = [HEAD, "| rule | says |", "| --- | --- |"]
    lines += [f"| [`{rule.RULE}`](#{rule.RULE}) | {_says(rule)} |" for rule in RULES]
    for rule in RULES:
        lines += ["", *_section(rule)]
    return "\n".join(lines) + "\n"


def example(rule: ModuleType, verb: str) -> Part:
    """Return the drawing that breaks a rule (`breaks`), or the one that doesn't (`obeys`), with its findings."""
    drawn = importlib.import_module(f"docs.examples.{rule.__name__.rpartition('.')[2]}")
    profile: Profile = getattr(drawn, verb.upper())
    parameters = Parameters.read(getattr(drawn, "STOCK", {}))
    found = findings(profile.seated(), job_of(parameters), (rule,))
    template = Template(
        f"{rule.RULE}-{verb}", f"A part that {verb} the rule {rule.RULE}", Parameters, lambda _: profile
    )
    return assembled(template, parameters, profile.seated(), found, "")


def _section(rule: ModuleType) -> Iterator[str]:
    paragraphs = _paragraphs(rule)
    yield f"## {rule.RULE}"
    yield ""
    yield f"{_says(rule)}."
    for paragraph in paragraphs[1:]:
        yield ""
        if re.match(r"Rule    ", paragraph):
            statement, _, number = paragraph.partition("\nNumber  ")
            yield f"- Rule: {_flowing(statement.removeprefix('Rule    '))}"
            yield f"- Number: {_flowing(number)}"
        else:
            yield _flowing(paragraph)
    yield from _kinds(rule)
    yield ""
    yield "| breaks it | obeys it |"
    yield "| --- | --- |"
    yield "| " + " | ".join(f"![{_alt(rule, verb)}]({_picture(rule, verb)})" for verb in ("breaks", "obeys")) + " |"
    yield ""
    yield from (f"> {_said(finding)}" for finding in example(rule, "breaks").findings[:1])


def _kinds(rule: ModuleType) -> Iterator[str]:
    """What kinds of numbers it goes by as built in, and where each of them stands."""
    found = {number.kind for number in told_of(every(), rule.RULE)}
    if found:
        yield f"- Kinds: {', '.join(kind for kind in KINDS if kind in found)}; each at `/numbers?rule={rule.RULE}`"


def _paragraphs(rule: ModuleType) -> list[str]:
    return (rule.__doc__ or "").strip().split("\n\n")


def _says(rule: ModuleType) -> str:
    """The rule's first sentence without its name: `A jet can't follow a hole that is small for its plate`."""
    said = _flowing(_paragraphs(rule)[0]).partition(": ")[2].rstrip(".")
    return said[:1].upper() + said[1:]


def _said(finding: Finding) -> str:
    return f"**{finding.severity}** {finding.message} {finding.remedy}"


def _flowing(text: str) -> str:
    return " ".join(text.split())


def _alt(rule: ModuleType, verb: str) -> str:
    return f"A part that {verb} {rule.RULE}"


def _picture(rule: ModuleType, verb: str) -> str:
    return f"rules/{rule.RULE}-{verb}.svg"
