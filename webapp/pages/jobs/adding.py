"""A part on its way into a job, or to be saved under a name: shown once more, with where it may go.

A template's part comes with its address, a drawing with its file, which travels in the form as on the page that checks
it: nothing is kept before somebody says where.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from http import HTTPStatus

from flask import Response, make_response, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from parts import Refused, store
from parts.checking import LAYER, OUTLINE
from parts.errors import Unreadable
from parts.jobs import Summary, Summed
from parts.part import address
from parts.read import LARGEST_BYTES
from parts.store import Content, Job, Kept, Line
from parts.templates import template as find
from parts.units import Units, format_both, format_mass, format_time
from webapp.forms import JOB_LINE, JobLine, allow, carried_file, own_site, setting, values_of
from webapp.pages.jobs.blueprint import FILES, bp, content_named, may_change, number_in, to_job
from webapp.pages.jobs.lines import in_working_units
from webapp.pages.own_file import sent_values
from webapp.workers import SUMMARIES, summed

ACT, ADD, PLACE, SAVE = "act", "add", "place", "save"
"""Buttons of the form: into a job as a new line, in place of the line it was opened from, under a name."""
_FIELDS = ("job", "name", "reference", "quantity", "line_name", "save_name", ACT, JOB_LINE)
_OF_PAGE = ("as", "take", "say")
_LARGEST = LARGEST_BYTES + carried_file.LARGEST_KEPT + 100_000
FILES["jobs.offer_drawing"] = (_LARGEST, f"a drawing may have {LARGEST_BYTES // 1_000_000} MB")


@dataclass(frozen=True, slots=True)
class Offer:
    """A part that may be kept: what of it, the bytes of its drawing, and the line of a job that it was opened from."""

    kept: Kept
    data: bytes = b""
    opened: JobLine | None = None

    @property
    def files(self) -> Mapping[str, bytes]:
        """The files that go with it, by their digests."""
        return {self.kept.drawing: self.data} if self.kept.drawing else {}


@bp.route("/add/<slug>", methods=["GET", "POST"])
def offer(slug: str) -> ResponseReturnValue:
    """Show where a template's part may go; or, by a button, keep it there."""
    template = find(slug)
    values = values_of(request.args)
    opened = JobLine.read(values.pop(JOB_LINE, ""))
    values.pop("was", None)
    return _answer(Offer(Kept(template.slug, tuple(values.items())), opened=opened))


@bp.post("/drawing")
def offer_drawing() -> ResponseReturnValue:
    """Show where a drawing may go; or, by a button, keep it there."""
    if request.form.get(ACT):
        own_site.check_sender(own_site.JOBS)
    allow(*FILES["jobs.offer_drawing"])
    data, name = carried_file.sent(request.files, request.form)
    others = (*_FIELDS, *_OF_PAGE, LAYER, OUTLINE, carried_file.FILE, carried_file.KEPT, carried_file.KEPT_NAME)
    values = sent_values(others)
    layers, outlines = (tuple(each for each in request.form.getlist(of) if each.strip()) for of in (LAYER, OUTLINE))
    kept = Kept(name, tuple(values.items()), store.digest_of(data), layers, outlines)
    return _answer(Offer(kept, data, JobLine.read(request.form.get(JOB_LINE, ""))))


def _answer(offer: Offer) -> ResponseReturnValue:
    if request.method != "POST" or not request.form.get(ACT):
        return shown_offer(offer)
    try:
        if not isinstance(_summed(offer, setting.units_here()), Summary):
            return shown_offer(offer)
        return _kept(offer, request.form[ACT])
    except Refused as refused:
        return shown_offer(offer, refused)


def _kept(offer: Offer, act: str) -> Response:
    form = request.form
    if act == SAVE:
        store.save_part(form.get("save_name", ""), offer.kept, offer.files)
        return _to_saved()
    quantity = store.quantity_in(form.get("quantity", ""))
    name = form.get("line_name", "")
    if act == PLACE and offer.opened:
        return to_job(_in_place(offer, offer.opened, quantity, name), offer.opened.line)
    number = number_in(form.get("job", ""))
    if number is None:
        line = Line(1, offer.kept, quantity, store.named(name, "line name", may_be_empty=True))
        return to_job(store.begin(replace(content_named(form), lines=(line,)), offer.files), 1)
    job = store.change(
        number, lambda job: job.content.with_line(store.new_line(job, offer.kept, quantity, name)), offer.files
    )
    return to_job(job, job.content.lines[-1].number)


def _in_place(offer: Offer, of: JobLine, quantity: int, name: str) -> Job:
    def placed(job: Job) -> Content:
        line, called = job.content.line(of.line), store.named(name, "line name", may_be_empty=True)
        return job.content.with_line(replace(line, kept=offer.kept, quantity=quantity, name=called))

    return store.change(of.job, placed, offer.files)


def _to_saved() -> Response:
    answer = redirect(url_for("jobs.listed", _anchor="saved-heading"), HTTPStatus.SEE_OTHER)
    assert isinstance(answer, Response)  # noqa: S101 - flask's own redirect is one
    return answer


def shown_offer(offer: Offer, refused: Refused | None = None) -> Response:
    """Return the page that shows a part and asks where it may go."""
    units = setting.units_here()
    found = _summed(offer, units)
    said = found if isinstance(found, Summary) else None
    problems = () if isinstance(found, Summary) else found
    packed = carried_file.packed(offer.data) if offer.data else ""
    if offer.data and not packed:
        raise Unreadable(f"{offer.kept.part} is too large to be kept in a job.")
    page = render_template(
        "job_add.html",
        offer=offer,
        said=said,
        facts=_facts(said, units) if said else [],
        sketch=Markup(said.sketch) if said else "",  # noqa: S704 - no text in it
        undrawn=problems,
        problems=refused.problems if refused else (),
        line=_opened(offer),
        jobs=store.jobs(),
        typed=request.form,
        packed=packed,
        part_at=address(offer.kept.part, dict(offer.kept.values)) if not offer.data else "",
        longest=(store.LONGEST_NAME, store.LONGEST_REFERENCE),
        **may_change(),
    )
    status = HTTPStatus.UNPROCESSABLE_ENTITY if refused or problems else HTTPStatus.OK
    return make_response(page, status)


def _summed(offer: Offer, units: Units) -> Summed:
    spoken = in_working_units(offer.kept, units)
    return summed(spoken, units, offer.data) if offer.data else SUMMARIES.of(spoken, units)


def _facts(said: Summary, units: Units) -> list[tuple[str, str]]:
    return [
        ("Size", said.size),
        ("Thickness", format_both(said.thickness_mm)),
        ("Material", said.material),
        ("Weight", format_mass(said.of.mass_kg, units)),
        ("Time", format_time(said.of.time_s)),
    ]


def _opened(offer: Offer) -> tuple[Job, Line] | None:
    """The line that the part was opened from, where it is still there."""
    if offer.opened is None:
        return None
    try:
        job = store.job(offer.opened.job)
        return job, job.content.line(offer.opened.line)
    except Refused:
        return None
