"""The pages, one module or folder each, with what that page alone shows."""

from webapp.pages import catalogue, check, history, numbers, part, shop, true

BLUEPRINTS = (catalogue.bp, *part.BLUEPRINTS, check.bp, shop.bp, numbers.bp, true.bp, history.bp)

__all__ = ["BLUEPRINTS"]
