"""Templates of earlier versions that are a choice of another now: an address, a table or a file that names one goes on.

Each former slug has the template that it is of now and the values that make it the part it was; what the former one
was given goes over them unchanged.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

from parts.spec import Parameters, reading_of


class Now(NamedTuple):
    """What a former template is now; `inches` are values that it had other than these where inches are worked in."""

    slug: str
    values: Mapping[str, str]
    inches: Mapping[str, str] = {}

    def ahead(self, asked: Mapping[str, Any]) -> Mapping[str, str]:
        """Return the values that make it the part it was, to stand before those asked for: none of these again."""
        in_inches = self.inches and reading_of(Parameters.specs(), asked).units == "in"
        values = {**self.values, **self.inches} if in_inches else self.values
        return {name: value for name, value in values.items() if name not in asked}

    @property
    def said(self) -> str:
        """As on the command line: `plate-cap section=round`."""
        return " ".join((self.slug, *(f"{name}={value}" for name, value in self.values.items())))


FORMER: Mapping[str, Now] = {
    "gusset-round-tube": Now("gusset-saddle", {"section": "round"}),
    "gusset-square-tube": Now(
        "gusset-saddle",
        {"section": "square", "tube": "50mm", "foot": "120mm", "lip": "15mm"},
        {"tube": "2in", "foot": "4-1/2in", "lip": "5/8in"},
    ),
    "plate-cap-round": Now("plate-cap", {"section": "round"}),
    "plate-cap-square": Now("plate-cap", {"section": "square"}),
}


def current(slug: str, values: Mapping[str, Any]) -> tuple[str, dict[str, Any]]:
    """Return the slug and the values that draw what was asked for: as they are, unless the slug is a former one."""
    now = FORMER.get(slug)
    return (now.slug, {**now.ahead(values), **values}) if now else (slug, {**values})


def former_of(slug: str) -> tuple[str, ...]:
    """Return the former slugs of a template."""
    return tuple(former for former, now in FORMER.items() if now.slug == slug)
