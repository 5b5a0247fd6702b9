"""The web page: asks `parts` and shows the answer; no limit, unit or geometry of its own."""

from flask import Flask, Response

from webapp import api, catalogue, errors, files, part_page

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)


def create_app() -> Flask:
    """Return the application, ready to be served."""
    app = Flask(__name__, static_folder="../static", static_url_path="/static")
    for blueprint in (catalogue.bp, part_page.bp, files.bp, api.bp):
        app.register_blueprint(blueprint)
    errors.register(app)
    app.after_request(_headers)
    return app


def _headers(answer: Response) -> Response:
    answer.headers["Content-Security-Policy"] = POLICY
    answer.headers["X-Content-Type-Options"] = "nosniff"
    answer.headers["Referrer-Policy"] = "no-referrer"
    return answer
