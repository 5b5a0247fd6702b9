"""Templates as they come, and with their presets: drawn once a run, and shared by all tests that only look at them.

Parts, layouts and files never change, so that a test can't spoil another's. A test of drawing itself, of two drawings
being alike, or with a shop's own numbers draws for itself.
"""

import os
from functools import cache
from pathlib import Path

import parts
from parts.drawing import Drawing, lay_out, lay_out_to_standard
from parts.shop import numbers as shop
from parts.spec.template import Preset

SLUGS = tuple(parts.templates())
WIDTH, HEIGHT = 100.0, 110.0
"""The room that `layout` has."""


def preset_of(slug: str, name: str) -> Preset:
    """The preset of this name."""
    return next(preset for preset in parts.templates()[slug].presets if preset.name == name)


def part(slug: str, preset: str = "", **stated: str | bool) -> parts.Part:
    """A template as it comes or one of its presets; `stated` are choices such as units and dxf_version."""
    assert_no_own_numbers()
    return _part(slug, preset, tuple(sorted(stated.items())))


@cache
def _part(slug: str, preset: str, stated: tuple[tuple[str, str | bool], ...]) -> parts.Part:
    if not preset:
        return parts.draw(slug, **dict(stated))
    values = part(slug, preset).record.parameters if stated else preset_of(slug, preset).values
    return parts.draw(slug, **{**values, **dict(stated)})


@cache
def layout(slug: str) -> Drawing:
    """The drawing of a template as it comes, WIDTH by HEIGHT."""
    return lay_out(part(slug).record, WIDTH, HEIGHT)


@cache
def sheet_layout(slug: str) -> Drawing:
    """The drawing of a template as it comes at a standard scale, on a sheet of paper."""
    return lay_out_to_standard(part(slug).record, 179, 151, 3.5)


@cache
def written(slug: str, kind: str) -> bytes:
    """A template as it comes as one of `parts.export.FORMATS`."""
    return part(slug).file(kind)


def assert_no_own_numbers() -> None:
    """Fail where a shop's own numbers would get into what others are handed."""
    assert Path(os.environ[shop.VARIABLE]).stat().st_size == 0, "drawn with a shop's own numbers"
