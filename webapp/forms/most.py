"""How much may be sent to an address, and the sentence where more is."""

from flask import g, request

MOST_FIELDS = 8000
"""Fields of a form; werkzeug's own limit is below what 500 readings take."""


def allow(most: int, limit: str, in_memory: int | None = None) -> None:
    """Let the request at hand be so large, and remember what to say where it is larger.

    Args:
        most: bytes of the whole request.
        limit: what may be sent, such as `a drawing may have 20 MB`.
        in_memory: bytes of a form's fields, its files aside; as the whole unless said.
    """
    request.max_content_length = most
    request.max_form_memory_size = in_memory or most
    request.max_form_parts = MOST_FIELDS
    g.limit = limit


def too_large() -> str:
    """Return the sentence for a request that is larger than its address allows."""
    limit = g.get("limit")
    return f"That is too much: {limit}." if limit else "That is more than can be sent to this address."
