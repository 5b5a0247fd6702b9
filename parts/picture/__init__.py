"""What the finished piece will look like as it hangs: metal, light and shade, as pixels."""

from parts.picture.mask import Frame, coverage, frame
from parts.picture.scene import LOOKS, Pixels, scene

__all__ = ["LOOKS", "Frame", "Pixels", "coverage", "frame", "scene"]
