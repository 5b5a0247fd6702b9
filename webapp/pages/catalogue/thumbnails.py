"""The small drawings of the catalogue: each template draws its own, a family to one scale."""

from functools import cache

from markupsafe import Markup

import parts
from parts.errors import DeclarationError
from parts.export import thumbnail as drawn_small
from parts.profile import Profile
from parts.templates import as_it_comes
from webapp.pages.catalogue import kept

WIDTH_PX, HEIGHT_PX = 240, 160
"""The room for a picture."""

LEAST_PX = 96
"""A picture whose longer side would be under this is drawn that long instead, so that it can be recognised."""


@cache
def thumbnail(slug: str) -> Markup:
    """Return the small drawing of a template as it comes, drawn once; nothing of one that doesn't draw itself."""
    if slug in kept.read():
        return Markup(kept.read()[slug])  # noqa: S704 - as it was drawn below
    profile = _drawn(slug)
    if profile is None:
        return Markup()
    width, height = _size(profile)
    least = min(LEAST_PX / max(width, height), _fitting(width, height))
    scale = max(_scale(parts.templates()[slug].family), least)
    return Markup(drawn_small(profile, scale))  # noqa: S704 - no text in it


def keep_all() -> None:
    """Keep the small drawings of all templates for the next start."""
    kept.keep({slug: str(drawn) for slug in parts.templates() if (drawn := thumbnail(slug))})


@cache
def _scale(family: str) -> float:
    """Px to a mm at which the widest and the highest of a family fit the picture."""
    members = [_drawn(slug) for slug, template in parts.templates().items() if template.family == family]
    return min(_fitting(*_size(profile)) for profile in members if profile)


def _drawn(slug: str) -> Profile | None:
    """What a template draws as it comes; None where it can't, which its own page tells."""
    try:
        return as_it_comes(slug)
    except DeclarationError:
        return None


def _fitting(width: float, height: float) -> float:
    return min(WIDTH_PX / width, HEIGHT_PX / height)


def _size(profile: Profile) -> tuple[float, float]:
    x0, y0, x1, y1 = profile.box
    return x1 - x0, y1 - y0
