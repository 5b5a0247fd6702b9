"""The catalogue: every template with a drawing of itself, and a search."""

from webapp.pages.catalogue.page import bp

__all__ = ["bp"]
