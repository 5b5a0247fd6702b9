"""Values of parameters by seed: the same for every checkout, so that two of them can be compared.

use          puts a checkout first, and its built-in numbers in place of a shop's own
within       values within the declared limits, near the defaults half of the time
refusable    sets of values of which most are refused: past a limit, unreadable, or at odds with each other
bad_parts    parts that are drawn, each with a `stop` or a `warn`

Limits are those that `list --json` prints; all else is asked of the public names of `parts`.
"""

import json
import os
import random
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

Values = dict[str, Any]
Limits = Mapping[str, Any]
"""One parameter as `list --json` has it: kind, default, minimum, maximum, choices."""

NEAR = (0.5, 2)
"""A near value lies between these multiples of the default."""
MOST_CHANGED = 8
BEYOND, AT_ODDS = 4, 8
"""Sets of values of a template that are past a limit or unreadable, and within all limits but hardly drawn."""
OF_EACH, MOST_TRIES = 3, 60
"""Bad parts of a template, and tries after which fewer will do."""
LEFT_ALONE = ("bed_x", "bed_y", "sheet_x", "sheet_y")
"""What the shop has; it changes no file."""
LETTERING = ("text", "font", "cap_height", "text_x", "text_y", "letter_tie", "bridges")
"""What cuts letters through a part that is no sign: a part by itself, measured apart."""
WORDS = ("A1", "LOT 7", "CUT-3/8", "m", "NINE 9")
UNREADABLE = ("", "wide", "12 furlongs", "-1", "1e9", "3//8", "nan")


def use(tree: Path) -> None:
    """Put a checkout first on the path, for child processes too, with nothing of a shop's own."""
    sys.path.insert(0, str(tree))
    os.environ["PYTHONPATH"] = str(tree)
    os.environ["PLATEWRIGHT_SHOP"] = os.devnull
    os.environ["PLATEWRIGHT_HISTORY"] = str(Path(tempfile.gettempdir()) / "platewright-no-history" / "none.sqlite")


@cache
def limits() -> Mapping[str, Mapping[str, Limits]]:
    """Every template's parameters by their names."""
    listed = subprocess.run([sys.executable, "-P", "-m", "webapp", "list", "--json"], capture_output=True, check=True)
    return {each["slug"]: {p["name"]: p for p in each["parameters"]} for each in json.loads(listed.stdout)}


def value(rng: random.Random, of: Limits) -> Any:
    """A value of one parameter within its limits."""
    low, high, default = of["minimum"], of["maximum"], of["default"]
    if of["kind"] == "choice":
        return rng.choice(of["choices"])
    if of["kind"] == "flag":
        return rng.random() < 0.5
    if of["kind"] == "text":
        return rng.choice(WORDS)
    if of["kind"] == "count":
        return rng.randint(max(low, default - 2), min(high, default + (2 if rng.random() < 0.7 else 40)))
    if default and rng.random() < 0.6:
        low, high = sorted(min(max(default * multiple, low), high) for multiple in NEAR)
    return round(rng.uniform(low, high), rng.choice((0, 1, 3))) if high - low > 2 else rng.uniform(low, high)


def within(rng: random.Random, slug: str) -> Values:
    """Values of some of a template's parameters."""
    known = {name: of for name, of in limits()[slug].items() if name not in left_alone(slug)}
    changed = rng.sample(list(known), rng.randint(1, min(MOST_CHANGED, len(known))))
    return {name: value(rng, known[name]) for name in changed}


def left_alone(slug: str) -> tuple[str, ...]:
    """Names that keep their defaults: what the shop has, and letters where a part is drawn without any."""
    is_sign = limits()[slug].get("text", {}).get("default")
    return LEFT_ALONE if is_sign else (*LEFT_ALONE, *LETTERING)


def refusable(slug: str) -> Iterator[Values]:
    """Sets of values of which most are refused."""
    rng = random.Random(f"{slug} refused")
    for _ in range(BEYOND):
        values = within(rng, slug)
        for name in rng.sample([name for name in limits()[slug] if name not in left_alone(slug)], 2):
            most = limits()[slug][name]["maximum"]
            values[name] = rng.choice((*UNREADABLE, *(() if most is None else (most * 2, most * 1.01))))
        yield values
    own = [name for name, of in limits()[slug].items() if of["kind"] in ("length", "count") and _is_own(slug, name)]
    for _ in range(AT_ODDS):
        yield {name: value(rng, limits()[slug][name]) for name in rng.sample(own, min(len(own), rng.randint(2, 6)))}


def _is_own(slug: str, name: str) -> bool:
    """Whether a parameter isn't one that every template has, nor left alone."""
    return name not in left_alone(slug) and not all(name in of for of in limits().values())


def bad_parts(slug: str) -> list[Any]:
    """Parts of a template with a `stop` or a `warn`, drawn from values within its limits."""
    rng, found = random.Random(f"{slug} bad"), []
    for _ in range(MOST_TRIES):
        part = accepted(slug, within(rng, slug))
        if any(finding.severity in ("stop", "warn") for finding in part.findings):
            found.append(part)
        if len(found) == OF_EACH:
            break
    return found


def accepted(slug: str, wanted: Values) -> Any:
    """The part of these values; where they are refused, without each that is."""
    import parts

    values: Values = {}
    try:
        return parts.draw(slug, **wanted)
    except parts.Refused:
        part = parts.draw(slug)
    for name, one in wanted.items():
        try:
            part = parts.draw(slug, **values, **{name: one})
        except parts.Refused:
            continue
        values[name] = one
    return part
