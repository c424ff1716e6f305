"""Pages: they come, they say what went wrong with an id, they never show a trace."""

from __future__ import annotations

import logging
import re

import pytest
from django.test import Client

from tunwright.desk import pages
from tunwright.desk.api import builds

PAGES = ["/", "/new", "/me", "/b/quarry-carrier/"]
PAGES += [f"/b/quarry-carrier/{name}" for name in ("findings", "pipes", "sheets", "revisions")]


@pytest.mark.parametrize("address", PAGES)
def test_every_page_comes(browser: Client, quarry: str, address: str) -> None:
    response = browser.get(address)
    assert response.status_code == 200
    assert "csrftoken" in response.cookies
    text = response.content.decode()
    assert text.startswith("<!doctype html>")
    assert not re.search(r"(?:src|href)=\"(?:https?:)?//", text)
    assert not re.search(r"<script(?![^>]*\ssrc=)|\son\w+=|style=", text)  # the policy would refuse them


@pytest.mark.parametrize(
    "address", ["/nothing", "/b/nothing/", "/b/nothing/side.svg", "/b/quarry-carrier/side.svg?r=9"]
)
def test_what_is_not_there_is_said(browser: Client, quarry: str, address: str) -> None:
    response = browser.get(address)
    assert response.status_code == 404
    assert "nothing at this address" in response.content.decode()


def test_a_title_cannot_become_markup(browser: Client) -> None:
    body = '{"from": "new", "title": "<script>x</script>"}'
    slug = browser.post("/api/builds", data=body, content_type="application/json").json()["slug"]
    assert "<script>x" not in browser.get(f"/b/{slug}/").content.decode()
    assert "<script>x" not in browser.get(f"/b/{slug}/side.svg").content.decode()


def test_an_unforeseen_error_shows_an_id_and_no_trace(
    browser: Client, quarry: str, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def fall(*_: object, **__: object) -> None:
        raise RuntimeError("inside of the desk")

    caplog.set_level(logging.ERROR)
    monkeypatch.setattr(pages.store, "newest", fall)
    monkeypatch.setattr(builds.store, "find", fall)
    page = browser.get("/b/quarry-carrier/")
    api = browser.get("/api/builds/quarry-carrier")
    found = re.search(r"\b[0-9a-f]{8}\b", page.content.decode())
    assert found
    for mark, response in ((found.group(), page), (api.json()["id"], api)):
        assert response.status_code == 500
        assert "inside of the desk" not in response.content.decode()
        assert "Traceback" not in response.content.decode()
        assert mark in caplog.text
    assert "inside of the desk" in caplog.text


def test_the_side_picture_is_kept_by_its_text(browser: Client, quarry: str, monkeypatch: pytest.MonkeyPatch) -> None:
    first = browser.get("/b/quarry-carrier/side.svg?r=1")
    assert first.headers["Content-Type"] == "image/svg+xml"
    monkeypatch.setattr("tunwright.desk.pictures._drawn", None)
    assert browser.get("/b/quarry-carrier/side.svg").content == first.content
    assert b"<text" not in first.content


def test_the_wrong_method_is_said(browser: Client, quarry: str) -> None:
    response = browser.delete("/api/builds/quarry-carrier")
    assert response.status_code == 405
    assert "takes GET" in response.json()["error"]["words"]
