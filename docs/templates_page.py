"""The pages of the templates, made from their own declarations: an index, and for each a page with its drawing."""

from collections.abc import Iterator, Mapping
from itertools import groupby

import parts
from parts.export import page_drawing
from parts.spec import Parameters, Spec, Template, where
from parts.templates import family_title, templates

MADE = "Made from the code by `docs/build.py`. Lengths are in mm and inches, angles in degrees."


def files() -> dict[str, str]:
    """Return the index, each template's page and its drawing, by their paths within `docs`."""
    made = {"templates.md": index()}
    for template in templates().values():
        made[f"templates/{template.slug}.md"] = page(template)
        made[f"templates/{template.slug}.svg"] = page_drawing(parts.draw(template.slug).record) + "\n"
    return made


def index() -> str:
    """Return the text of `templates.md`: every template by family, and the parameters that go with each."""
    families = [
        (family_title(f), list(members)) for f, members in groupby(templates().values(), key=lambda t: t.family)
    ]
    lines = ["# The templates", "", MADE, ""]
    lines += [" · ".join(f"[{title}](#{_anchor(title)}) ({len(members)})" for title, members in families)]
    for title, members in families:
        lines += ["", f"## {title}", "", "| template | draws | presets |", "| --- | --- | --- |"]
        lines += [
            f"| [{t.title}](templates/{t.slug}.md)<br>`{t.slug}` | {t.summary} | {len(t.presets)} |" for t in members
        ]
    lines += ["", "## Every template", "", "These parameters go with each of them.", ""]
    return "\n".join([*lines, *_table(Parameters.specs(), {})]) + "\n"


def _anchor(title: str) -> str:
    """The anchor that a reader of Markdown gives a heading."""
    return title.lower().replace(" ", "-")


def page(template: Template) -> str:
    """Return the page of one template."""
    common = Parameters.specs()
    own = {name: spec for name, spec in template.parameters.specs().items() if name not in common}
    lines = [
        f"# {template.title}: `{template.slug}`", "", template.summary, "", MADE, "",
        f"![{template.title}, as it comes]({template.slug}.svg)", "", "```text", template.drawing.rstrip(), "```", "",
        *_table(own, template.letters), "", "Every part has [these](../templates.md#every-template) besides.", "",
        "## Presets", "", "Invented, for the Fernhollow community workshop.", "",
        *(f"- {preset.name}: `{f'draw {template.slug} {preset.words}'.strip()}`" for preset in template.presets),
        "", "## Before you cut or use it", "", *(f"- {caution}" for caution in template.cautions),
    ]  # fmt: skip
    return "\n".join(lines).rstrip() + "\n"


def _table(specs: Mapping[str, Spec], letters: Mapping[str, str]) -> Iterator[str]:
    yield "| letter | parameter | what | default | accepted |"
    yield "| --- | --- | --- | --- | --- |"
    for name, spec in specs.items():
        what, default = _what(spec, specs), _defaults(spec)
        yield f"| {letters.get(name, '')} | `{name}` | {what} | {default} | {_limits(spec)} |"


def _what(spec: Spec, specs: Mapping[str, Spec]) -> str:
    applies = f"Where {where(spec, specs)}." if spec.when else ""
    return " ".join(words for words in (f"{spec.label}.", spec.help, applies) if words)


def _defaults(spec: Spec) -> str:
    """The default, and beside it that of who works in inches, where it is another."""
    said, inches = spec.say(spec.default), spec.say(spec.default_in("in"), "in")
    return f"{said} ({inches})" if spec.kind == "length" or inches != spec.say(spec.default, "in") else said


def _limits(spec: Spec) -> str:
    if spec.kind == "length":
        return f"{spec.limits()} ({spec.limits('in')})"
    return spec.limits() or {"flag": "on, off", "text": f"up to {spec.longest} characters"}.get(spec.kind, "")
