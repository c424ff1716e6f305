"""A desk of its own in a process of its own, and the browser on this machine; for tests and for scripts."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

SOURCE = Path(__file__).parents[3] / "src"
ADDRESS = re.compile(r"The desk is at (http://127\.0\.0\.1:\d+/\?key=\S+)")
KEY = re.compile(r"(http://127\.0\.0\.1:\d+/\?key=\S+)")
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
NO_BROWSER = "no Chromium found: install one, or name it in TUNWRIGHT_CHROMIUM"


def chromium() -> str | None:
    """The browser on this machine: what TUNWRIGHT_CHROMIUM names, or the first known name on the path."""
    named = os.environ.get("TUNWRIGHT_CHROMIUM")
    if named:
        return named
    return next((found for found in map(shutil.which, NAMES) if found), None)


class Desk:
    """A running desk: where it is, and the key that opens next."""

    def __init__(self, process: subprocess.Popen[bytes], output: Path) -> None:
        self.process, self.output = process, output
        self.base = self._wait().split("?")[0].rstrip("/")

    def _wait(self) -> str:
        until = time.monotonic() + 60
        while time.monotonic() < until:
            found = ADDRESS.search(self.said())
            if found:
                return found[1]
            if self.process.poll() is not None:
                break
            time.sleep(0.05)
        raise RuntimeError(f"the desk did not start:\n{self.said()}")

    def said(self) -> str:
        """All it has printed so far."""
        return self.output.read_text(encoding="utf-8", errors="replace")

    @property
    def way_in(self) -> str:
        """The address with the key that has not been used yet."""
        return KEY.findall(self.said())[-1]


@contextmanager
def running(place: Path) -> Iterator[Desk]:
    """A desk on an empty data folder, ended afterwards.

    place: an empty folder
    """
    output = place / "said.txt"
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("TUNWRIGHT", "DJANGO"))}
    environment |= {"PYTHONPATH": str(SOURCE), "PYTHONUNBUFFERED": "1"}
    environment.pop("DATABASE_URL", None)
    command = [sys.executable, "-m", "tunwright", "serve", "--port", "0", "--data", str(place / "data"), "--no-open"]
    with output.open("wb") as file:
        process = subprocess.Popen(command, stdout=file, stderr=subprocess.STDOUT, env=environment)
    try:
        yield Desk(process, output)
    finally:
        process.terminate()
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()


@contextmanager
def browsing() -> Iterator[Browser]:
    """The browser, without a window."""
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium(), args=FLAGS)
        yield browser
        browser.close()


def let_in(browser: Browser, desk: Desk) -> Any:
    """The cookies of a browser that came in by the key; `browser.new_context(storage_state=…)` takes them."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(desk.way_in)
    state = context.storage_state()
    context.close()
    return state


def ask(context: BrowserContext, method: str, address: str, body: Any = None) -> Any:
    """Ask the desk's API with the cookies of a browser: the answer, or an error when it refuses."""
    token = next((one["value"] for one in context.cookies() if one["name"] == "csrftoken"), "")
    head = {"X-CSRFToken": token, "Accept": "application/json", "Content-Type": "application/json"}
    sent = None if body is None else json.dumps(body)
    answer = context.request.fetch(address, method=method, headers=head, data=sent)
    if not answer.ok:
        raise RuntimeError(f"{method} {address}: {answer.status} {answer.text()[:500]}")
    return answer.json() if "json" in answer.headers.get("content-type", "") else answer.text()


def quiet(page: Page) -> None:
    """Wait until a page of the desk has drawn what it has to draw."""
    page.wait_for_selector('[aria-busy="true"]', state="detached")
    if page.locator("#bench").count():
        page.wait_for_selector("#side svg[data-scale]")
        page.wait_for_selector("#findings li")
        page.wait_for_selector("#chart svg")
        page.wait_for_selector("[data-hand]")
