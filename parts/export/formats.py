"""The kinds of file a part can be written to: one row a format, its writer loaded when it is first used."""

import importlib
from collections.abc import Mapping
from dataclasses import dataclass, field

from parts.errors import Problem, Refused
from parts.record import Record


@dataclass(frozen=True, slots=True)
class Format:
    """A kind of file: its ending, its MIME type, and the module whose `write(record)` makes it.

    `compensable` is whether it shows what is cut, and so can be written of a part compensated for a table; the others
    show the part as it shall be. `of_drawings` is whether someone's own drawing, rich as it may be, is written to it.
    `others` are the modules that write what else it can show, by the word of `Record.shows`; `itself` is the word for
    what it shows unless asked.
    """

    ending: str
    mime_type: str
    module: str
    compensable: bool = False
    of_drawings: bool = True
    others: Mapping[str, str] = field(default_factory=dict)
    itself: str = ""

    def write(self, record: Record) -> str | bytes:
        """Return the file's text or bytes, never none.

        Raises:
            GeometryError: the format can't hold the part.
            Refused: its writer wrote nothing, or the format doesn't show what the record shall.
        """
        written: str | bytes = importlib.import_module(self._module_for(record.shows)).write(record)
        if not written:
            message = "has nothing to say of this part, so no file is made."
            raise Refused((Problem("format", self.ending, message),))
        return written

    def _module_for(self, shows: str) -> str:
        """The module that writes what is to be shown."""
        if shows in ("", self.itself):
            return self.module
        if shows not in self.others:
            others = [each.ending for each in _EVERY if shows in (each.itself, *each.others)]
            message = f"isn't what {self.ending.upper()} shows; take {' or '.join(others)}."
            raise Refused((Problem("shows", shows, message),))
        return self.others[shows]


_DXF = {"drawing": "parts.export.dxf_drawing"}
_SVG = {"drawing": "parts.export.svg_drawing"}
_PDF = {"pattern": "parts.export.pdf_pattern"}
_EVERY = (
    Format("dxf", "image/vnd.dxf", "parts.export.dxf", compensable=True, others=_DXF),
    Format("svg", "image/svg+xml", "parts.export.svg", compensable=True, others=_SVG),
    Format("pdf", "application/pdf", "parts.export.pdf", others=_PDF, itself="drawing"),
    Format("step", "model/step", "parts.export.step", of_drawings=False),  # of a rich drawing it would take minutes
    Format("glb", "model/gltf-binary", "parts.export.glb", of_drawings=False),
    Format("png", "image/png", "parts.export.png"),
    Format("json", "application/json", "parts.export.json_text", compensable=True),
)
FORMATS: Mapping[str, Format] = {each.ending: each for each in _EVERY}
"""By their endings, in the order in which they are offered."""
SOLID = ("step", "glb")
"""Those that show a part as a solid, a bent one folded."""
