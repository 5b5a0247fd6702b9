"""PNG: a picture of the finished piece as it will hang, to show to whoever orders it; nothing to cut by."""

import io
import json

import numpy as np
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from parts.export.about import facts, parameter_texts
from parts.picture import coverage, frame, scene
from parts.record import Record

_EDGE_SHARE = 0.35  # of the thickness: how wide an edge looks
_MOST_EDGE_PX = 5.0


_PREVIEW_PX = 900


def write(record: Record) -> bytes:
    """Return the picture, with version, template, values and address in its text, as every file has them."""
    about = PngInfo()
    about.add_text("Software", "Platewright")
    about.add_text("Title", record.template.title)
    about.add_text("Description", json.dumps({**facts(record), "parameters": parameter_texts(record)}))
    written = io.BytesIO()
    _image(record).save(written, "PNG", pnginfo=about)
    return written.getvalue()


def preview(record: Record) -> bytes:
    """Return the picture as a JPEG small enough to go with a page."""
    image = _image(record)
    image.thumbnail((_PREVIEW_PX, _PREVIEW_PX))
    made = io.BytesIO()
    image.save(made, "JPEG", quality=88)
    return made.getvalue()


def _image(record: Record) -> Image.Image:
    seen = frame(record.profile)
    edge = min(_EDGE_SHARE * record.job.cut.thickness_mm * seen.px_per_mm, _MOST_EDGE_PX)
    pixels = scene(coverage(record.profile, seen), record.picture, edge)
    return Image.fromarray(np.round(pixels).astype(np.uint8))
