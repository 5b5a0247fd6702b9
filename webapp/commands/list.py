"""`platewright list`: the templates and their parameters, as text or JSON."""

import argparse
import json
from typing import Any

import parts
from parts.spec import Condition, Spec, default_of
from parts.templates import broken
from webapp.commands.console import tell


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.add_argument("--json", action="store_true", help="as JSON, lengths in mm")
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Print the templates, tell of those that can't be used, and return the exit status."""
    for sentence in broken().values():
        tell(sentence)
    if request.json:
        print(json.dumps([described(slug) for slug in parts.templates()], indent=2))
        return 0
    for template in parts.templates().values():
        print(f"{template.slug}: {template.title}. {template.summary}")
        for spec in template.parameters.specs().values():
            limits = f" ({spec.limits()})" if spec.limits() and not spec.is_bolt else ""
            print(f"    {spec.name:<16} {spec.label}: {spec.say(default_of(spec))}{limits}")
        print()
    return 0


def described(slug: str) -> dict[str, Any]:
    """Return a template as `list --json` describes it: lengths in mm, angles in degrees."""
    template = parts.templates()[slug]
    return {
        "slug": slug,
        "family": template.family,
        "title": template.title,
        "summary": template.summary,
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
    }


def _least(condition: Condition) -> int | None:
    """From which number on another parameter lets one apply; none where its words decide."""
    return None if condition.values else condition.least
