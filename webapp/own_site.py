"""Who may see and change the shop's own file through the page: this page itself, under a name it is known by.

A file is written on the strength of a form alone, so a form must come from this very page. Browsers say where a
request comes from, in `Sec-Fetch-Site` or `Origin`, and no page can forge either; that is why no secret in the form
is needed. A strange site can still have its own name lead to this machine, and then is the same site to a browser:
so the name in `Host` must be one of this machine's. Names a site can't hold are an address in numbers and localhost.
"""

import socket
from ipaddress import ip_address
from urllib.parse import urlsplit

from flask import current_app, request
from werkzeug.exceptions import Forbidden

DEFAULTS = {"LISTENS_ON": "127.0.0.1", "SHARED_SHOP_EDITS": False}
"""Settings of the application: the host it is served on, and whether other machines may change the shop's file."""

READ_ONLY = (
    "These numbers can only be read here, because the page is served to other machines too. Change them on the machine "
    "itself, or start it with platewright serve --shop-edits, which lets everyone who reaches the page change them."
)


class NotFromHere(Forbidden):
    """A request that isn't this page's own, or comes under a name that isn't this machine's."""


def check_host() -> None:
    """Refuse a request under a name that isn't this machine's.

    Raises:
        NotFromHere: it is asked for by another name.
    """
    name = (urlsplit(f"//{request.host}").hostname or "").rstrip(".")
    if name not in _names() and not (is_shared() and _is_number(name)):
        raise NotFromHere(f"The shop's own numbers aren't shown under the name {name[:80]}; use localhost.")


def check_sender() -> None:
    """Refuse a form that may not change the shop's file.

    Raises:
        NotFromHere: it wasn't sent by this page, or changes aren't allowed.
    """
    if not may_change():
        raise NotFromHere(READ_ONLY)
    fetched = request.headers.get("Sec-Fetch-Site")
    own = request.headers.get("Origin", "").lower() == f"{request.scheme}://{request.host}".lower()
    if not (fetched == "same-origin" if fetched else own):
        raise NotFromHere("This was sent from another page, not from the page of your numbers; nothing was saved.")


def may_change() -> bool:
    """Whether the page may change the shop's file: on this machine alone, or allowed by whoever serves it."""
    return not is_shared() or bool(current_app.config["SHARED_SHOP_EDITS"])


def is_shared() -> bool:
    """Whether other machines can reach the page."""
    host = str(current_app.config["LISTENS_ON"]).lower()
    return host != "localhost" and not (_is_number(host) and ip_address(host).is_loopback)


def _names() -> set[str]:
    names = {"localhost", "127.0.0.1", "::1", str(current_app.config["LISTENS_ON"]).lower()}
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
