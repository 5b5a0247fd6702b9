"""Colours of a DXF: of an entity or a layer, as `#rrggbb`.

index    1 to 255, by the published DXF reference: nine that have names, then 24 hues of ten shades, then six greys
true     24 bits, red first (group 420)
"""

from collections.abc import Mapping

from parts.read.dxf.records import Rec

_INDEX, _TRUE = 62, 420
_BY_LAYER = 256
OF_BLOCK = "of the block"
"""A colour left to what places the block that the entity is in; drawn by itself it has that of its layer."""
# 7 is black on a light sheet, white on a dark one.
_NAMED: Mapping[int, str] = {
    1: "#ff0000", 2: "#ffff00", 3: "#00ff00", 4: "#00ffff", 5: "#0000ff", 6: "#ff00ff", 7: "#000000", 8: "#808080",
    9: "#c0c0c0", 250: "#333333", 251: "#505050", 252: "#696969", 253: "#828282", 254: "#bebebe", 255: "#ffffff",
}  # fmt: skip
_LIGHT = (255, 165, 127, 76, 38)
"""How light the full shades of each hue are; every second one is half as strong."""


def colour(rec: Rec) -> str:
    """Return the colour that an entity or a layer states of itself, nothing where it states none.

    It is `OF_BLOCK` where it is said to be that of the insert that places it.
    """
    true = rec.whole(_TRUE, -1)
    if 0 <= true <= 0xFFFFFF:
        return f"#{true:06x}"
    index = abs(rec.whole(_INDEX, _BY_LAYER))
    return of_index(index) if index else OF_BLOCK


def of_index(index: int) -> str:
    """Return the colour of an index, nothing for 0 and 256, which are those of block and layer."""
    if index in _NAMED:
        return _NAMED[index]
    if not 10 <= index < 250:
        return ""
    hue, shade = divmod(index - 10, 10)
    light = _LIGHT[shade // 2]
    third, along = divmod(hue, 8)  # a third of the circle from one pure colour to the next
    rising, falling = min(along / 4, 1.0), min((8 - along) / 4, 1.0)
    channels = [0.0, 0.0, 0.0]
    channels[third], channels[(third + 1) % 3] = falling, rising
    if shade % 2:
        channels = [0.5 + each / 2 for each in channels]
    return "#" + "".join(f"{int(light * each):02x}" for each in channels)
