"""The page of a part: form, drawing, findings, presets, remedies."""

from webapp.pages.part import page, remedies

BLUEPRINTS = (page.bp, remedies.bp)

__all__ = ["BLUEPRINTS"]
