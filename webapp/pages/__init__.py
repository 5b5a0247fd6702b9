"""The pages, one module or folder each, with what that page alone shows."""

from webapp.pages import (
    bend_test,
    boltup,
    catalogue,
    check,
    history,
    jobs,
    numbers,
    opened,
    part,
    setting,
    shop,
    table,
    trace,
    true,
)
from webapp.pages.gzipped import gzipped_file

BLUEPRINTS = (
    catalogue.bp,
    *part.BLUEPRINTS,
    check.bp,
    opened.bp,
    trace.bp,
    boltup.bp,
    shop.bp,
    numbers.bp,
    setting.bp,
    true.bp,
    bend_test.bp,
    history.bp,
    jobs.bp,
    table.bp,
)

__all__ = ["BLUEPRINTS", "gzipped_file"]
