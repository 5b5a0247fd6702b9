"""What a table orders: its rows as parts, the files of each, and the parts laid out on sheets."""

from parts.orders.as_job import as_job
from parts.orders.asked import MARGIN_MM, Asked, OffCut, Pin, Pinned
from parts.orders.batch import Batch, Progress, run_batch
from parts.orders.cluster import on_cluster, seeds_on_cluster
from parts.orders.files import Task
from parts.orders.item import Item, Ordered, read_items
from parts.orders.layout_files import layout_files, layout_sheets, left_of, write_layout
from parts.orders.makers import Maker, in_processes
from parts.orders.making import Made
from parts.orders.nest import Making, Nested, nest, sheet_name, unplaced
from parts.orders.outcome import KEPT, REFUSED, STOPPED, WRITTEN, Outcome
from parts.orders.seeds import Each, in_several, one_by_one
from parts.orders.sort import Sort, gap_of, problem_of, sorted_by_stock
from parts.orders.stock_said import length_of, seconds_of, stock_of
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
    "Each",
    "Item",
    "Made",
    "Maker",
    "Making",
    "Nested",
    "OffCut",
    "Ordered",
    "Outcome",
    "Pin",
    "Pinned",
    "Progress",
    "Sent",
    "Sort",
    "Task",
    "as_job",
    "gap_of",
    "in_processes",
    "in_several",
    "layout_files",
    "layout_sheets",
    "left_of",
    "length_of",
    "nest",
    "on_cluster",
    "one_by_one",
    "order",
    "problem_of",
    "read_items",
    "run_batch",
    "seconds_of",
    "seeds_on_cluster",
    "sheet_name",
    "sorted_by_stock",
    "stock_of",
    "unplaced",
    "write_layout",
]
