"""The page of measurements: its form, and the errors of the table that they tell."""

from webapp.pages.true.form import of_file, sent
from webapp.pages.true.page import LARGEST, LIMIT, Says, bp, shown_page, solved

__all__ = ["LARGEST", "LIMIT", "Says", "bp", "of_file", "sent", "shown_page", "solved"]
