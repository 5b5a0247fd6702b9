"""The proxy that the page stands behind, where it is told of one."""

from ipaddress import ip_address

from parts.errors import Problem, Refused
from webapp.commands.serve.listening import ANY_PROXY


def proxy_of(text: str | None) -> str:
    """Return the address of the proxy that is believed, nothing where none is told of.

    Raises:
        Refused: it isn't one.
    """
    if text is None or text.strip().lower() == ANY_PROXY:
        return text.strip().lower() if text else ""
    try:
        return str(ip_address(text.strip()))
    except ValueError:
        message = f"isn't an address in numbers, such as 127.0.0.1; or say {ANY_PROXY}, where only the proxy can ask."
        raise Refused((Problem("proxy", text, message),)) from None
