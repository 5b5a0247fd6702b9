"""Strategies: values of a template's parameters, drawn from nothing but its declared limits.

values_for    any values within the limits, near the defaults more often than not; some are refused
accepted_for  values that are drawn: where all the changes together are refused, each is tried in turn and dropped
              where it is
parts_of      parts drawn from such values

The simplest example, which is tried first, changes nothing. `changed=True` leaves it out: for tests beside one of the
template as it comes, and whose few examples would else be fewer by one.

Letters cut through a part that has room are never drawn: tests/unit/test_lettered.py is of them.

To find what is accepted and to draw it costs far more than to look at it, so an everyday run finds SHARED examples of
each kind once, and all tests that ask for that kind are handed the same ones. A deep run draws each anew.
"""

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from hypothesis import assume, given, seed, settings
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy

import parts
from parts.part import outlined
from parts.spec.advice import trying
from parts.spec.parameter import Spec
from parts.spec.parameters import Parameters
from parts.spec.template import Template
from tests import library
from tests.depth import DEEP

SHARED = 4
"""Examples of values of one kind, in an everyday run."""

NEAR = (0.5, 2.0)
"""A near value lies between these multiples of the default."""

COMMON = ("material", "thickness", "process", "small_holes", "units", "dxf_version", "notes", "drill_circles")
"""Parameters of every part that may be drawn with `common=True`; the bed's size changes no file."""


def value_of(spec: Spec) -> SearchStrategy[Any]:
    """Values of one parameter as plain mm, degrees, words and truth values."""
    if spec.kind in ("length", "angle", "number"):
        return _number(spec) | _number(spec, near=True)
    if spec.kind == "count":
        low, high = int(spec.minimum), int(spec.maximum)
        near = st.integers(max(low, spec.default - 2), min(high, spec.default + 2))
        return near | st.integers(low, min(high, spec.default + 40))
    if spec.kind == "choice":
        return st.sampled_from(spec.choices)
    if spec.kind == "flag":
        return st.booleans()
    alphabet = (
        st.sampled_from(spec.characters) if spec.characters else st.characters(codec="ascii", categories=["L", "N"])
    )
    return st.text(alphabet, min_size=1, max_size=min(spec.longest, 12)).map(str.strip).filter(bool)


def _number(spec: Spec, near: bool = False) -> SearchStrategy[float]:
    low, high = float(spec.minimum), float(spec.maximum)
    if near and spec.default:
        ends = sorted(spec.default * multiple for multiple in NEAR)
        low, high = max(low, ends[0]), min(high, ends[1])
    whole = (
        st.integers(-int(-low // 1), int(high // 1)).map(float) if int(high // 1) >= -int(-low // 1) else st.nothing()
    )
    return st.floats(low, high, allow_subnormal=False) | whole


@st.composite
def values_for(
    draw: DrawFn, template: Template, *, common: bool = False, changed: bool = False, **fixed: Any
) -> dict[str, Any]:
    """Draw values of some of a template's parameters, all within their limits; `fixed` ones are as given.

    A parameter left out stands for its default. What doesn't go together is refused by `parts.draw`.
    """
    names = draw(st.lists(st.sampled_from(_names(template, common, fixed)), unique=True, max_size=8))
    assume(names or not changed)
    specs = template.parameters.specs()
    return {name: draw(value_of(specs[name])) for name in names} | fixed


def optional_of(template: Template) -> set[str]:
    """The parameters that a template has for whoever asks: letters, and other ways to make holes."""
    return {name for group in template.parameters.optional_groups() for name in group}


DEAR = {"sign-letters": 1, "sign-plate": 2, "outline-map": 2, "outline-symbol": 3}
"""How many examples are shared of templates that take seconds to draw."""


def quick(templates: Iterable[Template]) -> list[Template]:
    """Without the dear ones, which have tests of their own; in a deep run all."""
    return [each for each in templates if DEEP or each.slug not in DEAR]


@st.composite
def accepted_for(
    draw: DrawFn, template: Template, *, common: bool = False, changed: bool = False, **fixed: Any
) -> dict[str, Any]:
    """Draw values that `parts.draw` accepts: as `values_for`, without each change it refuses."""
    if DEEP:
        return draw(accepted_anew(template, common=common, changed=changed, **fixed))
    shared = DEAR.get(template.slug, SHARED)
    numbers = range(1, shared + 1) if changed else range(shared)
    return dict(_example(template.slug, draw(st.sampled_from(numbers)), common, tuple(sorted(fixed.items()))))


@st.composite
def accepted_anew(
    draw: DrawFn, template: Template, *, common: bool = False, changed: bool = False, **fixed: Any
) -> dict[str, Any]:
    """As `accepted_for`, and shared with no other test: for a search among many."""
    wanted = draw(values_for(template, common=common, changed=changed))
    if _is_drawn(template, wanted | fixed):
        return wanted | fixed
    return _accepted_singly(template, wanted, fixed)


@st.composite
def parts_of(
    draw: DrawFn, template: Template, *, common: bool = False, changed: bool = False, **fixed: Any
) -> parts.Part:
    """Draw parts of a template with values as of `accepted_for`, every hole cut as drawn unless they say otherwise."""
    values = draw(accepted_for(template, common=common, changed=changed, **{"small_holes": "cut"} | fixed))
    return parts.draw(template.slug, **values) if DEEP else _part(template.slug, tuple(values.items()))


@cache
def _part(slug: str, values: tuple[tuple[str, Any], ...]) -> parts.Part:
    if not values and slug in library.SLUGS:
        return library.part(slug)
    library.assert_no_own_numbers()
    return parts.draw(slug, **dict(values))


@cache
def _example(slug: str, number: int, common: bool, fixed: tuple[tuple[str, Any], ...]) -> dict[str, Any]:
    """The example of this number, found by hypothesis: the same whichever test asks first; 0 changes nothing."""
    library.assert_no_own_numbers()
    if number == 0:
        return dict(fixed)
    found: list[dict[str, Any]] = []

    @seed(number)
    @settings(max_examples=1, derandomize=False)
    @given(accepted_anew(parts.templates()[slug], common=common, changed=True, **dict(fixed)))
    def find(values: dict[str, Any]) -> None:
        found.append(values)

    find()
    return found[-1]


def _accepted_singly(template: Template, wanted: Mapping[str, Any], fixed: Mapping[str, Any]) -> dict[str, Any]:
    """The fixed values with each of the others that is drawn with those before it."""
    values = dict(fixed)
    for name, value in wanted.items():
        if name not in values and _is_drawn(template, {**values, name: value}):
            values[name] = value
    return values


def _is_drawn(template: Template, values: Mapping[str, Any]) -> bool:
    try:
        with trying():
            outlined(template.slug, **values)
    except parts.Refused:
        return False
    return True


def _names(template: Template, common: bool, fixed: Mapping[str, Any]) -> list[str]:
    every = {*Parameters.specs(), *optional_of(template)}
    own = [name for name in template.parameters.specs() if name not in every]
    return [name for name in [*own, *(COMMON if common else ())] if name not in fixed]
