"""The library: one module a template, `family/variant.py`. The folders are the registry.

Adding a template is adding a file. The slug of `gusset/square_tube.py` is `gusset-square-tube`; a family's folder
`shared` holds what its templates share.
"""

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from typing import Any

from parts.errors import UnknownTemplate
from parts.profile import Profile
from parts.spec import Template

FAMILIES = {
    "gusset": "Gussets", "bracket": "Brackets", "plate": "Plates", "flange": "Flanges", "bumper": "Bumper set",
    "box": "Boxes", "square": "Squares", "gauge": "Gauges", "silhouette": "Silhouettes",
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
def templates() -> Mapping[str, Template]:
    """Return every template by its slug, by family, then in order of the slugs; loads them all."""
    return {found.slug: found for found in sorted(map(template, modules()), key=_place)}


@cache
def as_it_comes(slug: str) -> Profile:
    """Return what a template draws with its declared defaults, seated; the shop's own numbers have no say in it.

    Raises:
        UnknownTemplate: if there is none.
    """
    chosen = template(slug)
    defaults: dict[str, Any] = {name: spec.default for name, spec in chosen.parameters.specs().items()}
    return chosen.outline(chosen.parameters.model_construct(None, **defaults)).seated()


def family_title(family: str) -> str:
    """Return what the catalogue calls a family."""
    return FAMILIES.get(family, family.capitalize())


def _place(template: Template) -> tuple[int, str, str]:
    known = tuple(FAMILIES)
    family = template.family
    return known.index(family) if family in known else len(known), family, template.slug


def template(slug: str) -> Template:
    """Return the template called `slug`; no other is loaded.

    Raises:
        UnknownTemplate: if there is none.
    """
    known = modules()
    if slug not in known:
        raise UnknownTemplate(slug, tuple(known))
    found: Template = importlib.import_module(known[slug]).TEMPLATE
    return found
