"""What /openapi.json says: every route with every way it can fail, all in the one shape."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import FastAPI

Schema = dict[str, Any]

ALWAYS = {
    "400": "What was asked cannot be done; or the request is none.",
    "401": "This device is not in, or no longer.",
    "403": "This person, or the page it came from, may not do that.",
    "404": "There is no such page.",
    "413": "More was sent than may be.",
    "421": "The server is not called by that name.",
    "422": "A value in the request is none, or a document has errors.",
    "500": "Something unexpected happened; nothing was changed.",
}
"""What any route may answer."""

_TEXT = {"type": "string"}
PROBLEM: Schema = {
    "type": "object",
    "required": ["severity", "where", "message", "remedy"],
    "properties": {
        "severity": {"enum": ["error", "warning"]},
        "where": _TEXT,
        "message": _TEXT,
        "remedy": _TEXT,
    },
    "additionalProperties": False,
}
FAILURE: Schema = {
    "type": "object",
    "required": ["error"],
    "properties": {
        "error": {
            "type": "object",
            "required": ["what", "where", "remedy"],
            "properties": {
                "what": {"type": "string", "description": "What was wrong."},
                "where": {"type": "string", "description": "Where it stands."},
                "remedy": {"type": "string", "description": "What to do about it."},
                "problems": {"type": "array", "items": PROBLEM},
            },
            "additionalProperties": False,
        }
    },
    "additionalProperties": False,
}
"""As terminal and page say it too."""

_PAGE: Schema = {"schema": {"type": "string"}}


def described(app: FastAPI) -> Callable[[], Schema]:
    """The description of an app, made when it is first asked for."""
    plain = app.openapi

    def description() -> Schema:
        if app.openapi_schema is None:
            made = plain()
            schemas = made.setdefault("components", {}).setdefault("schemas", {})
            for unused in ("HTTPValidationError", "ValidationError"):
                schemas.pop(unused, None)
            schemas["Failure"] = FAILURE
            for way in made["paths"].values():
                for operation in way.values():
                    _complete(operation)
                    _open_form(operation, schemas)
            app.openapi_schema = made
        return app.openapi_schema

    return description


def _complete(operation: Schema) -> None:
    """Declare every failure, and that it comes as JSON or, to a browser, as a page."""
    responses = operation["responses"]
    for status in {*ALWAYS, *(each for each in responses if each >= "400")}:
        said = responses.get(status, {}).get("description", "")
        if said in ("", "Validation Error", "Bad Request"):
            said = ALWAYS.get(status, "Not done.")
        responses[status] = {
            "description": said,
            "content": {
                "application/json": {"schema": {"$ref": "#/components/schemas/Failure"}},
                "text/html": _PAGE,
            },
        }
    operation["responses"] = dict(sorted(responses.items()))


def _open_form(operation: Schema, schemas: Schema) -> None:
    """Say of a form that takes further fields that it does, where its fields are said: a
    reference stands for all that is beside it."""
    for media in operation.get("requestBody", {}).get("content", {}).values():
        form = media["schema"]
        if "$ref" in form and "additionalProperties" in form:
            name = form["$ref"].rpartition("/")[2]
            schemas[name]["additionalProperties"] = form["additionalProperties"]
            media["schema"] = {"$ref": form["$ref"]}
