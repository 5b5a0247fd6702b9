"""Lines and arcs that run on into each other, fitted to metal within a tolerance."""

from parts.artwork.fitting.fit import fitted
from parts.artwork.fitting.records import Fit, Fitted
from parts.artwork.fitting.shares import Outline, Slowing, short_share, slow_share
from parts.artwork.fitting.spans import forget_fitted

__all__ = ["Fit", "Fitted", "Outline", "Slowing", "fitted", "forget_fitted", "short_share", "slow_share"]
