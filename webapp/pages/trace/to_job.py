"""What was traced on its way into a job: as a drawing of its outline, exact to its lines and arcs."""

from pathlib import PurePath

from flask import Response

from parts import Traced, store
from parts.store import Kept
from webapp.pages.jobs import Offer, shown_offer

STOCK = ("material", "thickness", "process")


def to_job(traced: Traced, name: str) -> Response:
    """Return the page that asks where what was traced may go."""
    data, record = traced.file("dxf"), traced.part.record
    values = {each: record.specs[each].text(record.parameters[each], record.units) for each in STOCK}
    kept = Kept(f"{PurePath(name).stem[:80]}.dxf", tuple(values.items()), store.digest_of(data))
    answer = shown_offer(Offer(kept, data))
    answer.headers["Referrer-Policy"] = "same-origin"  # as of the pages of jobs, which the form on it goes to
    return answer
