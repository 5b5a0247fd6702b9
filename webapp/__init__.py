"""The web page: asks `parts` and shows the answer; no limit, unit or geometry of its own."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from flask import Flask


def create_app(config: Mapping[str, Any] | None = None) -> "Flask":
    """Return the application, ready to be served; `config` is flask's own settings."""
    from parts import shop  # noqa: PLC0415 - the command line lives here too and needs no flask

    with shop.held_or_built_in():  # what is wrong with the shop's own file is said on every page
        from webapp.app import make_app  # noqa: PLC0415

        return make_app(config or {})
