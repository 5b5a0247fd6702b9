"""What programs ask for: whether the server is well, and the description of every address."""

from flask import Blueprint

import parts
from parts.templates import template as find
from webapp.openapi import Health, description, description_of

bp = Blueprint("api", __name__)


@bp.get("/healthz")
def healthz() -> dict[str, str]:
    """Answer that the server is up."""
    return Health(version=parts.VERSION).model_dump()


@bp.get("/openapi.json")
def openapi() -> dict[str, object]:
    """Describe every address."""
    return description()


@bp.get("/parts/<slug>/openapi.json")
def openapi_of(slug: str) -> dict[str, object]:
    """Describe the addresses of one template, with all of its parameters."""
    return description_of(find(slug))
