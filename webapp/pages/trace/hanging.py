"""The finished piece as it will hang, within the page: a picture of it, small enough to go with the answer."""

import base64

from parts import Traced
from parts.export import preview
from parts.tracing import Tracing

LOOKS = tuple(Tracing.specs()["picture"].choices)
"""How a piece is finished, and what is behind it."""


def hanging(traced: Traced) -> str:
    """Return the address, which holds the picture itself, of a piece as it will hang."""
    return "data:image/jpeg;base64," + base64.b64encode(preview(traced.part.record)).decode("ascii")
