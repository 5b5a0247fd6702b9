"""A view that is answered by a worker, where there are any: the request goes there whole, and its answer comes back."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import wraps
from typing import Any, TypeAlias

from flask import Response, current_app, g, request
from flask.typing import ResponseReturnValue

from parts.errors import Overrun
from parts.workers import Borrowed, Pool

CHECKS, SOLIDS, DRAWINGS = "checks", "solids", "drawings"
KINDS = (CHECKS, DRAWINGS, SOLIDS)
"""The kinds of workers."""
POOLS = "POOLS"
"""The setting of the application with its workers by kind; without it, it answers everything by itself."""
_SETTINGS = ("LISTENS_ON", "SHARED_SHOP_EDITS", "NAMES", "PROXIED")

View: TypeAlias = Callable[..., ResponseReturnValue]


@dataclass(frozen=True, slots=True)
class Asked:
    """A request as a worker is given it: the application's settings, the plain text of the request, its body."""

    settings: Mapping[str, Any]
    environ: Mapping[str, str]
    body: bytes


@dataclass(frozen=True, slots=True)
class Answered:
    """What a worker answers."""

    status: str
    headers: tuple[tuple[str, str], ...]
    body: bytes


def apart(kind: str, *, most: int, when: Callable[..., bool] = lambda **_: True) -> Callable[[View], View]:
    """Return what has a view answered by a worker of a kind.

    Where a worker had to be ended over it, the view is asked here after all, to say so: `has_overrun` tells it.

    Args:
        kind: of the workers.
        most: bytes that the request may have; the view itself refuses a larger one.
        when: whether it is to be, by the arguments of the view.
    """

    def answered_apart(view: View) -> View:
        @wraps(view)
        def answered(**values: object) -> ResponseReturnValue:
            pool: Pool | Borrowed | None = current_app.config.get(POOLS, {}).get(kind)
            if pool is None or (request.content_length or 0) > most or not when(**values):
                return view(**values)
            try:
                with pool.turn() as worker:
                    made: Answered = worker.do(asked_now())
            except Overrun:
                g.has_overrun = True
                return view(**values)
            return Response(made.body, made.status, list(made.headers))

        return answered

    return answered_apart


def has_overrun() -> bool:
    """Tell whether a worker had to be ended over this request: what took so long must not be done here."""
    return bool(g.get("has_overrun"))


def asked_now() -> Asked:
    """Return the request at hand."""
    environ = {name: value for name, value in request.environ.items() if isinstance(value, str)}
    settings = {name: current_app.config[name] for name in _SETTINGS}
    return Asked(settings, environ, request.get_data())
