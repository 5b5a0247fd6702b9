"""Jobs: their list, each of them, what was changed when, and the way of a part into one."""

from webapp.pages.jobs import acts, adding, layout, listing, off_cuts, page, sheets
from webapp.pages.jobs.adding import Offer, shown_offer
from webapp.pages.jobs.blueprint import bp

__all__ = ["Offer", "acts", "adding", "bp", "layout", "listing", "off_cuts", "page", "sheets", "shown_offer"]
