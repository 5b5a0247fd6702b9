"""The finished piece as it will hang, within the page: a picture of it, small enough to go with the answer."""

import base64
import io

from PIL import Image

from parts import Traced
from parts.tracing import Tracing

LOOKS = tuple(Tracing.specs()["picture"].choices)
"""How a piece is finished, and what is behind it."""
_LONGEST_PX = 900


def hanging(traced: Traced) -> str:
    """Return the address, which holds the picture itself, of a piece as it will hang."""
    image = Image.open(io.BytesIO(traced.file("png")))
    image.thumbnail((_LONGEST_PX, _LONGEST_PX))
    made = io.BytesIO()
    image.convert("RGB").save(made, "JPEG", quality=88)
    return "data:image/jpeg;base64," + base64.b64encode(made.getvalue()).decode("ascii")
