"""Someone's own drawing as a part, and the rules over it in bounded time and memory."""

from parts.checking.checked import FORMATS, UNITS, Checked, check, template
from parts.checking.picture import picture

__all__ = ["FORMATS", "UNITS", "Checked", "check", "picture", "template"]
