"""A running desk and a real browser; without a browser these tests are skipped and say so."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("playwright", reason="playwright is not installed: pip install tunwright[test]")

from playwright.sync_api import Browser, BrowserContext, Page

from desk.browser.running import NO_BROWSER, Desk, ask, browsing, chromium, let_in, quiet, running

Open = Callable[..., Page]
HERE = Path(__file__).parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    found = chromium()
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)
            if found is None:
                item.add_marker(pytest.mark.skip(reason=NO_BROWSER))


@pytest.fixture(autouse=True)
def _empty() -> None:
    """The desk under test has a process and a data folder of its own."""


@pytest.fixture(scope="session")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    with running(tmp_path_factory.mktemp("desk")) as found:
        yield found


@pytest.fixture(scope="module")
def chrome() -> Iterator[Browser]:
    """Of one module only: while it runs, its loop keeps other tests in this process from the database."""
    with browsing() as browser:
        yield browser


@pytest.fixture(scope="module")
def cookies(chrome: Browser, desk: Desk) -> Any:
    return let_in(chrome, desk)


@pytest.fixture
def heard() -> list[str]:
    """What a page says that it should not: errors, and requests that leave this machine."""
    return []


@pytest.fixture
def context_of(chrome: Browser, cookies: Any, heard: list[str]) -> Iterator[Callable[..., BrowserContext]]:
    """`context_of(color_scheme="dark")`: a browser of its own that is let in; nothing bad may be heard from it."""
    made: list[BrowserContext] = []

    def make(**wishes: Any) -> BrowserContext:
        given = {"viewport": {"width": 1440, "height": 900}, "storage_state": cookies} | wishes
        context = chrome.new_context(**given)
        context.set_default_timeout(15_000)
        context.on("console", lambda said: heard.append(f"console: {said.text}") if said.type == "error" else None)
        context.on("weberror", lambda error: heard.append(f"script: {error.error}"))
        context.on("request", lambda one: heard.append(f"left: {one.url}") if _leaves(one.url) else None)
        made.append(context)
        return context

    yield make
    for context in made:
        context.close()
    assert not heard, heard


def _leaves(url: str) -> bool:
    return not url.startswith(("http://127.0.0.1:", "https://127.0.0.1:", "data:", "blob:"))


@pytest.fixture
def context(context_of: Callable[..., BrowserContext]) -> BrowserContext:
    return context_of()


@pytest.fixture
def api(context: BrowserContext, desk: Desk) -> Callable[..., Any]:
    """`api("GET", "/api/…")`: what the desk answers to the same person."""
    context.request.get(desk.base + "/")
    return lambda method, address, body=None: ask(context, method, desk.base + address, body)


@pytest.fixture
def slug(api: Callable[..., Any]) -> str:
    """A fresh copy of a demo."""
    return str(api("POST", "/api/builds", {"from": "demo", "demo": "quarry-carrier"})["slug"])


@pytest.fixture
def bench(context: BrowserContext, desk: Desk, slug: str) -> Page:
    """The bench of a fresh build, drawn and judged."""
    page = context.new_page()
    page.goto(f"{desk.base}/b/{slug}/")
    quiet(page)
    return page
