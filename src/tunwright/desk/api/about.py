"""What the build file and the API itself look like, for machines."""

from __future__ import annotations

from functools import cache

from django.http import HttpResponse, JsonResponse

from tunwright.build.model import schema as schema_made
from tunwright.desk.api.route import Call, route
from tunwright.desk.openapi import described


@cache
def _schema() -> dict[str, object]:
    return schema_made()


@route("GET", "/api/schema", answers="application/schema+json")
def schema(_: Call) -> HttpResponse:
    """The JSON Schema of the build file."""
    return JsonResponse(_schema(), content_type="application/schema+json")


@route("GET", "/api/openapi.json", answers="application/json")
def openapi(_: Call) -> HttpResponse:
    """This description."""
    return JsonResponse(described(), json_dumps_params={"ensure_ascii": False})
