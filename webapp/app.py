"""The application: its addresses, and the headers that go with every answer."""

import re
from collections.abc import Mapping
from contextlib import ExitStack
from http import HTTPStatus
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from flask import Flask, Response, g, redirect, request
from flask.typing import ResponseReturnValue

from parts import shop
from parts.templates import FORMER
from parts.wanted import Unwanted, until_gone
from webapp import api, errors, files
from webapp.forms import own_site, setting
from webapp.pages import BLUEPRINTS, gzipped_file

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)


_OF_A_PART = re.compile(r"/parts/([a-z0-9-]+)([./].*)?")
"""An address of a part: its slug, and what of it is asked for."""
ICON, ICON_KEPT_S = "icon.svg", 24 * 3600


class Application(Flask):
    """Flask, whose static files are asked for anew each time but the icon: a browser wants that at every address."""

    def get_send_file_max_age(self, filename: str | None) -> int | None:
        """Return for how many seconds a browser may keep a static file unasked; None where it is to ask."""
        return ICON_KEPT_S if filename == ICON else super().get_send_file_max_age(filename)

    def dispatch_request(self) -> ResponseReturnValue:
        """Answer the request at hand; give it up once whoever asked is gone, as a browser is that asks for newer."""
        is_gone = request.environ.get("waitress.client_disconnected")
        if not is_gone:
            return super().dispatch_request()
        try:
            with until_gone(is_gone):
                return super().dispatch_request()
        except Unwanted:
            return "", HTTPStatus.REQUEST_TIMEOUT  # nobody reads it


def make_app(config: Mapping[str, Any]) -> Flask:
    """Return the application with flask's settings of `config`."""
    installed = (Path(__file__).parent / "static").is_dir()  # in a checkout it stands at the top
    app = Application("webapp", static_folder="static" if installed else "../static", static_url_path="/static")
    app.config.from_mapping(own_site.DEFAULTS)
    app.config.from_mapping(config)
    app.json.sort_keys = False  # type: ignore[attr-defined] # flask's own provider has it
    app.url_map.converters["kind"] = files.EndingConverter
    for blueprint in (*BLUEPRINTS, files.bp, api.bp):
        app.register_blueprint(blueprint)
    errors.register(app)
    app.before_request(_by_one_state_of_the_numbers)  # which a refusal's own page asks for too
    app.before_request(_guarded)
    app.before_request(_from_a_former_slug)
    app.teardown_request(_let_go)
    app.context_processor(_for_every_page)
    app.after_request(_with_headers)
    return app


TELLS_NOTHING = ("static", "api.healthz")
"""Endpoints whose answers say nothing of the shop."""


def _guarded() -> None:
    """Let nobody in under a name that a strange site could have lead here."""
    if request.endpoint not in TELLS_NOTHING:
        own_site.check_host()


def _from_a_former_slug() -> ResponseReturnValue | None:
    """Send who asks for a template of an earlier version on to what it is of now, with all that was asked along."""
    found = _OF_A_PART.fullmatch(request.path)
    if found is None or (now := FORMER.get(found[1])) is None:
        return None
    asked = request.query_string.decode("ascii", "ignore")
    query = "&".join(filter(None, (urlencode(now.ahead(request.args)), asked)))
    kept = HTTPStatus.MOVED_PERMANENTLY if request.method in ("GET", "HEAD") else HTTPStatus.PERMANENT_REDIRECT
    return redirect(f"/parts/{now.slug}{found[2] or ''}?{query}", kept)


def _by_one_state_of_the_numbers() -> None:
    """Answer the request by the shop's numbers as they are now; by the built-in ones where its file can't be used."""
    if request.endpoint not in TELLS_NOTHING:
        g.held = ExitStack()
        g.held.enter_context(shop.held_or_built_in())


def _for_every_page() -> dict[str, Any]:
    """What the head of every page asks for."""
    return {"shop_trouble": shop.trouble(), "spoken": setting.kept(), "here": _here(), "asking": setting.Asking()}


def _here() -> str:
    """The address to come back to after a switch."""
    if request.url_rule is None or "GET" not in (request.url_rule.methods or ()):
        return "/"
    return request.full_path.rstrip("?") if request.method == "GET" else request.path


def _let_go(_: BaseException | None) -> None:
    if held := g.pop("held", None):
        held.close()


def _with_headers(answer: Response) -> Response:
    if request.endpoint == "static":
        answer = gzipped_file(answer, request.accept_encodings)
    answer.headers.setdefault("Content-Security-Policy", POLICY)
    answer.headers["X-Content-Type-Options"] = "nosniff"
    answer.headers.setdefault("Referrer-Policy", "no-referrer")
    answer.headers["Cross-Origin-Opener-Policy"] = "same-origin"
    if answer.mimetype == "text/html":
        answer.vary.add("Cookie")
    return answer
