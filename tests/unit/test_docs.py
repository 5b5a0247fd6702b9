"""The documents say what the code does, and name nothing that is gone."""

import re
from pathlib import Path

import pytest

from docs import rules_page
from parts import rules
from parts.cutting.process import PROCESSES
from parts.templates import templates

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(DOCS.rglob("*.md"))]


@pytest.mark.parametrize("rule", rules.RULES, ids=lambda rule: rule.RULE)
def test_a_rule_is_shown_broken_and_obeyed(rule):
    broken, obeyed = (rules_page.example(rule, verb).findings for verb in ("breaks", "obeys"))
    assert {finding.rule for finding in broken} == {rule.RULE}
    assert obeyed == ()


@pytest.mark.parametrize("rule", rules.RULES, ids=lambda rule: rule.RULE)
def test_a_rule_states_itself_and_its_number(rule):
    assert re.search(r"^Rule    \S", rule.__doc__, flags=re.M)
    assert re.search(r"^Number  \S", rule.__doc__, flags=re.M)


def test_links_lead_somewhere():
    links = [(page, to) for page in PAGES for to in re.findall(r"\]\(([^)#]+)\)", page.read_text(encoding="utf-8"))]
    assert [(page.name, to) for page, to in links if not (page.parent / to).exists()] == []
    assert len(links) > len(PAGES)


def test_examples_name_templates_that_exist():
    named = {slug for page in PAGES for slug in re.findall(r"\bdraw ([a-z]+-[a-z-]+)", page.read_text("utf-8"))}
    assert named
    assert named <= set(templates())


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
