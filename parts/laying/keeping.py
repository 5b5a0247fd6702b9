"""A found layout to what is kept of it with its job, and what of a kept one stays when the job is laid out again."""

from collections.abc import Iterator

from parts.orders import Nested, Ordered, Pin, Pinned
from parts.sheets import Laid, Stock, off_cut, outline_of, rings_of
from parts.store import Content, KeptLayout, KeptSheet, Lying


def kept_of(nested: Nested) -> KeptLayout:
    """Return a layout as it is kept."""
    return KeptLayout(tuple(_kept(nested, laid) for _, laid in nested.sheets))


def _kept(nested: Nested, laid: Laid) -> KeptSheet:
    lying = tuple(
        Lying(nested.items[each.piece.key].row, each.x, each.y, each.turn_deg, each.mirrored, each.is_pinned)
        for each in laid.placements
    )
    stock = laid.stock
    return KeptSheet(stock.width, stock.height, lying, stock.off_cut, rings_of(stock.outline))


def stock_of_kept(sheet: KeptSheet) -> Stock:
    """Return the stock that a kept sheet is of."""
    if sheet.off_cut:
        return off_cut(outline_of(sheet.outline), sheet.off_cut)
    return Stock(sheet.width, sheet.height)


def pinned_of(content: Content, ordered: Ordered) -> tuple[Pinned, ...]:
    """Return what of a job's kept layout stays where it lies; what was cut is no more part of it."""
    keys = {item.row: key for key, item in enumerate(ordered.items)}
    return tuple(_pinned(content.layout, keys)) if content.layout else ()


def _pinned(layout: KeptLayout, keys: dict[int, int]) -> Iterator[Pinned]:
    for sheet in layout.sheets:
        pins = tuple(
            Pin(keys[each.line], each.x, each.y, each.turn_deg, each.mirrored)
            for each in sheet.lying
            if each.is_pinned and each.line in keys
        )
        if pins and not sheet.is_cut:
            yield Pinned(stock_of_kept(sheet), pins)
