"""The page of measurements: its form, and the errors of the table that they tell."""

from webapp.pages.true.form import sent
from webapp.pages.true.form_of import of_file
from webapp.pages.true.page import LARGEST, LIMIT, Says, bp, shown_page, solved

__all__ = ["LARGEST", "LIMIT", "Says", "bp", "of_file", "sent", "shown_page", "solved"]
