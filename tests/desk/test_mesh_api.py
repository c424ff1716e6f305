"""The mesh of a draft as the page gets it."""

from __future__ import annotations

import base64
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tunwright import desk
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import demo_text
from tunwright.desk import openapi
from tunwright.sheets.mesh import vehicle_mesh

Ask = Callable[..., Any]
STATIC = Path(desk.__file__).parent / "static" / "desk"


def unpacked(part: dict[str, Any]) -> tuple[Any, Any, Any]:
    kinds = {"vertices": ("<f4", 3), "triangles": ("<u4", 3), "edges": ("<u4", 2)}
    return tuple(  # type: ignore[return-value]
        np.frombuffer(base64.b64decode(part[name]), dtype=kind).reshape(-1, width)
        for name, (kind, width) in kinds.items()
    )


def test_the_page_gets_the_mesh_of_the_draft(ask: Ask, quarry: str) -> None:
    status, seen = ask("GET", f"/api/builds/{quarry}/mesh")
    assert status == 200
    wanted = vehicle_mesh(Assessment(read_text(demo_text("quarry-carrier")).build))
    assert [one["key"] for one in seen["parts"]] == [one.key for one in wanted]
    assert seen["count"] == sum(len(one.triangles) for one in wanted)
    for given, mine in zip(seen["parts"], wanted, strict=True):
        vertices, triangles, edges = unpacked(given)
        assert np.array_equal(vertices, mine.vertices)
        assert np.array_equal(triangles, mine.triangles)
        assert np.array_equal(edges, mine.edges)


def test_the_mesh_follows_the_load_state(ask: Ask, quarry: str) -> None:
    def surface(query: str) -> Any:
        parts = ask("GET", f"/api/builds/{quarry}/mesh?{query}")[1]["parts"]
        return next((unpacked(one)[0] for one in parts if one["role"] == "surface"), None)

    level, steep = surface("fill=0.5"), surface("fill=0.5&grade=0.12")
    assert np.ptp(level[:, 2]) < 1e-5
    slope = np.polyfit(steep[:, 0], steep[:, 2], 1)[0]
    assert slope == pytest.approx(0.12, abs=1e-4)
    assert surface("fill=0.25")[:, 2].mean() < level[:, 2].mean()
    assert surface("fill=0") is None


def test_the_water_alone_is_the_water_of_the_whole(ask: Ask, quarry: str) -> None:
    address = f"/api/builds/{quarry}/mesh?fill=0.4&braking=0.5"
    whole, alone = ask("GET", address)[1], ask("GET", f"{address}&only=water")[1]
    wet = [one for one in whole["parts"] if one["cut"] == "water"]
    assert len(wet) == 8  # walls and surface in each of four bays
    assert alone["parts"] == wet
    assert {one["role"] for one in wet} == {"water", "surface"}
    assert {key: alone[key] for key in ("title", "state_words", "water")} == {
        key: whole[key] for key in ("title", "state_words", "water")
    }


def test_the_water_is_told_in_the_units_of_the_person(ask: Ask, quarry: str) -> None:
    def told() -> str:
        found = ask("GET", f"/api/builds/{quarry}/mesh?fill=0.5&only=water")[1]
        return " ".join(f"{found['units']} {found['water']}".split())

    net = float(Assessment(read_text(demo_text("quarry-carrier")).build).truck.volumes.net.sum())
    litres, gallons = round(500 * net), round(500 * net / 3.785411784)
    assert told().replace(" ", "") == f"metric{litres}L"
    assert ask("PUT", "/api/me", {"units": "us", "theme": "auto"})[0] == 200
    assert told().replace(" ", "") == f"us{gallons}USgal"


def test_what_a_cut_shows_is_said(ask: Ask, quarry: str) -> None:
    cut = {one["key"]: one["cut"] for one in ask("GET", f"/api/builds/{quarry}/mesh")[1]["parts"]}
    shown = {key: cut[key] for key in ("tank.shell", "tank.baffle.1", "tank.sump.1", "chassis.frame", "water.1.walls")}
    assert list(shown.values()) == ["line", "line", "line", "face", "water"]


def test_the_mesh_follows_the_draft(ask: Ask, quarry: str) -> None:
    version = ask("GET", f"/api/builds/{quarry}/draft")[1]["version"]
    changes = [{"path": ["tank", "middle"], "value": "4.00 m"}]
    assert ask("POST", f"/api/builds/{quarry}/draft/set", {"version": version, "changes": changes})[0] == 200
    shell = next(p for p in ask("GET", f"/api/builds/{quarry}/mesh")[1]["parts"] if p["key"] == "tank.shell")
    before = next(
        p for p in vehicle_mesh(Assessment(read_text(demo_text("quarry-carrier")).build)) if p.key == shell["key"]
    )
    moved = unpacked(shell)[0] - before.vertices
    assert moved == pytest.approx(np.broadcast_to([0.25, 0.0, 0.0], moved.shape), abs=1e-5)


@pytest.mark.parametrize("query", ["fill=2", "fill=much", "grade=9", "colour=red", "only=wheels"])
def test_a_state_that_cannot_be_is_refused(ask: Ask, quarry: str, query: str) -> None:
    status, answer = ask("GET", f"/api/builds/{quarry}/mesh?{query}")
    assert status == 400
    assert answer["error"]["problems"]


def test_a_draft_that_does_not_read_says_why(ask: Ask, quarry: str) -> None:
    version = ask("GET", f"/api/builds/{quarry}/draft")[1]["version"]
    assert ask("PUT", f"/api/builds/{quarry}/draft", {"text": "format = 1", "version": version})[0] == 200
    status, answer = ask("GET", f"/api/builds/{quarry}/mesh")
    assert status == 400
    assert answer["error"]["problems"]


def test_a_build_that_is_not_there(ask: Ask) -> None:
    assert ask("GET", "/api/builds/nowhere/mesh")[0] == 404


def test_the_mesh_is_described() -> None:
    found = openapi.described()["paths"]["/api/builds/{slug}/mesh"]["get"]
    assert {"fill", "grade", "slope", "braking", "crew"} <= {one["name"] for one in found["parameters"]}


def test_the_bench_fetches_the_view_only_when_asked(ask: Ask, quarry: str) -> None:
    page = ask("GET", f"/b/{quarry}/")[1].content.decode()
    assert 'id="solid"' in page
    assert "solid.js" not in page
    bench = (STATIC / "bench.js").read_text(encoding="utf-8")
    assert 'import("./solid.js")' in bench
    assert not re.search(r"^import .*solid", bench, re.MULTILINE)
