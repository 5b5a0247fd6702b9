"""Someone's picture, or drawn shapes, as a part: told from its ground, mounted, held together, smoothed, checked."""

from parts.tracing.settings import MOUNTS, Tracing
from parts.tracing.source import ENDINGS, LARGEST_BYTES, picture_of
from parts.tracing.traced import FORMATS, OF_PICTURES, Traced, template, trace

__all__ = [
    "ENDINGS",
    "FORMATS",
    "LARGEST_BYTES",
    "MOUNTS",
    "OF_PICTURES",
    "Traced",
    "Tracing",
    "picture_of",
    "template",
    "trace",
]
