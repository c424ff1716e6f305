"""The description of the API leaves nothing out and leads nowhere that is not there."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from typing import Any

from tunwright.desk import openapi, urls
from tunwright.desk.api.route import ROUTES

Ask = Callable[..., Any]


def addresses() -> set[str]:
    found = [str(pattern.pattern) for pattern in urls.urlpatterns if str(pattern.pattern).startswith("api/")]
    return {"/" + re.sub(r"<\w+:(\w+)>", r"{\1}", address) for address in found}


def references(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        yield from ([node["$ref"]] if isinstance(node.get("$ref"), str) else [])
        for one in node.values():
            yield from references(one)
    if isinstance(node, list):
        for one in node:
            yield from references(one)


def test_every_address_is_described(ask: Ask) -> None:
    described = ask("GET", "/api/openapi.json")[1]
    assert set(described["paths"]) == addresses()
    methods = {(path, method) for path, found in described["paths"].items() for method in found}
    assert methods == {(route.path, route.method.lower()) for route in ROUTES}


def test_every_way_to_ask_says_what_it_does() -> None:
    described = openapi.described()
    names = set()
    for path, found in described["paths"].items():
        for operation in found.values():
            assert len(operation["summary"]) > 10
            names.add(operation["operationId"])
            given = {one["name"] for one in operation["parameters"] if one["in"] == "path"}
            assert given == set(re.findall(r"\{(\w+)\}", path))
            assert "4XX" in operation["responses"]
    assert len(names) == len(ROUTES)


def test_every_reference_leads_somewhere() -> None:
    described = openapi.described()
    names = set(references(described))
    assert len(names) > 30
    for name in names:
        here: Any = described
        for step in name.removeprefix("#/").split("/"):
            here = here[step]


def test_answers_have_the_keys_they_promise(ask: Ask, quarry: str) -> None:
    described = openapi.described()
    examples = {
        "/api/builds": "/api/builds",
        "/api/builds/{slug}": f"/api/builds/{quarry}",
        "/api/builds/{slug}/draft": f"/api/builds/{quarry}/draft",
        "/api/builds/{slug}/diff": f"/api/builds/{quarry}/diff?from=1&to=draft",
        "/api/builds/{slug}/form": f"/api/builds/{quarry}/form",
        "/api/builds/{slug}/sheets": f"/api/builds/{quarry}/sheets",
        "/api/me": "/api/me",
    }
    for path, address in examples.items():
        good = described["paths"][path]["get"]["responses"]["200"]["content"]["application/json"]["schema"]
        model = described["components"]["schemas"][good["$ref"].rsplit("/", 1)[-1]]
        assert set(ask("GET", address)[1]) == set(model["properties"])


def test_the_schema_of_the_build_file_is_given(ask: Ask) -> None:
    response = ask("GET", "/api/schema")[1]
    assert "tank" in response["properties"]
    assert json.dumps(response)
