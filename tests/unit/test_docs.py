"""The documents say what the code does, and name nothing that is gone."""

import re
from pathlib import Path

import pytest

from docs import build, rules_page
from parts import rules
from parts.cutting.process import PROCESSES
from parts.templates import templates

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(DOCS.rglob("*.md"))]


MADE = build.files()


@pytest.mark.parametrize("name", MADE)
def test_made_documents_are_what_the_code_makes(name):
    assert (DOCS / name).read_text(encoding="utf-8") == MADE[name], "run: python docs/build.py"


@pytest.mark.parametrize("folder", build.FOLDERS)
def test_nothing_is_left_of_what_is_gone(folder):
    there = {f"{folder}/{path.name}" for path in (DOCS / folder).iterdir()}
    assert there == {name for name in MADE if name.startswith(f"{folder}/")}


@pytest.mark.parametrize("rule", rules.RULES, ids=lambda rule: rule.RULE)
def test_a_rule_is_shown_broken_and_obeyed(rule):
    broken, obeyed = (rules_page.example(rule, verb).findings for verb in ("breaks", "obeys"))
    assert {finding.rule for finding in broken} == {rule.RULE}
    assert obeyed == ()


@pytest.mark.parametrize("rule", rules.RULES, ids=lambda rule: rule.RULE)
def test_a_rule_states_itself_and_its_number(rule):
    assert re.search(r"^Rule    \S", rule.__doc__, flags=re.M)
    assert re.search(r"^Number  \S", rule.__doc__, flags=re.M)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_lead_somewhere(page):
    for target in re.findall(r"\]\(([^)#]+)\)", page.read_text(encoding="utf-8")):
        assert (page.parent / target).exists(), f"{page.name} links to {target}"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_examples_name_templates_that_exist(page):
    for slug in re.findall(r"\bdraw ([a-z]+-[a-z-]+)", page.read_text(encoding="utf-8")):
        assert slug in templates()


def test_readme_opens_with_the_job_and_names_both_commands():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    title, job = text.split("\n\n")[:2]
    assert title == "# Platewright"
    assert len(job.split()) > 60
    assert "python3 start.py " in text
    assert "python3 start.py test" in text


def test_every_process_is_in_the_data_page():
    text = (DOCS / "shop-data.md").read_text(encoding="utf-8")
    assert [slug for slug in PROCESSES if slug not in text] == []
