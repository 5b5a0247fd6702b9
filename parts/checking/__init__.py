"""Someone's own drawing as a part, and the rules over it in bounded time and memory."""

from parts.checking.checked import FORMATS, UNITS, Checked, check, template
from parts.checking.chosen import LAYER, OUTLINE

__all__ = ["FORMATS", "LAYER", "OUTLINE", "UNITS", "Checked", "check", "template"]
