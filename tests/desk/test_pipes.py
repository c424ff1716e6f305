"""The pipework on the desk: duties, valves that are turned, and what then flows."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from tunwright.demos import demo_text

Ask = Callable[..., Any]


def looked(ask: Ask, slug: str, **wish: Any) -> dict[str, Any]:
    status, got = ask("POST", f"/api/builds/{slug}/pipes", wish)
    assert status == 200, got
    return got


def flow(got: dict[str, Any], what: str) -> float:
    words = dict(map(tuple, got["said"]))[what]
    return float(re.sub(r"[^\d.]", "", words.split(" L")[0]))


def test_the_first_duty_is_shown_with_its_valves_and_flows(ask: Ask, quarry: str) -> None:
    got = looked(ask, quarry)
    assert got["duty"] == got["duties"][0] == "spray the road behind"
    assert {one["name"]: one["share"] for one in got["valves"]}["V3"] == 1.0
    assert got["svg"].startswith("<svg")
    assert got["engine"] == 1300
    assert flow(got, "out of the tank") == pytest.approx(
        flow(got, "rear head, left") + flow(got, "rear head, right"), abs=2.0
    )


def test_a_valve_that_is_opened_lets_water_through(ask: Ask, quarry: str) -> None:
    before = looked(ask, quarry)
    openings = {one["name"]: one["share"] for one in before["valves"]}
    after = looked(ask, quarry, openings=openings | {"V4": 1.0})
    assert flow(after, "front head, left") > 200.0
    assert flow(after, "rear head, left") < flow(before, "rear head, left")
    part = looked(ask, quarry, openings=openings | {"V3": 0.3})
    assert flow(part, "rear head, left") < flow(before, "rear head, left")
    shut = looked(ask, quarry, openings=openings | {"V3": 0.0})
    assert "rear head, left" not in dict(map(tuple, shut["said"]))


def test_engine_and_fill_count(ask: Ask, quarry: str) -> None:
    slow, fast = (flow(looked(ask, quarry, engine=rpm), "out of the tank") for rpm in (1000, 1600))
    assert slow < fast
    assert looked(ask, quarry, engine=0)["engine"] is None
    full, low = (flow(looked(ask, quarry, fill=fill), "out of the tank") for fill in (1.0, 0.1))
    assert low < full


@pytest.mark.parametrize("wish", [{"openings": {"nothing of the kind": 1.0}}, {"duty": "no such duty"}])
def test_what_is_not_there_is_passed_over(ask: Ask, quarry: str, wish: dict[str, Any]) -> None:
    assert looked(ask, quarry, **wish)["there"]


@pytest.mark.parametrize("wish", [{"fill": 2.0}, {"engine": -5}, {"openings": {"V1": "wide"}}, {"colour": "red"}])
def test_nonsense_is_refused_in_words(ask: Ask, quarry: str, wish: dict[str, Any]) -> None:
    status, got = ask("POST", f"/api/builds/{quarry}/pipes", wish)
    assert status in (400, 422)
    assert got["error"]["words"]


def test_a_build_without_pipework_says_so(ask: Ask) -> None:
    _, made = ask("POST", "/api/builds", {"from": "demo", "demo": "lane-carrier"})
    got = looked(ask, made["slug"])
    assert not got["there"]
    assert not got["svg"]


def test_a_draft_that_does_not_read_gives_its_problems(ask: Ask, quarry: str) -> None:
    _, draft = ask("GET", f"/api/builds/{quarry}/draft")
    text = demo_text("quarry-carrier").replace('size = "DN125"', 'size = "DN1"')
    status, _ = ask("PUT", f"/api/builds/{quarry}/draft", {"text": text, "version": draft["version"]})
    assert status == 200
    got = looked(ask, quarry)
    assert got["problems"][0]["path"] == "pipework.run[1].size"
