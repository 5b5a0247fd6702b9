"""The library: one module a template, `family/variant.py`. The folders are the registry.

Adding a template is adding a file. The slug of `gusset/flange_brace.py` is `gusset-flange-brace`; a family's folder
`shared` holds what its templates share. A module that can't be used refuses itself alone.
"""

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from typing import Any

from parts.errors import DeclarationError, UnknownTemplate
from parts.profile import Profile
from parts.spec import Template, checked
from parts.templates.former import FORMER, current, former_of

__all__ = [
    "FAMILIES",
    "FORMER",
    "as_it_comes",
    "broken",
    "current",
    "family_title",
    "former_of",
    "modules",
    "template",
    "templates",
]

FAMILIES = {
    "gusset": "Gussets", "bracket": "Brackets", "plate": "Plates", "flange": "Flanges", "bumper": "Bumper set",
    "box": "Boxes", "square": "Squares", "gauge": "Gauges", "silhouette": "Silhouettes",
    "sign": "Signs", "outline": "Outlines", "developed": "Developed shapes",
}  # fmt: skip
"""The titles of the families, in the order of the catalogue; one that isn't here comes last, under its own name."""


@cache
def modules() -> Mapping[str, str]:
    """Return the module of every template by its slug, in order of the slugs, without loading any."""
    families = [folder.name for folder in pkgutil.iter_modules(__path__) if folder.ispkg and folder.name != "shared"]
    found = {
        f"{family}_{module.name}".replace("_", "-"): f"{__name__}.{family}.{module.name}"
        for family in families
        for module in pkgutil.iter_modules(importlib.import_module(f"{__name__}.{family}").__path__)
        if not module.ispkg
    }
    return dict(sorted(found.items()))


@cache
def template(slug: str) -> Template:
    """Return the template called `slug`; no other is loaded.

    Raises:
        UnknownTemplate: if there is none.
        DeclarationError: if its module can't be loaded, or declares it wrongly.
    """
    known = modules()
    if slug not in known:
        raise UnknownTemplate(slug, tuple(known))
    try:
        module = importlib.import_module(known[slug])
    except Exception as error:
        raise DeclarationError(slug, "module", _said(error)) from error
    return checked(slug, getattr(module, "TEMPLATE", None))


@cache
def templates() -> Mapping[str, Template]:
    """Return every template by its slug, by family, then in order of the slugs; loads them all.

    Those that can't be used are left out: `broken` tells of them.
    """
    usable = [template(slug) for slug in modules() if slug not in broken()]
    return {found.slug: found for found in sorted(usable, key=_place)}


@cache
def broken() -> Mapping[str, str]:
    """Return the templates that can't be used by their slugs, each with a sentence that says why; loads them all."""
    sentences = {}
    for slug in modules():
        try:
            template(slug)
        except DeclarationError as error:
            sentences[slug] = str(error)
    return sentences


@cache
def as_it_comes(slug: str) -> Profile:
    """Return what a template draws with its declared defaults, seated; the shop's own numbers don't apply.

    Raises:
        UnknownTemplate: if there is none.
        DeclarationError: if it can't be used, or doesn't draw its own defaults.
    """
    chosen = template(slug)
    defaults: dict[str, Any] = {name: spec.default for name, spec in chosen.parameters.specs().items()}
    try:
        return chosen.outline(chosen.parameters.model_construct(None, **defaults)).seated()
    except Exception as error:
        raise DeclarationError(slug, "outline", _said(error)) from error


def family_title(family: str) -> str:
    """Return what the catalogue calls a family."""
    return FAMILIES.get(family, family.capitalize())


def _place(template: Template) -> tuple[int, str, str]:
    known = tuple(FAMILIES)
    family = template.family
    return known.index(family) if family in known else len(known), family, template.slug


def _said(error: Exception) -> str:
    """What a module raised, in a line: `line 12: invalid syntax`."""
    if isinstance(error, DeclarationError):
        return f"{error.field} {error.message}"
    if isinstance(error, SyntaxError):
        return f"line {error.lineno}: {error.msg}"
    return f"{type(error).__name__}: {error}".splitlines()[0].rstrip(".")
