"""The library: one module a template. The folder is the registry; adding a template is adding a file."""

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache

from parts.errors import UnknownTemplate
from parts.template import Template


@cache
def templates() -> Mapping[str, Template]:
    """Return every template by its slug, in order of the slugs."""
    modules = sorted(module.name for module in pkgutil.iter_modules(__path__))
    found: list[Template] = [importlib.import_module(f"{__name__}.{name}").TEMPLATE for name in modules]
    return {template.slug: template for template in found}


def template(slug: str) -> Template:
    """Return the template called `slug`.

    Raises:
        UnknownTemplate: if there is none.
    """
    known = templates()
    if slug not in known:
        raise UnknownTemplate(slug, tuple(known))
    return known[slug]
