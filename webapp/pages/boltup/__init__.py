"""The page of two parts that shall be bolted together."""

from webapp.pages.boltup.page import bp

__all__ = ["bp"]
