r"""Symbol: a sign found by a word, as a piece of its own, in a frame, or cut through a plate.

       /\
      /  \
     / /\ \      a house: what is drawn filled is metal, or cut out of a plate
    |_|  |_|
The lower left of the whole is at the origin.
"""

from collections.abc import Iterator

from parts.artwork import Metal
from parts.artwork.symbols import called, named, symbol, symbol_names
from parts.cached import cached_property
from parts.errors import Problem
from parts.profile import Profile
from parts.spec import Preset, Template
from parts.spec import text as words_typed
from parts.templates.outline.shared import CAUTIONS, FIGURE, Figure, drawn, sketched

_LETTERS = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789- "


class OutlineSymbol(Figure):
    """A symbol of the set, as large as asked for."""

    leading = ("symbol", "made_as", "detail")

    symbol: str = words_typed(
        "Symbol", default="cat", characters=_LETTERS, longest=60, group=FIGURE,
        help="Its name, or a word: tree, horse, wrench, anchor.",
    )  # fmt: skip

    @cached_property
    def original(self) -> Metal:
        """The symbol, one wide."""
        return symbol(called(self.symbol)[0])

    def name_problems(self) -> Iterator[Problem]:
        """Yield that a word calls no symbol, or more than one."""
        names = called(self.symbol)
        if "-".join(self.symbol.casefold().split()) in symbol_names() or len(names) == 1:
            return
        if not names:
            yield self.problem("symbol", f"calls none of the {len(symbol_names())} symbols; try another word.")
            return
        said = f"calls more than one symbol; take one of {', '.join(names)}."
        yield self.problem("symbol", said, {"symbol": names[0]})


def outline(p: OutlineSymbol) -> Profile:
    """Draw the symbol."""
    return drawn(p, "symbol")


def sketch(p: OutlineSymbol) -> Profile | None:
    """Sketch the symbol."""
    return sketched(p, "symbol")


TEMPLATE = Template(
    "outline-symbol",
    "Symbol",
    OutlineSymbol,
    outline,
    summary="One of 1,400 signs by its name or a word: a piece to hang, framed, or cut through a plate, with a name.",
    cautions=CAUTIONS,
    words=("symbol", "icon", "pictogram", "sign", "tree", "animal", "wall art", "ornament", "silhouette"),
    sizes=("overall_width", "overall_height"),
    sketch=sketch,
    named=lambda words: {"symbol": name} if (name := named(words)) else {},
    presets=(
        Preset("Bird for the garden bench", "symbol=bird overall_width=200"),
        Preset("Tractor over the barn door", "symbol=tractor overall_width=600 detail=6 tie=10"),
        Preset("Wrench for the tool wall", "symbol=wrench overall_width=250 hang=eye"),
        Preset("Campfire plate for the trail", "symbol=campfire made_as=plate"),
        Preset("Bird in a ring", "symbol=bird made_as=framed shape=round holes=top overall_width=400"),
        Preset(
            "Workshop plate",
            "symbol=wrench made_as=plate text=WORKSHOP below=80 margin=45 border=6 overall_width=400 holes=corners",
            inches="below=3-1/4 margin=1-3/4 border=1/4",
        ),
    ),
)
