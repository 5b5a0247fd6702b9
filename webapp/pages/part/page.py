"""The page of a part: the form filled in, the drawing, the findings, the facts, the downloads."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from urllib.parse import parse_qsl, urlencode, urlsplit

from flask import Blueprint, Response, make_response, redirect, render_template, request
from flask.typing import ResponseReturnValue
from markupsafe import Markup
from werkzeug.datastructures import MultiDict

import parts
from parts import shop
from parts.drawing import hanging
from parts.export import STOPS_SAID, bend_notes, bend_rows, formed_drawings, page_drawing, stop_rows
from parts.part import Part, address, drafted
from parts.rules import RULES
from parts.spec import Template, Value
from parts.templates import former_of
from parts.templates import template as find
from parts.truing import Compensation
from parts.units import units_of
from webapp.forms import (
    COMPENSATE,
    JOB_LINE,
    TYPED_IN,
    WAS,
    Before,
    JobLine,
    Link,
    Typed,
    choices,
    groups,
    made_for,
    own_font,
    setting,
    shortest,
    values_of,
)
from webapp.pages.gzipped import gzipped
from webapp.pages.part import links
from webapp.pages.part.pieces import piece_rows
from webapp.pages.part.presets import presets
from webapp.pages.part.remedies import Offer, offers
from webapp.pages.part.ways import way_links
from webapp.pages.window import KEPT, kept, window
from webapp.wording import Verdict, as_cut_said, facts, kinds, slow_said, verdict
from webapp.workers import CHECKS, apart, has_overrun

bp = Blueprint("part_page", __name__)
LIVE = "Platewright-Live"
"""The header of a page asked for while someone types: its shortest address goes with it, in place of a way there."""
FOLLOWING = "following"
"""What the header says where the fields stay as they are in the browser: the page comes without them.

With the name of a parameter after it, the drawing comes without what is hidden until it is asked for: what is laid
over it, and dimensions of the second level but those of the parameter. A rich part comes without its findings then, or
as a sketch alone.
"""


FORMED_MOST, FORMED_SHARE = 366.0, 0.6
"""How wide the section of a bent part may be on a page, px, and how high of that."""


@dataclass(frozen=True)
class Asked:
    """What an address asks for, and what comes of it: `part` is the nearest that can be drawn, if any can.

    Where the drawing stays as it is in the browser, a refusal has no part, but `values` that would be drawn.
    """

    template: Template
    args: "MultiDict[str, str]"
    given: Mapping[str, str]
    problems: tuple[parts.Problem, ...]
    part: Part | None
    compensation: Compensation | None = None
    values: Mapping[str, Value] = field(default_factory=dict)

    @property
    def is_brief(self) -> bool:
        """Whether more is known of what is refused than is told yet."""
        return any(problem.is_brief for problem in self.problems)

    @property
    def loose(self) -> tuple[parts.Problem, ...]:
        """What is wrong with nothing that the form has a row for."""
        known = {*self.template.parameters.specs(), COMPENSATE}
        return tuple(problem for problem in self.problems if problem.parameter not in known)

    @property
    def accepted(self) -> Mapping[str, str]:
        """What was given and isn't refused."""
        wrong = {problem.parameter for problem in self.problems}
        return {name: text for name, text in self.given.items() if name not in wrong}

    @property
    def drawn(self) -> Mapping[str, Value]:
        """The values that are drawn."""
        return self.part.record.parameters if self.part else self.values

    @property
    def before(self) -> Before:
        """What was there before remedies were taken."""
        return Before.read(self.template.slug, self.template.parameters.specs(), self.args, self.drawn)

    @property
    def typed(self) -> Typed:
        """What the form shows."""
        return Typed(self.given, self.drawn, self.problems, self.before)


@dataclass(frozen=True, slots=True)
class UndrawnRow:
    """A row of the form that the drawing doesn't follow, and what is wrong with it."""

    name: str
    label: str
    message: str


@bp.get("/parts/<slug>")
def page(slug: str) -> ResponseReturnValue:
    """Show the part; where its values are refused, say so at the fields and keep what was typed."""
    template = find(slug)
    says = _elsewhere(template)
    if not says:
        return _shown_page(template, request.args)
    if LIVE not in request.headers:
        return redirect(says)
    answer = _shown_page(template, MultiDict(parse_qsl(urlsplit(says).query, keep_blank_values=True)))
    answer.headers["Content-Location"] = says
    return answer


@bp.post("/parts/<slug>")
@apart(CHECKS, most=own_font.LARGEST_REQUEST)
def page_in_own_font(slug: str) -> ResponseReturnValue:
    """Show the part in the font that is sent with the request, which isn't kept."""
    return _in_own_font(find(slug), lambda _: {})


@bp.post("/parts/<slug>/remedies")
@apart(CHECKS, most=own_font.LARGEST_REQUEST)
def remedies_in_own_font(slug: str) -> ResponseReturnValue:
    """Show the same page with the remedies solved."""
    return _in_own_font(find(slug), _offered)


def _in_own_font(template: Template, solved: Callable[[Asked], Mapping[str, Offer | None]]) -> Response:
    """The page of what was sent, and what mends it; the font goes with it, for what is asked for next."""
    says: MultiDict[str, str] = request.args
    given: own_font.Sent | None = None
    with shop.held():
        try:
            sent = own_font.sent()
            says = _said(template, sent.values)
            if has_overrun():
                given = replace(sent, waits=True)
                raise parts.Refused((parts.Problem(own_font.FONT, sent.name, own_font.OVERRUN),))
            with own_font.lent(sent) as args:
                says = _said(template, args)
                asked = ask(template, says, _way_to_draw())
                answer = make_response(_page(asked, solved(asked), sent))
        except parts.Refused as refused:  # of the font itself: what is drawn otherwise is told by `ask`
            answer = make_response(_page(_without_font(template, says, refused.problems), {}, given))
    answer.headers["Content-Location"] = address(template.slug, says.to_dict())
    answer.cache_control.no_store = True
    return gzipped(answer, request.accept_encodings)


def _offered(asked: Asked) -> Mapping[str, Offer | None]:
    """What mends what was found in what is asked for, where that can be drawn."""
    return offers(asked.part, asked.before) if asked.part and not asked.problems else {}


def _said(template: Template, args: "MultiDict[str, str]") -> "MultiDict[str, str]":
    """What a sent form asks for, as its shortest address says it."""
    return MultiDict(shortest(template, args)) if TYPED_IN in args else args


def _without_font(template: Template, args: "MultiDict[str, str]", problems: tuple[parts.Problem, ...]) -> Asked:
    """What is asked for without the font that can't be used, and why that can't."""
    others = MultiDict((name, text) for name, text in args.items(multi=True) if name != own_font.FONT)
    asked = ask(template, others)
    return replace(asked, problems=(*problems, *asked.problems))


def _shown_page(template: Template, args: "MultiDict[str, str]") -> Response:
    with shop.held():
        answer = make_response(_page(ask(template, args, _way_to_draw()), {}))
    answer.vary.update((LIVE, KEPT))
    return gzipped(answer, request.accept_encodings, is_hurried=bool(_asked_for()[1]))


@bp.get("/parts/<slug>/remedies")
def remedies(slug: str) -> ResponseReturnValue:
    """Show the same page with the remedies solved; that takes too long to do while someone types."""
    template = find(slug)
    if says := _elsewhere(template):
        return redirect(says)
    with shop.held():
        asked = ask(template, request.args)
        return _page(asked, _offered(asked))


def _elsewhere(template: Template) -> str:
    """The address that says what this one asks for, if that is another: of a sent form, or in the shop's setting."""
    if any(len(given) != 1 for _, given in request.args.lists()):
        return ""
    own = setting.kept()
    if TYPED_IN in request.args:
        said = shortest(template, request.args)
        units = {setting.UNITS: units_of(request.args.get(setting.UNITS))} if own.values else {}
        return address(template.slug, units | said)
    over = own.over(template, request.args)
    return address(template.slug, over) if over else ""


def _page(asked: Asked, solved: Mapping[str, Offer | None], given: own_font.Sent | None = None) -> ResponseReturnValue:
    """The page; `solved` has each rule whose remedy was looked for, with what is offered if anything is.

    `given` is a font of someone's own, which the page carries along, unless it is asked for by scripts.
    """
    carried = given if given and given.data and LIVE not in request.headers else None
    shown = render_template("part.html", asked=asked, solved=solved, carried=carried, **_shown(asked))
    return shown, 422 if asked.problems else 200


def _asked_for() -> tuple[bool, str]:
    """Whether only what follows the typing is asked for, and the parameter that is typed."""
    live, _, asked_for = request.headers.get(LIVE, "").partition(" ")
    return live == FOLLOWING, asked_for


def _way_to_draw() -> Callable[..., Part]:
    """How a part is drawn: in a hurry, while someone types."""
    return drafted if _asked_for()[1] else parts.draw


def ask(template: Template, args: "MultiDict[str, str]", draw: Callable[..., Part] = parts.draw) -> Asked:
    """Draw what the address asks for; what is refused is left out of the drawing, and told of."""
    known = template.parameters.specs()
    given = {name: value for name, value in template.parameters.current(args.to_dict()).items() if name in known}
    try:
        values = values_of(args)
        values.pop(WAS, None)
        values.pop(JOB_LINE, None)
        chosen = values.pop(COMPENSATE, "")
        part = draw(template.slug, **values)
    except parts.Refused as refused:
        if LIVE in request.headers:
            readable = _readable(template, given, refused.problems)
            return Asked(template, args, given, refused.problems, None, values=readable)
        return Asked(template, args, given, refused.problems, _nearest(template.slug, given, refused.problems, draw))
    try:
        return Asked(template, args, given, (), part, made_for(chosen) if chosen else None)
    except parts.Refused as refused:
        return Asked(template, args, given, refused.problems, part)


def _nearest(
    slug: str, given: Mapping[str, str], problems: tuple[parts.Problem, ...], draw: Callable[..., Part]
) -> Part | None:
    """The part without the values at fault; with none but its units, where that can't be drawn either."""
    for values in _without(given, problems):
        try:
            return draw(slug, **values)
        except parts.Refused:
            continue
    return None


def _readable(template: Template, given: Mapping[str, str], problems: tuple[parts.Problem, ...]) -> Mapping[str, Value]:
    """The values without those at fault, whether or not they go together."""
    for texts in _without(given, problems):
        try:
            read = template.parameters.read_singly(texts)
        except parts.Refused:
            continue
        return {name: getattr(read, name) for name in read.specs()}
    return {}


def _without(given: Mapping[str, str], problems: tuple[parts.Problem, ...]) -> Iterator[Mapping[str, str]]:
    """Yield what was given without the values at fault; then none but its units, and nothing at all."""
    wrong = {problem.parameter for problem in problems}
    right = {name: value for name, value in given.items() if name not in wrong}
    yield right
    yield {name: value for name, value in right.items() if name == "units"}
    yield {}


def _shown(asked: Asked) -> Mapping[str, object]:
    """What the page is made of, besides the part."""
    part, template = asked.part, asked.template
    is_sketch = part is not None and part.record.is_sketch
    said: Verdict = verdict(part, refused=bool(asked.problems))
    follows, asked_for = _asked_for()
    table = asked.args[COMPENSATE] if asked.compensation else ""
    return {
        "follows": follows,
        "is_live": LIVE in request.headers,
        "is_whole": not asked_for,
        "judged": part is None or part.record.is_judged,
        "is_sketch": is_sketch,
        "template": template,
        "hangs": hanging(part.profile) if part else None,
        "formerly": former_of(template.slug),
        "presets": presets(template, asked.accepted, asked.drawn, setting.kept().said),
        "part": part,
        "groups": groups(template, asked.typed, with_fields=not follows),
        "units": asked.typed.units,
        "typed_in": TYPED_IN,
        "left_out": list(_left_out(asked)),
        "ways": list(_ways(asked)),
        "drawing": _drawing(part, asked_for) if part else "",
        "facts": facts(part, asked.compensation) if part and part.record.is_judged else [],
        "bends": list(bend_rows(part.record)) if part else [],
        "bend_notes": list(bend_notes(part.record)) if part else [],
        "formed": _formed(part, asked_for) if part else [],
        "stops": list(stop_rows(part.record)) if part else [],
        "stops_said": STOPS_SAID,
        "as_cut": as_cut_said(part) if part and not asked_for else "",
        "slow": slow_said() if part else "",
        "count": len(part.record.rows) if part else 0,
        "kinds": kinds(part) if part else [],
        "was": asked.before,
        "is_lettered": own_font.FONT in template.parameters.specs(),
        "font_endings": own_font.ENDINGS,
        "own_font_at": address(template.slug, dict(asked.accepted)),
        "solving": f"/parts/{template.slug}/remedies?{urlencode([*asked.args.items(multi=True)])}",
        "verdict": said,
        "checked": ", ".join(str(rule.RULE).replace("-", " ") for rule in RULES),
        "files": list(links.files(part, table)) if part and not asked.problems else [],
        "pieces": list(piece_rows(part)) if part and not asked.problems and not asked.compensation else [],
        "in_space": dict(links.in_space(part)) if part and not (asked.problems or is_sketch) else {},
        "pack": links.pack(part, table) if part and not is_sketch else "",
        "on_paper": links.on_paper(part) if part and not is_sketch else {},
        "bolt_up": links.bolt_up(part) if part and not is_sketch else "",
        "saved": [] if follows else list(links.saved(template)),
        "job_line": JobLine.read(asked.args.get(JOB_LINE, "")),
        "to_job": links.job(part, asked.args) if part and not (asked.problems or asked.compensation) else "",
        "set_up": dict(links.set_up(part)) if part and not (asked.problems or asked.compensation) else {},
        "tables": [] if follows else choices(asked.args.get(COMPENSATE, "")),
        "compensate": COMPENSATE,
        "truing": f"&{query}" if part and (query := urlsplit(part.record.address).query) else "",
        "test_bend": links.test_bend(part) if part else "",
        "compensate_message": next((p.message for p in asked.problems if p.parameter == COMPENSATE), ""),
    }


def _drawing(part: Part, asked_for: str) -> Markup:
    """The drawing, whole or without what is hidden but the dimensions of one parameter."""
    before = kept()[0] if asked_for else None
    drawn = page_drawing(part.record, replace(window(), asked=asked_for, kept=before), overlays=not asked_for)
    return Markup(drawn)  # noqa: S704 - its writer escapes text


def _formed(part: Part, asked_for: str) -> list[tuple[str, Markup]]:
    """The sections of a bent part, each half as wide as the window of a desk and as wide as that of a phone."""
    room = window()
    width = room.width if room.is_narrow else min(room.width / 2 - 24, FORMED_MOST)
    before = kept()[1:] if asked_for else ()
    drawn = formed_drawings(part.record, width, FORMED_SHARE * width, before)
    return [(title, Markup(svg)) for title, svg in drawn]  # noqa: S704 - its writer escapes text


def _ways(asked: Asked) -> Iterator[Link]:
    """The ways on from a refusal; they take too long to find while someone types, and are asked for after."""
    if asked.problems and LIVE not in request.headers:
        yield from way_links(asked.template, asked.given, asked.problems, asked.args.get(COMPENSATE, ""))


def _left_out(asked: Asked) -> Iterator[UndrawnRow]:
    """The rows that the drawing doesn't follow, each once, with the first sentence about it."""
    specs = asked.template.parameters.specs()
    labels = {**{name: spec.label for name, spec in specs.items()}, COMPENSATE: "Compensate for a table"}
    first = {problem.parameter: problem for problem in reversed(asked.problems)}
    for name in dict.fromkeys(problem.parameter for problem in asked.problems):
        if name in labels:
            yield UndrawnRow(name, labels[name], first[name].message)
