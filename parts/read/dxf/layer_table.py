"""The tables of a DXF: what its layers and linetypes say of the lines on them.

hidden         off or frozen: the drawing doesn't show what is on the layer
broken line    a linetype of dashes or dots, as centre lines, hidden edges and phantom lines have
"""

import re
from dataclasses import dataclass, field

from parts.read.dxf.records import Rec
from parts.read.layers import FROZEN, OFF, OWN, drawn_aside, role

_BY_LAYER, _BY_BLOCK, _UNBROKEN = ("", "BYLAYER"), "BYBLOCK", "CONTINUOUS"
_DASHES = 73
_PLOTS = 290

# Names of linetypes in a file that has no table of them, as ISO 128-2 and drawing programs call them.
_BROKEN = re.compile(
    r"cent(?:re|er)|hidden|phantom|dash|dot|divide|border|acad_iso|iso ?dash|jis_0[289]|mitte|verdeckt|strich|punkt",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class LayerRow:
    """What a layer says of itself; `hidden` is why nothing on it is shown, `FROZEN` or `OFF`, or empty."""

    hidden: str = ""
    is_frozen: bool = False
    linetype: str = _UNBROKEN
    plots: bool = True


_PLAIN = LayerRow()


@dataclass(slots=True)
class LayerTable:
    """The rows of a drawing's tables, by their names in capitals."""

    _layers: dict[str, LayerRow] = field(default_factory=dict)
    _broken: dict[str, bool] = field(default_factory=dict)
    _names: dict[tuple[str, str, str], str] = field(default_factory=dict)

    def take_layer(self, rec: Rec) -> None:
        """Take a LAYER."""
        frozen, off = bool(rec.whole(70) & 1), rec.number(62, 7.0) < 0
        why = FROZEN if frozen else OFF if off else ""
        linetype = rec.text(6, _UNBROKEN)
        self._layers[rec.text(2).upper()] = LayerRow(why, frozen, linetype, bool(rec.whole(_PLOTS, 1)))

    def take_linetype(self, rec: Rec) -> None:
        """Take an LTYPE."""
        self._broken[rec.text(2).upper()] = rec.whole(_DASHES) > 0

    def row(self, layer: str) -> LayerRow:
        """Return what a layer says of itself."""
        return self._layers.get(layer.upper(), _PLAIN)

    def linetype(self, own: str, layer: str, of_insert: str) -> str:
        """Return the linetype of what states `own`, on a layer, in a block placed with a linetype of its own."""
        if own.upper() in _BY_LAYER:
            return self.row(layer).linetype
        return of_insert if own.upper() == _BY_BLOCK else own

    def name(self, layer: str, own: str, of_insert: str) -> str:
        """Return what the layer of a line is called: apart from the others on it where the line is no edge to cut.

        So it is with broken lines, and with all on a layer that isn't plotted; but not where the layer's name says
        already what its lines are for.
        """
        asked = layer, own, of_insert
        if asked not in self._names:
            self._names[asked] = self._named(*asked)
        return self._names[asked]

    def _named(self, layer: str, own: str, of_insert: str) -> str:
        if role(layer) != "cut" or layer.upper() in OWN:
            return layer
        linetype = self.linetype(own, layer, of_insert)
        if self._is_broken(linetype):
            return drawn_aside(layer, f"{linetype} lines")
        return layer if self.row(layer).plots else drawn_aside(layer, "not plotted")

    def _is_broken(self, linetype: str) -> bool:
        known = self._broken.get(linetype.upper())
        return bool(_BROKEN.search(linetype)) if known is None else known
