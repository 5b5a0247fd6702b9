"""The pages of the shop's own numbers: their fields and their charts."""

from webapp.pages.shop.page import bp

__all__ = ["bp"]
