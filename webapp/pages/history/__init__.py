"""The history of each table: its entries, plotted over time."""

from webapp.pages.history.page import bp

__all__ = ["bp"]
