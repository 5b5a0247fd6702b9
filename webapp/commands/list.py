"""`platewright list`: the templates and their parameters, some by their slugs, or what goes by some words."""

import argparse
import json
import shlex
from typing import Any, cast

import parts
from parts.catalogue import Found, fill, find
from parts.shop import usual
from parts.spec import Condition, Spec, Template, Value, default_of
from parts.templates import FORMER, broken, former_of
from parts.units import MM_PER_IN
from webapp.commands.console import tell
from webapp.wording import found_in_words

_MOST_FILLED = 5
"""So many of the best are said with their sizes."""


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    words = "a part as listed, or what a shop calls it, with sizes: 2x2 cap"
    command.add_argument("words", nargs="*", metavar="WORD", help=words)
    command.add_argument("--json", action="store_true", help="as JSON, lengths in mm")
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Print the templates, or those that go by the words; tell of unusable ones, and return the exit status."""
    for sentence in broken().values():
        tell(sentence)
    sought = " ".join(request.words)
    known = parts.templates()
    request.words = [*map(_as_now, request.words)]
    if sought and all(word in known for word in request.words):
        _tell_named([known[word] for word in dict.fromkeys(request.words)], as_json=request.json)
        return 0
    found = find(sought)
    if sought:
        tell(found_in_words(found, sought, len(known)))
    if request.json:
        print(json.dumps([described(template.slug) for template in found.templates], indent=2))
        return 0
    for place, template in enumerate(found.templates):
        print(f"{template.slug}: {template.title}. {template.summary}")
        if not sought:
            _tell_parameters(template)
        elif place < _MOST_FILLED:
            _tell_filled(template, found)
    return 0


def _as_now(word: str) -> str:
    """The slug of the template that a former one is of now, which is said; any other word as it is."""
    if now := FORMER.get(word):
        tell(f"{word} is {now.said} now.")
    return now.slug if now else word


def _tell_named(templates: list[Template], *, as_json: bool) -> None:
    """Print templates that are called by their slugs, with every parameter."""
    if as_json:
        print(json.dumps([described(template.slug) for template in templates], indent=2))
        return
    for template in templates:
        print(f"{template.slug}: {template.title}. {template.summary}")
        _tell_parameters(template)


def _tell_parameters(template: Template) -> None:
    units = usual().units or "mm"
    for spec in template.parameters.specs().values():
        limits = f" ({spec.limits(units)})" if spec.limits() and not spec.is_bolt else ""
        default = spec.say(default_of(spec, units), units) or "empty"
        print(f"    {spec.name:<16} {spec.kind:<8} {spec.label}: {default}{limits}")
    print()


def _tell_filled(template: Template, found: Found) -> None:
    """Print how the part is drawn with the sizes that were said, and tell what is left out."""
    filled = fill(template, found.said, usual().units or "mm", found.named.get(template.slug))
    if filled.values:
        values = shlex.join(f"{name}={text}" for name, text in filled.values.items())
        print(f"    {filled.sentence}: draw {template.slug} {values}")
    for sentence in filled.left_out:
        print(f"    {sentence}.")


def described(slug: str) -> dict[str, Any]:
    """Return a template as `list --json` describes it: lengths in mm, angles in degrees."""
    template = parts.templates()[slug]
    return {
        "slug": slug,
        "family": template.family,
        "title": template.title,
        "summary": template.summary,
        "formerly": list(former_of(slug)),
        "parameters": [_described(spec) for spec in template.parameters.specs().values()],
    }


def _described(spec: Spec) -> dict[str, Any]:
    return {
        "name": spec.name,
        "kind": spec.kind,
        "default": default_of(spec),
        "minimum": spec.minimum,
        "maximum": spec.maximum,
        "choices": list(spec.choices) or None,
        "unit": spec.unit,
        "moves": spec.moves,
        "help": f"{spec.label}. {spec.help}".strip(),
        "when": [{"parameter": c.parameter, "values": list(c.values) or None, "least": _least(c)} for c in spec.when],
        "default_in": _in_inches(spec),
    }


def _in_inches(spec: Spec) -> Value:
    """The default where inches are worked in; a length in inches."""
    value = default_of(spec, "in")
    return round(cast(float, value) / MM_PER_IN, 6) if spec.kind == "length" else value


def _least(condition: Condition) -> int | None:
    """From which number on another parameter lets one apply; none where its words decide."""
    return None if condition.values else condition.least
