"""The description as a whole, and that of one template."""

import parts
from parts.spec import Template
from webapp.openapi import answers, boltup, check, jobs, part, shop, templates, trace, truing, truing_answer
from webapp.openapi.answer import Json, components
from webapp.openapi.words import PAGE, asked, json_of, operation

_ABOUT = (
    "An address alone makes the page or the file. Values are text as a shop writes it: `100`, `3/16`, `1-1/2 in`, "
    "`2ft 3in`, `16ga`; a bare length is in the part's `units`. `x-mm`, `x-degrees`, `x-count` and `x-number` are the "
    "least and the most that a value may stand for. A request that can't be met is answered with every reason; one "
    "under a name that isn't this machine's, by 403."
)


def description() -> Json:
    """Return the description of every address, made from the templates' declarations and the models of answers."""
    parted = templates.paths() | templates.described_at()
    asking = check.paths() | trace.paths() | boltup.paths() | jobs.paths() | shop.paths() | truing.paths()
    return _document(
        "Sheet and plate parts from their dimensions.",
        _paths() | asking | parted,
        {
            "parameters": templates.parameters(),
            "schemas": components((*answers.MODELS, *part.MODELS, *truing_answer.MODELS))
            | templates.schemas()
            | check.schemas(),
            "responses": templates.responses(),
        },
    )


def description_of(template: Template) -> Json:
    """Return the description of the addresses of one template, with every parameter that it takes."""
    models = components((answers.Refusal, answers.Remedies, part.Part))
    return _document(
        template.summary,
        templates.paths(f"/parts/{template.slug}"),
        {
            "parameters": templates.parameters_of_one(),
            "schemas": models | templates.schema_of_one(template),
            "responses": {name: said for name, said in templates.responses().items() if name != "Later"},
        },
    )


def _document(summary: str, paths: Json, components: Json) -> Json:
    info = {"title": "Platewright", "version": parts.VERSION, "summary": summary, "description": _ABOUT}
    return {"openapi": "3.1.0", "info": info, "paths": paths, "components": components}


def _paths() -> Json:
    search = asked("q", "Words to search for")
    return {
        "/": {"get": operation("catalogue", "The catalogue of templates", [search], PAGE)},
        "/healthz": {"get": operation("health", "Whether the server is up", [], json_of("Health"))},
        "/openapi.json": {"get": operation("description", "This description", [], {"application/json": {}})},
    }
