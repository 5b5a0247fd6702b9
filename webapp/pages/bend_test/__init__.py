"""The page of a test bend: its form, what the strips tell of the brake, and keeping it with the shop's numbers."""

from webapp.pages.bend_test.page import bp

__all__ = ["bp"]
