"""Who may see what is drawn by the shop's numbers, and change what it keeps: the page itself, under its own name.

A file is written on the strength of a form alone, so a form must come from this very page. Browsers say where a
request comes from, in `Sec-Fetch-Site` or `Origin`, and no page can forge either; that is why no secret in the form
is needed. A strange site can still have its own name lead to this machine, and then is the same site to a browser:
so the name in `Host` must be one of this machine's, whatever is asked for that tells of the shop. Names a site can't
hold are an address in numbers and localhost; others that this machine goes by, whoever serves the page says.
"""

import socket
from collections.abc import Mapping
from ipaddress import ip_address
from typing import Any
from urllib.parse import urlsplit

from flask import current_app, request
from werkzeug.exceptions import Forbidden

DEFAULTS = {"LISTENS_ON": "127.0.0.1", "SHARED_SHOP_EDITS": False, "NAMES": (), "PROXIED": False}
"""Settings of the application: the host it is served on, whether other machines may change the shop's file, by which
other names this machine is known, and whether a proxy asks in the name of others."""

NUMBERS, HISTORY, JOBS = "your numbers", "your tables' history", "your jobs"
"""What is guarded, as it is called on the page."""


def read_only(what: str) -> str:
    """Return why what is guarded can't be changed through the page."""
    act, of = ("Add to", "it") if what == HISTORY else ("Add to", "them") if what == JOBS else ("Change", "them")
    return (
        f"Here {what} can only be read, because the page is served to other machines too. {act} {of} on the machine "
        f"itself, or start it with platewright serve --shop-edits, which lets everyone who reaches the page "
        f"{act.lower()} {of}."
    )


class NotFromHere(Forbidden):
    """A request that isn't this page's own, or comes under a name that isn't this machine's."""


def check_host() -> None:
    """Refuse a request under a name that isn't this machine's.

    Raises:
        NotFromHere: it is asked for by another name.
    """
    name = _asked_for()
    if name not in _names() and not (is_shared() and _is_number(name)):
        raise NotFromHere(
            f"What is drawn by your numbers, your tables' history and your jobs can't be had under the name "
            f"{name[:80]!r}. Use localhost; or, where this machine goes by that name, serve the page with "
            f"--name {name[:80]}."
        )


def _asked_for() -> str:
    try:
        return (urlsplit(f"//{request.host}").hostname or "").rstrip(".")
    except ValueError:  # no name at all
        return ""


def check_sender(what: str) -> None:
    """Refuse a form that may not change what the shop keeps.

    Raises:
        NotFromHere: it wasn't sent by this page, or changes aren't allowed.
    """
    if not may_change():
        raise NotFromHere(read_only(what))
    fetched = request.headers.get("Sec-Fetch-Site")
    own = request.headers.get("Origin", "").lower() == f"{request.scheme}://{request.host}".lower()
    if not (fetched == "same-origin" if fetched else own):
        raise NotFromHere(f"This was sent from another page, not from the page of {what}; nothing was kept.")


def check_page() -> None:
    """Refuse what another site's page sends: it could have this browser keep what nobody here has chosen.

    Raises:
        NotFromHere: it was sent so.
    """
    if request.headers.get("Sec-Fetch-Site") == "cross-site":
        raise NotFromHere("This was sent from another site's page; nothing was kept.")


def may_change() -> bool:
    """Whether the page may change what the shop keeps: on this machine alone, or allowed by whoever serves it."""
    return not is_shared() or bool(current_app.config["SHARED_SHOP_EDITS"])


def is_shared() -> bool:
    """Whether other machines can reach the page."""
    return is_shared_by(current_app.config)


def is_shared_by(settings: Mapping[str, Any]) -> bool:
    """Whether other machines can reach the page, with these settings: by a proxy, or by where it listens."""
    host = str(settings["LISTENS_ON"]).lower()
    is_here = host == "localhost" or (_is_number(host) and ip_address(host).is_loopback)
    return bool(settings["PROXIED"]) or not is_here


def _names() -> set[str]:
    names = {"localhost", "127.0.0.1", "::1", str(current_app.config["LISTENS_ON"]).lower()}
    names |= {str(name).lower() for name in current_app.config["NAMES"]}
    if is_shared():
        here = socket.gethostname().lower()
        names |= {here, f"{here}.local"}
    return names


def _is_number(name: str) -> bool:
    try:
        ip_address(name)
    except ValueError:
        return False
    return True
