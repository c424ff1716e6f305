"""Drafts: counted writes, nothing overwritten unseen, broken texts kept."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from typing import Any

import pytest

from tunwright.build.edit import with_value
from tunwright.demos import demo_text

Ask = Callable[..., Any]
TEXT = demo_text("quarry-carrier")
OTHER = with_value(TEXT, ("tank", "middle"), "4.00 m")
THIRD = with_value(TEXT, ("tank", "middle"), "4.05 m")


def draft(slug: str) -> str:
    return f"/api/builds/{slug}/draft"


def test_a_build_nobody_touched_has_version_0(ask: Ask, quarry: str) -> None:
    found = ask("GET", draft(quarry))[1]
    assert (found["version"], found["base"], found["newest"], found["others"]) == (0, 1, 1, [])
    assert found["text"] == TEXT
    assert ask("GET", f"/api/builds/{quarry}")[1]["draft"]["changed"] is False


def test_every_write_counts_and_a_stale_one_is_refused(ask: Ask, quarry: str) -> None:
    assert ask("PUT", draft(quarry), {"text": OTHER, "version": 0}) == (200, {"version": 1})
    assert ask("PUT", draft(quarry), {"text": THIRD, "version": 1}) == (200, {"version": 2})
    status, answer = ask("PUT", draft(quarry), {"text": OTHER, "version": 1})
    assert status == 409
    assert answer["draft"] == {"text": THIRD, "version": 2}
    assert "version 2" in answer["error"]["words"]
    assert ask("GET", draft(quarry))[1]["text"] == THIRD


def test_the_same_text_sent_twice_is_no_conflict(ask: Ask, quarry: str) -> None:
    for _ in range(2):
        assert ask("PUT", draft(quarry), {"text": OTHER, "version": 0}) == (200, {"version": 1})


def test_a_broken_text_is_kept_and_not_saved(ask: Ask, quarry: str) -> None:
    broken = TEXT.replace("[tank]", "[tank")
    assert ask("PUT", draft(quarry), {"text": broken, "version": 0})[0] == 200
    assert ask("GET", draft(quarry))[1]["text"] == broken
    status, answer = ask("POST", f"/api/builds/{quarry}/revisions", {"version": 1, "base": 1})
    assert status == 400
    assert answer["error"]["problems"][0]["line"] == TEXT.splitlines().index("[tank]") + 1
    assert ask("GET", draft(quarry))[1]["text"] == broken
    assert ask("GET", f"/api/builds/{quarry}")[1]["revisions"][0]["number"] == 1


def test_values_are_set_and_comments_stay(ask: Ask, quarry: str) -> None:
    changes = [
        {"path": ["tank", "middle"], "value": "3.80 m"},
        {"path": ["chassis", "gross_rating"], "value": "25500 kg", "source": "measured"},
    ]
    status, answer = ask("POST", draft(quarry) + "/set", {"version": 0, "changes": changes})
    assert (status, answer["version"], answer["problems"]) == (200, 1, [])
    remarks = [line.partition("#")[2] for line in TEXT.splitlines() if "#" in line]
    assert [line.partition("#")[2] for line in answer["text"].splitlines() if "#" in line] == remarks
    data = tomllib.loads(answer["text"])
    assert data["chassis"]["gross_rating"] == {"value": "25500 kg", "from": "measured"}
    assert ask("GET", draft(quarry))[1]["text"] == answer["text"]


def test_a_source_alone_keeps_the_value_and_null_takes_a_key_away(ask: Ask, quarry: str) -> None:
    before = tomllib.loads(TEXT)
    changes = [{"path": ["tank", "middle"], "source": "assumed"}, {"path": ["tank", "baffle", 0], "value": None}]
    status, answer = ask("POST", draft(quarry) + "/set", {"version": 0, "changes": changes})
    assert status == 200
    data = tomllib.loads(answer["text"])
    given = before["tank"]["middle"]
    assert data["tank"]["middle"]["value"] == (given["value"] if isinstance(given, dict) else given)
    assert data["tank"]["middle"]["from"] == "assumed"
    assert data["tank"]["baffle"] == before["tank"]["baffle"][1:]


def test_a_value_that_cannot_be_right_is_kept_and_said(ask: Ask, quarry: str) -> None:
    changes = [{"path": ["tank", "middle"], "value": "four metres"}]
    status, answer = ask("POST", draft(quarry) + "/set", {"version": 0, "changes": changes})
    assert status == 200
    (problem,) = answer["problems"]
    assert problem["path"] == "tank.middle"
    assert problem["given"] == "four metres"
    assert ask("GET", draft(quarry))[1]["text"] == answer["text"]


@pytest.mark.parametrize("path", [["tank"], ["tank", "baffle", 99, "at"], ["order", "title", "x"]])
def test_a_path_that_leads_nowhere_changes_nothing(ask: Ask, quarry: str, path: list[Any]) -> None:
    status, answer = ask("POST", draft(quarry) + "/set", {"version": 0, "changes": [{"path": path, "value": "1 m"}]})
    assert status == 400
    assert answer["error"]["words"]
    assert ask("GET", draft(quarry))[1]["version"] == 0


def test_saving_needs_the_newest_base(ask: Ask, quarry: str) -> None:
    ask("PUT", draft(quarry), {"text": OTHER, "version": 0})
    saving = {"version": 1, "base": 1, "note": "further back"}
    assert ask("POST", f"/api/builds/{quarry}/revisions", saving)[1]["number"] == 2
    ask("PUT", draft(quarry), {"text": THIRD, "version": 1})
    status, answer = ask("POST", f"/api/builds/{quarry}/revisions", {"version": 2, "base": 1})
    assert (status, answer["newest"]) == (409, 2)
    assert "saved revision 2 meanwhile" in answer["error"]["words"]
    over = {"version": 2, "base": 1, "over": True}
    assert ask("POST", f"/api/builds/{quarry}/revisions", over)[1]["number"] == 3


def test_a_stale_version_is_not_saved(ask: Ask, quarry: str) -> None:
    ask("PUT", draft(quarry), {"text": OTHER, "version": 0})
    ask("PUT", draft(quarry), {"text": THIRD, "version": 1})
    status, answer = ask("POST", f"/api/builds/{quarry}/revisions", {"version": 1, "base": 1})
    assert (status, answer["draft"]["version"]) == (409, 2)


def test_after_saving_the_draft_stands_on_the_new_revision(ask: Ask, quarry: str) -> None:
    ask("PUT", draft(quarry), {"text": OTHER, "version": 0})
    ask("POST", f"/api/builds/{quarry}/revisions", {"version": 1, "base": 1})
    found = ask("GET", draft(quarry))[1]
    assert (found["base"], found["newest"], found["version"]) == (2, 2, 1)
    assert ask("GET", f"/api/builds/{quarry}")[1]["draft"]["changed"] is False


def test_a_draft_given_up_is_the_newest_revision_again(ask: Ask, quarry: str) -> None:
    ask("PUT", draft(quarry), {"text": OTHER, "version": 0})
    assert ask("DELETE", draft(quarry))[0] == 200
    assert ask("GET", draft(quarry))[1]["text"] == TEXT


def test_a_new_draft_may_say_what_it_began_with(ask: Ask, quarry: str) -> None:
    ask("PUT", draft(quarry), {"text": OTHER, "version": 0})
    ask("POST", f"/api/builds/{quarry}/revisions", {"version": 1, "base": 1})
    ask("DELETE", draft(quarry))
    ask("PUT", draft(quarry), {"text": THIRD, "version": 0, "base": 1})
    found = ask("GET", draft(quarry))[1]
    assert (found["base"], found["newest"]) == (1, 2)
    assert ask("PUT", draft(quarry), {"text": OTHER, "version": 1, "base": 99})[0] == 404
