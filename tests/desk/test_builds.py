"""Builds and revisions: from everywhere they may come, word for word, chained, never changed."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest
from django.test import Client

from tunwright.demos import NAMES, demo_text
from tunwright.desk import store
from tunwright.desk.models import Build, Revision
from tunwright.desk.refusal import Refusal

Ask = Callable[..., Any]


def moved(text: str, value: str = "4.00 m") -> str:
    """The quarry carrier with its tank elsewhere."""
    from tunwright.build.edit import with_value

    return with_value(text, ("tank", "middle"), value)


def saved(ask: Ask, slug: str, text: str, **more: Any) -> tuple[int, Any]:
    draft = ask("GET", f"/api/builds/{slug}/draft")[1]
    version = ask("PUT", f"/api/builds/{slug}/draft", {"text": text, "version": draft["version"]})[1]["version"]
    return ask("POST", f"/api/builds/{slug}/revisions", {"version": version, "base": draft["base"], **more})


@pytest.mark.parametrize("name", NAMES)
def test_a_demo_becomes_a_build(ask: Ask, name: str) -> None:
    status, made = ask("POST", "/api/builds", {"from": "demo", "demo": name})
    assert (status, made) == (201, {"slug": name})
    (row,) = ask("GET", "/api/builds")[1]["builds"]
    assert row["verdict"] in ("holds", "close", "fails", "open")
    assert (row["verdict"] == "fails") == (name in ("ridge-carrier", "lane-carrier"))
    assert sum(row["counts"].values()) > 10
    assert row["revision"] == 1


def test_a_text_comes_back_word_for_word(ask: Ask) -> None:
    text = demo_text("village-carrier").replace("\n", "\r\n") + "# a remark at the end, Grüße, no line end"
    status, made = ask("POST", "/api/builds", {"from": "text", "text": text, "name": "mine.toml"})
    assert status == 201
    response = ask("GET", f"/api/builds/{made['slug']}/revisions/1/text")[1]
    assert response.content == text.encode()
    assert f"{made['slug']}-r1.toml" in response.headers["Content-Disposition"]
    whole = ask("GET", f"/api/builds/{made['slug']}")[1]
    assert whole["revisions"][0]["sha256"] == hashlib.sha256(text.encode()).hexdigest()
    assert whole["revisions"][0]["parent_sha256"] == ""


def test_a_byte_order_mark_is_no_text(ask: Ask) -> None:
    text = demo_text("village-carrier")
    slug = ask("POST", "/api/builds", {"from": "text", "text": "\ufeff" + text})[1]["slug"]
    assert ask("GET", f"/api/builds/{slug}/revisions/1/text")[1].content == text.encode()


def test_a_copy_says_so_and_has_a_name_of_its_own(ask: Ask, quarry: str) -> None:
    slug = ask("POST", "/api/builds", {"from": "copy", "build": quarry})[1]["slug"]
    assert slug != quarry
    whole = ask("GET", f"/api/builds/{slug}")[1]
    assert whole["title"].endswith("(copy)")
    assert whole["revisions"][0]["note"] == f"copy of {quarry}, revision 1"


def test_two_of_one_title_are_two_builds(ask: Ask) -> None:
    slugs = [ask("POST", "/api/builds", {"from": "demo", "demo": "brush-carrier"})[1]["slug"] for _ in range(3)]
    assert slugs == ["brush-carrier", "brush-carrier-2", "brush-carrier-3"]


def test_a_started_build_has_open_questions(ask: Ask) -> None:
    order = {"from": "new", "layout": "8x4", "units": "us", "title": "Häuler <b> & Co"}
    status, made = ask("POST", "/api/builds", order)
    assert status == 201
    whole = ask("GET", f"/api/builds/{made['slug']}")[1]
    assert whole["title"] == "Häuler <b> & Co"


def test_a_text_that_does_not_read_is_refused_as_on_the_command_line(ask: Ask) -> None:
    from tunwright.build.problems import BuildProblems
    from tunwright.build.reading import read_text

    text = demo_text("quarry-carrier").replace("gross_rating", "gros_rating")
    with pytest.raises(BuildProblems) as broken:
        read_text(text)
    status, answer = ask("POST", "/api/builds", {"from": "text", "text": text})
    assert status == 400
    assert answer["error"]["problems"] == [vars(problem) for problem in broken.value.problems]
    assert answer["id"]
    assert not Build.objects.exists()


@pytest.mark.parametrize(
    ("body", "status", "words"),
    [
        ({"from": "demo", "demo": "nothing"}, 400, "There are: quarry-carrier"),
        ({"from": "copy", "build": "nothing"}, 404, "no build called nothing"),
        ({"from": "elsewhere"}, 400, "cannot be read"),
        ({"from": "text", "text": "x" * 1_000_001}, 413, "at most 1 MB"),
        ({"from": "text", "text": "title = '\x00'"}, 415, "zero bytes"),
        ({"from": "text", "text": "format = 1", "colour": "red"}, 400, "cannot be read"),
    ],
)
def test_what_cannot_be_a_build_is_refused_with_a_sentence(ask: Ask, body: Any, status: int, words: str) -> None:
    got, answer = ask("POST", "/api/builds", body)
    assert got == status
    assert words in answer["error"]["words"]


def test_uploads_are_limited_in_size_and_kind(browser: Client) -> None:
    large = browser.post("/api/builds", data=b'{"text": "' + b"x" * 2_500_000 + b'"}', content_type="application/json")
    assert large.status_code == 413
    for kind in ("text/plain", "application/octet-stream", "application/x-www-form-urlencoded"):
        response = browser.post("/api/builds", data=b"format = 1", content_type=kind)
        assert response.status_code == 415
        assert "application/json" in response.json()["error"]["words"]
    broken = browser.post("/api/builds", data=b'{"from": "text", "text": "\\ud800"}', content_type="application/json")
    assert broken.status_code == 400


def test_revisions_are_chained_by_their_hashes(ask: Ask, quarry: str) -> None:
    text = demo_text("quarry-carrier")
    for place in ("4.00 m", "4.01 m", "4.02 m"):
        assert saved(ask, quarry, moved(text, place), note=f"tank to {place}")[0] == 201
    whole = ask("GET", f"/api/builds/{quarry}")[1]
    newest_first = whole["revisions"]
    assert [one["number"] for one in newest_first] == [4, 3, 2, 1]
    for after, before in pairwise(newest_first):
        assert after["parent_sha256"] == before["sha256"]
    assert newest_first[0]["note"] == "tank to 4.02 m"
    assert newest_first[0]["author"] == "desk"
    assert newest_first[0]["summary"]["figures"]["tank.middle_m"] == 4.02
    assert whole["chain_faults"] == []


def test_a_revision_never_changes(quarry: str) -> None:
    one = store.newest(store.find(quarry))
    one.text = "other"
    for change in (one.save, one.delete, Revision.objects.all().delete, lambda: Revision.objects.update(text="x")):
        with pytest.raises(Refusal, match="never changed"):
            change()
    assert store.newest(store.find(quarry)).text == demo_text("quarry-carrier")


def test_a_text_changed_behind_the_desk_is_found(ask: Ask, quarry: str) -> None:
    from django.db import connection

    saved(ask, quarry, moved(demo_text("quarry-carrier")))
    with connection.cursor() as cursor:
        cursor.execute("UPDATE desk_revision SET text = text || '# more' WHERE number = 1")
    assert store.chain_faults(store.find(quarry)) == ["The text of revision 1 is not the one saved."]
    assert len(ask("GET", f"/api/builds/{quarry}")[1]["chain_faults"]) == 1


def test_nothing_changed_is_nothing_to_save(ask: Ask, quarry: str) -> None:
    status, answer = saved(ask, quarry, demo_text("quarry-carrier"))
    assert status == 400
    assert "Nothing has changed" in answer["error"]["words"]


def test_an_archived_build_leaves_the_list_and_comes_back(ask: Ask, quarry: str) -> None:
    assert ask("POST", f"/api/builds/{quarry}/archive", {"archived": True})[0] == 200
    assert ask("GET", "/api/builds")[1]["builds"] == []
    (row,) = ask("GET", "/api/builds?archived=1")[1]["builds"]
    assert row["archived"] is True
    ask("POST", f"/api/builds/{quarry}/archive", {"archived": False})
    assert len(ask("GET", "/api/builds")[1]["builds"]) == 1


def test_the_diff_shows_lines_and_figures(ask: Ask, quarry: str) -> None:
    text = demo_text("quarry-carrier")
    saved(ask, quarry, moved(text))
    changes = ask("GET", f"/api/builds/{quarry}/diff?from=1&to=2")[1]
    gone = [row for row in changes["text"] if row["op"] == "-"]
    new = [row for row in changes["text"] if row["op"] == "+"]
    assert len(gone) == len(new) == 1
    assert text.splitlines()[gone[0]["from"] - 1] == gone[0]["line"]
    assert moved(text).splitlines()[new[0]["to"] - 1] == new[0]["line"]
    figures = {row["what"]: row for row in changes["figures"]}
    assert figures["middle of the tank"]["to"].replace("\u2009", "") == "4000 mm"
    summaries = [one["summary"]["figures"] for one in ask("GET", f"/api/builds/{quarry}")[1]["revisions"]]
    name = next(key for key in summaries[0] if key.startswith("axle.") and key.endswith(".full_kg"))
    what = f"{name.split('.')[1]} axle, full"
    for side, kept in (("from", summaries[1]), ("to", summaries[0])):
        shown = figures[what][side].replace("\u2009", "").removesuffix(" kg")
        assert float(shown) == pytest.approx(kept[name], abs=0.5001)


def test_the_diff_to_a_broken_draft_has_lines_and_no_figures(ask: Ask, quarry: str) -> None:
    ask("PUT", f"/api/builds/{quarry}/draft", {"text": "no build at all", "version": 0})
    status, changes = ask("GET", f"/api/builds/{quarry}/diff?from=1&to=draft")
    assert status == 200
    assert changes["figures"] == []
    assert [row["line"] for row in changes["text"] if row["op"] == "+"] == ["no build at all"]


def test_figures_come_in_the_units_preferred(ask: Ask, quarry: str) -> None:
    saved(ask, quarry, moved(demo_text("quarry-carrier")))
    ask("PUT", "/api/me", {"units": "us"})
    figures = ask("GET", f"/api/builds/{quarry}/diff?from=1&to=2")[1]["figures"]
    assert next(row["to"] for row in figures if row["what"] == "middle of the tank") == "157.5 in"
