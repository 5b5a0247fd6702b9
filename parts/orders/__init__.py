"""What a table orders: its rows as parts, the files of each, and the parts laid out on sheets."""

from parts.orders.batch import Batch, Progress, run_batch
from parts.orders.files import Task
from parts.orders.item import Item, Ordered, read_items
from parts.orders.layout_files import left_of, write_layout
from parts.orders.making import Made
from parts.orders.nest import MARGIN_MM, Asked, Nested, Sort, nest
from parts.orders.outcome import KEPT, REFUSED, STOPPED, WRITTEN, Outcome
from parts.orders.zipped import FILES, MOST_PARTS, Sent, order
from parts.orders.zipped import REPORT as ZIPPED_REPORT

__all__ = [
    "FILES",
    "KEPT",
    "MARGIN_MM",
    "MOST_PARTS",
    "REFUSED",
    "STOPPED",
    "WRITTEN",
    "ZIPPED_REPORT",
    "Asked",
    "Batch",
    "Item",
    "Made",
    "Nested",
    "Ordered",
    "Outcome",
    "Progress",
    "Sent",
    "Sort",
    "Task",
    "left_of",
    "nest",
    "order",
    "read_items",
    "run_batch",
    "write_layout",
]
