"""How much is tried: the same examples every time, or in a deep run many random ones.

A *deep run* is one with PLATEWRIGHT_DEEP=1, which `python3 start.py test --deep` sets; nothing else in the environment
changes what is tried. It says with each find what makes a fixed case of it: the example, to be kept by
`hypothesis.example` or as a row of a table, or the number of what is made from numbers.
"""

import os
import random
from collections.abc import Iterable
from typing import Any, TypeVar

from hypothesis import HealthCheck, Phase, settings
from hypothesis.internal.conjecture import providers

T = TypeVar("T")
ALWAYS: dict[str, Any] = {"database": None, "deadline": None, "suppress_health_check": list(HealthCheck)}
DEEP = bool(os.environ.get("PLATEWRIGHT_DEEP"))
asked = ""
"""The words of `pytest -k`, once they are read."""
SHARE, LEAST = 32, 3
"""An everyday run tries one in SHARE of a deep run's examples, and no fewer than LEAST, if there are so many."""


def several(everyday: int, deep: int) -> int:
    """How many are tried of what is counted out by hand."""
    return deep if DEEP else everyday


def every_other(each: Iterable[T], first: int = 0) -> list[T]:
    """Every other of these, from the first or second on; in a deep run all of them."""
    return one_in(2, each, first)


def one_in(so_many: int, each: Iterable[T], first: int = 0) -> list[T]:
    """One in so many of these, from the given place on; in a deep run all of them."""
    return list(each)[several(first, 0) :: several(so_many, 1)]


def some_of(about: int, each: Iterable[T], first: int = 0) -> list[T]:
    """About so many of these, evenly spread from the given place on; in a deep run all of them.

    What an everyday run costs doesn't grow with the library. What is asked for by name (`pytest -k SLUG`) is looked at
    always: templates, or slugs, or tuples that begin with one.
    """
    every = list(each)
    step = max(1, -(-len(every) // about))
    return [one for at, one in enumerate(every) if DEEP or at % step == first % step or _asked_for(one)]


def _asked_for(one: Any) -> bool:
    slug = one[0] if isinstance(one, tuple) else getattr(one, "slug", one)
    return isinstance(slug, str) and slug in asked.split()


def tried(deep: int, *, everyday: int | None = None, **others: Any) -> settings:
    """Settings of a property of which a deep run tries `deep` examples."""
    fewer = everyday or min(deep, max(LEAST, deep // SHARE))
    return settings(max_examples=several(fewer, deep), **others)


def first_number() -> int:
    """Where counting begins of what is made from numbers: 0, and anywhere in a deep run."""
    return random.SystemRandom().randrange(1_000_000) if DEEP else 0


def load_profile() -> None:
    """Make hypothesis draw the same examples whenever, wherever and in whatever order tests run; random ones if deep.

    No example is kept in a folder: those ever found stand in the tests. No check hangs on time, as the machine may be
    busy. Constants of the modules loaded so far are no examples, as that hangs on which tests ran before.
    """
    one_in_some = settings.default.max_examples // SHARE
    told = [Phase.explicit, Phase.reuse, Phase.generate]  # what is found is told as it is: a deep run makes it small
    settings.register_profile("everyday", derandomize=True, max_examples=one_in_some, phases=told, **ALWAYS)
    settings.register_profile("deep", derandomize=False, print_blob=True, **ALWAYS)
    settings.load_profile("deep" if DEEP else "everyday")
    if not DEEP:
        providers._get_local_constants = providers.Constants  # none; hypothesis has no setting for it
