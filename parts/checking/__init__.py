"""Someone's own drawing as a part, and the rules over it in bounded time and memory."""

from parts.checking.checked import FORMATS, UNITS, Checked, check, template
from parts.checking.chosen import LAYER, OUTLINE
from parts.checking.tolerance import TOLERANCE

__all__ = ["FORMATS", "LAYER", "OUTLINE", "TOLERANCE", "UNITS", "Checked", "check", "template"]
