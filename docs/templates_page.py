"""The page of the templates, made from their own declarations."""

from collections.abc import Iterator

from parts.parameter import Spec
from parts.template import Parameters, Template
from parts.templates import templates


def page() -> str:
    """Return the whole of `templates.md`."""
    lines = [
        "# The templates",
        "",
        "Made from the code by `docs/build.py`. Lengths are in mm and inches, angles in degrees.",
        "",
        *(f"- [{t.title}](#{t.slug}): `{t.slug}`. {t.summary}" for t in templates().values()),
        "",
    ]
    for template in templates().values():
        lines += [*_section(template), ""]
    lines += ["## Every template", "", "These go with each of them.", "", *_table(Parameters.specs(), {}), ""]
    return "\n".join(lines).rstrip() + "\n"


def _section(template: Template) -> Iterator[str]:
    common = Parameters.specs()
    own = {name: spec for name, spec in template.parameters.specs().items() if name not in common}
    yield from (
        f'<a id="{template.slug}"></a>',
        "",
        f"## {template.title}: `{template.slug}`",
        "",
        template.summary,
        "",
    )
    yield from ("```text", (template.drawing).rstrip(), "```", "")
    yield from _table(own, template.letters)
    yield from ("", *(f"> {caution}" for caution in template.cautions))


def _table(specs: dict[str, Spec], letters: dict[str, str]) -> Iterator[str]:
    yield "| letter | parameter | what | default | accepted |"
    yield "| --- | --- | --- | --- | --- |"
    for name, spec in specs.items():
        yield f"| {letters.get(name, '')} | `{name}` | {_what(spec)} | {_said(spec, spec.default)} | {_limits(spec)} |"


def _what(spec: Spec) -> str:
    return f"{spec.label}. {spec.help}".rstrip()


def _said(spec: Spec, value: object) -> str:
    return f"{spec.say(value)} ({spec.say(value, 'in')})" if spec.kind == "length" else spec.say(value)


def _limits(spec: Spec) -> str:
    if spec.kind == "length":
        return f"{spec.limits()} ({spec.limits('in')})"
    return spec.limits() or {"flag": "on, off", "text": f"up to {spec.longest} characters"}.get(spec.kind, "")
