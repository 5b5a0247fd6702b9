"""Templates of earlier versions that are a choice of another now: an address, a table or a file that names one goes on.

Each former slug has the template that it is of now and the values that make it the part it was; what the former one
was given goes over them unchanged.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple


class Now(NamedTuple):
    """What a former template is now."""

    slug: str
    values: Mapping[str, str]

    @property
    def said(self) -> str:
        """As on the command line: `plate-cap section=round`."""
        return " ".join((self.slug, *(f"{name}={value}" for name, value in self.values.items())))


FORMER: Mapping[str, Now] = {
    "plate-cap-round": Now("plate-cap", {"section": "round"}),
    "plate-cap-square": Now("plate-cap", {"section": "square"}),
}


def current(slug: str, values: Mapping[str, Any]) -> tuple[str, dict[str, Any]]:
    """Return the slug and the values that draw what was asked for: as they are, unless the slug is a former one."""
    now = FORMER.get(slug)
    return (now.slug, {**now.values, **values}) if now else (slug, {**values})


def former_of(slug: str) -> tuple[str, ...]:
    """Return the former slugs of a template."""
    return tuple(former for former, now in FORMER.items() if now.slug == slug)
