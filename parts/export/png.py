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


def write(record: Record) -> bytes:
    """Return the picture, with version, template, values and address in its text, as every file has them."""
    seen = frame(record.profile)
    edge = min(_EDGE_SHARE * record.job.cut.thickness_mm * seen.px_per_mm, _MOST_EDGE_PX)
    pixels = scene(coverage(record.profile, seen), record.picture, edge)
    about = PngInfo()
    about.add_text("Software", "Platewright")
    about.add_text("Title", record.template.title)
    about.add_text("Description", json.dumps({**facts(record), "parameters": parameter_texts(record)}))
    written = io.BytesIO()
    Image.fromarray(np.round(pixels).astype(np.uint8)).save(written, "PNG", pnginfo=about)
    return written.getvalue()
