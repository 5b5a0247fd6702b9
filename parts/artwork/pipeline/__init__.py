"""The whole way from metal to a profile's loops: islands held, thin places mended, lines and arcs fitted."""

from parts.artwork.fitting import Fit
from parts.artwork.holding import Bridge, Ties
from parts.artwork.pipeline.laid import laid_over
from parts.artwork.pipeline.small import without_small
from parts.artwork.pipeline.working import Made, Steps, forget, made
from parts.artwork.sturdy import Sturdy

__all__ = ["Bridge", "Fit", "Made", "Steps", "Sturdy", "Ties", "forget", "laid_over", "made", "without_small"]
