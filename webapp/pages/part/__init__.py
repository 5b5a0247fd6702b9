"""The page of a part: form, drawing, findings, presets, remedies."""

from webapp.pages.part import page, remedies, view

BLUEPRINTS = (page.bp, remedies.bp, view.bp)

__all__ = ["BLUEPRINTS"]
