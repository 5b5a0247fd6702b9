"""Sturdy: bridges too narrow widened, points blunted, gaps that no jet gets through opened or closed."""

from parts.artwork.sturdy.mend import sturdy
from parts.artwork.sturdy.records import Change, Kind, Mended, Sturdy

__all__ = ["Change", "Kind", "Mended", "Sturdy", "sturdy"]
