"""The description of the API, made from its routes and their models."""

from __future__ import annotations

import re
from functools import cache
from http import HTTPStatus
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import models_json_schema

from tunwright import __version__
from tunwright.desk.api.route import JSON, ROUTES, Route
from tunwright.desk.api.shapes import Refused

_REF = "#/components/schemas/{model}"
_PARTS = {
    "slug": ({"type": "string"}, "Name of the build in addresses."),
    "n": ({"type": "integer", "minimum": 1}, "Number of the revision."),
    "id": ({"type": "string", "format": "uuid"}, "Id of the job."),
    "key": ({"type": "string"}, "Key of the finding."),
}
_ABOUT = (
    "The desk of the build files. Requests that change something carry the header X-CSRFToken with the value of the "
    "cookie csrftoken, which GET /api/me sets. What is refused says why in a sentence, with an id for the log."
)


@cache
def described() -> dict[str, Any]:
    """The whole description, OpenAPI 3.1."""
    wanted: list[tuple[type[BaseModel], Any]] = [(Refused, "serialization")]
    for one in ROUTES:
        wanted += [(model, "validation") for model in (one.asks, one.query) if model is not None]
        wanted += [(one.answers, "serialization")] if not isinstance(one.answers, str) else []
    refs, made = models_json_schema(list(dict.fromkeys(wanted)), ref_template=_REF)
    paths: dict[str, dict[str, Any]] = {}
    for one in ROUTES:
        paths.setdefault(one.path, {})[one.method.lower()] = _operation(one, refs, made["$defs"])
    return {
        "openapi": "3.1.0",
        "info": {"title": "Tunwright desk", "version": __version__, "description": _ABOUT},
        "paths": paths,
        "components": {"schemas": made["$defs"]},
    }


def _operation(one: Route, refs: Any, models: dict[str, Any]) -> dict[str, Any]:
    words = " ".join((one.view.__doc__ or "").split())
    found: dict[str, Any] = {
        "operationId": f"{one.view.__module__.rsplit('.', 1)[-1]}_{one.view.__name__}",
        "summary": words,
        "parameters": [*_in_path(one), *_in_query(one, refs, models)],
        "responses": _responses(one, refs),
    }
    if one.asks is not None:
        found["requestBody"] = {"required": True, "content": {JSON: {"schema": refs[one.asks, "validation"]}}}
    return found


def _in_path(one: Route) -> list[dict[str, Any]]:
    names = re.findall(r"\{(\w+)\}", one.path)
    return [
        {"name": name, "in": "path", "required": True, "schema": _PARTS[name][0], "description": _PARTS[name][1]}
        for name in names
    ]


def _in_query(one: Route, refs: Any, models: dict[str, Any]) -> list[dict[str, Any]]:
    if one.query is None:
        return []
    model = models[refs[one.query, "validation"]["$ref"].rsplit("/", 1)[-1]]
    needed = model.get("required", ())
    return [
        {"name": name, "in": "query", "required": name in needed, "schema": schema}
        for name, schema in model["properties"].items()
    ]


def _responses(one: Route, refs: Any) -> dict[str, Any]:
    if isinstance(one.answers, str):
        good: dict[str, Any] = {one.answers: {"schema": {"type": "string"}}}
    else:
        good = {JSON: {"schema": refs[one.answers, "serialization"]}}
    refused = {JSON: {"schema": refs[Refused, "serialization"]}}
    return {
        str(one.status): {"description": HTTPStatus(one.status).phrase, "content": good},
        "4XX": {"description": "Refused: the sentence says why.", "content": refused},
        "5XX": {"description": "Something nobody foresaw; the id stands in the log.", "content": refused},
    }
