"""The application: its addresses, and the headers that go with every answer."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from flask import Flask, Response

from webapp import api, errors, files
from webapp.forms import own_site
from webapp.pages import BLUEPRINTS

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)


def make_app(config: Mapping[str, Any]) -> Flask:
    """Return the application with flask's settings of `config`."""
    installed = (Path(__file__).parent / "static").is_dir()  # in a checkout it stands at the top
    app = Flask("webapp", static_folder="static" if installed else "../static", static_url_path="/static")
    app.config.from_mapping(own_site.DEFAULTS)
    app.config.from_mapping(config)
    app.json.sort_keys = False  # type: ignore[attr-defined] # flask's own provider has it
    app.url_map.converters["kind"] = files.EndingConverter
    for blueprint in (*BLUEPRINTS, files.bp, api.bp):
        app.register_blueprint(blueprint)
    errors.register(app)
    app.after_request(_with_headers)
    return app


def _with_headers(answer: Response) -> Response:
    answer.headers["Content-Security-Policy"] = POLICY
    answer.headers["X-Content-Type-Options"] = "nosniff"
    answer.headers.setdefault("Referrer-Policy", "no-referrer")
    answer.headers["Cross-Origin-Opener-Policy"] = "same-origin"
    return answer
