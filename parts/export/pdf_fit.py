"""How the text of a drawing is brought onto its sheet: below the drawing too, short lines in pairs, then smaller.

Each way is taken only where those before it want a second sheet. Lengths are mm.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from parts.export.pdf_ink import width_of
from parts.export.pdf_sheet import Columns, PaperSheet, TextRow, flow
from parts.geometry import Box

SMALLER, CLOSER = 0.9, 1.28
"""The size of smaller lettering, of the usual one, and from line to line then, in sizes."""
INDENT = 7.0
"""Where those lines begin that may stand in pairs."""
_SIZES = (1.0, SMALLER)
_LETTERINGS = ((1.0, False), (1.0, True), (SMALLER, True))
"""How large lines are, of their usual size, and whether short ones stand in pairs."""


@dataclass(frozen=True)
class SheetText:
    """The text of a drawing as lines of a column: lengths, what else the part is, bends, findings and cautions.

    Where findings come first, so do bends: whoever is at the brake has them beside the section.
    """

    sizes: Sequence[TextRow]
    others: Sequence[TextRow]
    bends: Sequence[TextRow]
    findings: Sequence[TextRow]
    cautions: Sequence[TextRow]

    def rows(self, width: float, *, pairs: bool, warnings_first: bool, whole: bool = False) -> list[TextRow]:
        """Return all of it in one column.

        `pairs` is whether short lines stand two in one, `whole` whether the dimensions go on in no other column.
        """
        others = list(_paired(self.others, width)) if pairs else self.others
        space, table = TextRow((), 1.0), [*self.sizes, *others]
        if whole:
            table = [*(replace(row, keep=True) for row in table[:-1]), *table[-1:]]
        if warnings_first:
            return [*self.findings, *self.bends, *self.cautions, space, *table]
        return [*table, *self.bends, space, *self.findings, *self.cautions]


@dataclass(frozen=True)
class Paged:
    """The columns of each sheet with their lines; `raised` is whether the drawing makes room for text below it."""

    sheets: Sequence[Columns]
    raised: bool


def fitted(text_of: Callable[[float], SheetText], sheet: PaperSheet, drawn: float) -> Paged:
    """Return the text beside and below a drawing so high; where one sheet can't hold all, warnings come first.

    Then the table of dimensions stays whole, if that takes no more sheets.

    Args:
        text_of: the text for a column of a width.
        sheet: the paper.
        drawn: the height of the drawing.
    """
    beside, below = sheet.beside(drawn), sheet.below(drawn)
    texts = {share: text_of(sheet.column / share) for share in _SIZES}
    found: list[tuple[Columns, ...]] = []
    for warnings_first, whole in ((False, False), (True, True), (True, False)):
        if whole:
            found.clear()  # where warnings come first, those whose table is whole are the first
        for share, pairs in _LETTERINGS:
            rows = texts[share].rows(sheet.column / share, pairs=pairs, warnings_first=warnings_first, whole=whole)
            lines = [_smaller(row, share) for row in rows]
            for columns in dict.fromkeys((beside, (*beside, *below))):
                sheets = tuple(flow(lines, columns, sheet.columns))
                if len(sheets) == 1:
                    return Paged(sheets, _is_raised(sheets, below))
                found.append(sheets)
    fewest = min(found, key=len)
    return Paged(fewest, _is_raised(fewest, below))


def _is_raised(sheets: Sequence[Columns], below: Sequence[Box]) -> bool:
    return any(box in below and lines for box, lines in sheets[0])


def _paired(rows: Sequence[TextRow], width: float) -> Iterator[TextRow]:
    """Yield lines, two short ones that follow each other as one."""
    half, left, before = (width - INDENT) / 2, None, False
    for row in rows:
        whole = row.ruled and not before and [x for x, _ in row.texts] == [INDENT]  # no last line of several
        short, before = whole and _end(row) <= INDENT + half - 2, row.keep
        if left and short:
            yield replace(left, texts=(*left.texts, (INDENT + half, row.texts[0][1])))
            left = None
            continue
        if left:
            yield left
        left = row if short else None
        if not short:
            yield row
    if left:
        yield left


def _end(row: TextRow) -> float:
    return row.texts[0][0] + width_of(row.texts[0][1], row.size, row.font)


def _smaller(row: TextRow, share: float) -> TextRow:
    """A line of that share of its size, and closer to the next."""
    if share == 1.0:
        return row
    texts = tuple((x * share, text) for x, text in row.texts)
    mark = row.mark and replace(row.mark, at=(row.mark.at[0] * share, 0.0), size=row.mark.size * share)
    return replace(row, texts=texts, size=row.size * share, mark=mark, pitch=CLOSER)
