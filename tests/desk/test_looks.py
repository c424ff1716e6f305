"""Looks, workings, forms: the page gets what the engine says."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from tunwright.build.edit import with_value
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import demo_text
from tunwright.sheets.data import assessment_data

Ask = Callable[..., Any]
TEXT = demo_text("quarry-carrier")


def test_a_look_says_what_the_assessment_says(ask: Ask, quarry: str) -> None:
    document = read_text(with_value(TEXT, ("tank", "middle"), "4.00 m"))
    wanted = assessment_data(Assessment(document.build), document)
    changes = [{"path": ["tank", "middle"], "value": "4.00 m"}]
    status, seen = ask(
        "POST", f"/api/builds/{quarry}/look", {"changes": changes, "parts": ["findings", "window", "loads", "side"]}
    )
    assert status == 200
    assert seen["verdict"] == wanted["verdict"]
    assert [(f["key"], f["verdict"]) for f in seen["findings"]] == [
        (f["key"], f["verdict"]) for f in wanted["findings"]
    ]
    assert seen["window"] == wanted["window"]
    assert seen["side"]["svg"].startswith("<svg")
    axles, gross = seen["loads"]["axles"], seen["loads"]["gross"]
    assert sum(axle["kg"] for axle in axles) == pytest.approx(gross["kg"], abs=0.1 * len(axles))
    assert ask("GET", f"/api/builds/{quarry}/draft")[1]["text"] == TEXT


def test_a_look_follows_the_load_state(ask: Ask, quarry: str) -> None:
    def front(**state: float) -> float:
        answer = ask("POST", f"/api/builds/{quarry}/look", {"state": state, "parts": ["loads"]})[1]
        return float(answer["loads"]["axles"][0]["kg"])

    assert front(fill=1.0) > front(fill=0.0)
    assert front(fill=0.5, braking=0.3) > front(fill=0.5)
    assert front(fill=1.0, grade=0.1) < front(fill=1.0)


def test_a_broken_text_gives_problems_and_no_drawing(ask: Ask, quarry: str) -> None:
    status, seen = ask("POST", f"/api/builds/{quarry}/look", {"text": "format = 1", "parts": ["side", "form"]})
    assert status == 200
    assert seen["problems"]
    assert seen["side"] is None


@pytest.mark.parametrize(
    "body",
    [
        {"parts": ["cellar"]},
        {"state": {"fill": 1.5}},
        {"state": {"grade": 9}},
        {"changes": [{"path": [], "value": "1 m"}]},
        {"changes": [{"path": ["tank", -1], "value": "1 m"}]},
        [],
    ],
)
def test_a_look_that_cannot_be_is_refused(ask: Ask, quarry: str, body: Any) -> None:
    status, answer = ask("POST", f"/api/builds/{quarry}/look", body)
    assert status == 400
    assert answer["error"]["problems"]


def test_every_finding_opens_to_its_working(ask: Ask) -> None:
    slug = ask("POST", "/api/builds", {"from": "demo", "demo": "lane-carrier"})[1]["slug"]
    document = read_text(demo_text("lane-carrier"))
    for wanted in assessment_data(Assessment(document.build), document)["findings"]:
        status, seen = ask("GET", f"/api/builds/{slug}/explain/{wanted['key']}")
        assert status == 200
        assert seen == json.loads(json.dumps(wanted))
    assert ask("GET", f"/api/builds/{slug}/explain/nothing")[0] == 404


def test_the_form_names_every_part(ask: Ask, quarry: str) -> None:
    parts = ask("GET", f"/api/builds/{quarry}/form")[1]["parts"]
    assert {"order", "chassis", "tank"} <= {part["key"] for part in parts}


def test_preferences_are_kept(ask: Ask) -> None:
    assert ask("GET", "/api/me")[1] == {"owner": "desk", "accounts": False, "units": "order", "theme": "auto"}
    ask("PUT", "/api/me", {"units": "us"})
    assert ask("PUT", "/api/me", {"theme": "dark"})[1]["units"] == "us"
    assert ask("PUT", "/api/me", {"units": "furlongs"})[0] == 400
