"""The page that traces a picture or drawn shapes of someone's own."""

from webapp.pages.trace.page import bp

__all__ = ["bp"]
