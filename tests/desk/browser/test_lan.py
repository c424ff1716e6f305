"""A desk that is open to the network, in a real browser: HTTPS, accounts, the password form, and who is kept out."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from desk.browser.running import SOURCE
from desk.browser.test_access import axe
from tunwright.demos import NAMES
from tunwright.desk.accounts import TRIES

LONG, OTHER = "salt cellar under stairs", "copper kettle on the sill"
Contexts = Callable[..., BrowserContext]


@dataclass(frozen=True)
class Lan:
    """A running desk.

    data: its folder
    base: its address
    password: of the first account
    """

    data: Path
    base: str
    password: str

    @property
    def port(self) -> int:
        return int(self.base.rpartition(":")[2])

    def account(self, name: str) -> str:
        """Make an account while the desk runs; its password."""
        words = [sys.executable, "-m", "tunwright", "account", name, "--data", str(self.data)]
        run = subprocess.run(words, capture_output=True, text=True, check=True, env=environment())
        return run.stdout.strip().rpartition(" ")[2]


def environment() -> dict[str, str]:
    kept = {
        name: value for name, value in os.environ.items() if not name.startswith(("TUNWRIGHT", "DJANGO", "DATABASE"))
    }
    return kept | {"PYTHONPATH": str(SOURCE), "PYTHONUNBUFFERED": "1"}


@contextmanager
def open_desk(place: Path) -> Iterator[Lan]:
    said = place / "said.txt"
    words = [sys.executable, "-m", "tunwright", "serve", "--lan", "--port", "0", "--no-open"]
    with said.open("wb") as file:
        process = subprocess.Popen(
            [*words, "--data", str(place / "data")], stdout=file, stderr=subprocess.STDOUT, env=environment()
        )
    try:
        until = time.monotonic() + 60
        while "Stop it" not in said.read_text() and process.poll() is None and time.monotonic() < until:
            time.sleep(0.05)
        told = said.read_text()
        port = re.search(r"The desk is at https://\S+?:(\d+)/", told)
        password = re.search(r"First account: name lead, password (\S+)", told)
        assert port, told
        assert password, told
        yield Lan(place / "data", f"https://127.0.0.1:{port[1]}", password[1])
    finally:
        process.terminate()
        process.wait(20)


@pytest.fixture(scope="module")
def lan_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lan]:
    with open_desk(tmp_path_factory.mktemp("lan")) as found:
        yield found


@pytest.fixture
def page(context_of: Contexts) -> Page:
    """A browser nobody has let in; the certificate is the desk's own, which no browser knows."""
    return stranger(context_of)


@pytest.fixture
def cookies() -> None:
    """None: here nobody comes in by a key."""


def stranger(context_of: Contexts) -> Page:
    return context_of(storage_state=None, ignore_https_errors=True).new_page()


def log_in(page: Page, desk: Lan, name: str, password: str) -> None:
    page.goto(desk.base + "/login")
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Enter").click()


def forget(heard: list[str], status: int) -> None:
    """A browser notes every refusal in its console."""
    heard[:] = [one for one in heard if str(status) not in one]


def change(page: Page, old: str, new: str, again: str) -> None:
    """Fill the form in and send it, by keys alone."""
    page.get_by_label("Present password").focus()
    for typed in (old, new, again):
        page.keyboard.press("ControlOrMeta+a")
        page.keyboard.press("Delete")
        page.keyboard.type(typed)
        page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Change the password")).to_be_focused()
    page.keyboard.press("Enter")


def test_a_browser_that_does_not_know_the_certificate_warns(chrome: Browser, lan_desk: Lan) -> None:
    context = chrome.new_context()
    with pytest.raises(Exception, match="ERR_CERT_AUTHORITY_INVALID"):
        context.new_page().goto(lan_desk.base + "/")
    context.close()


def test_logging_in_seeing_the_builds_and_leaving(page: Page, lan_desk: Lan) -> None:
    password = lan_desk.account("mara")
    page.goto(lan_desk.base + "/new")
    expect(page.locator("h1")).to_contain_text("Enter the desk")
    assert axe(page) == []
    page.get_by_label("Name").fill("mara")
    page.get_by_label("Password").fill("not the password")
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert")).to_contain_text("do not belong together")
    expect(page.get_by_label("Name")).to_have_value("mara")
    assert axe(page) == []

    page.get_by_label("Password").fill(password)
    page.keyboard.press("Enter")
    expect(page).to_have_url(lan_desk.base + "/new")
    page.goto(lan_desk.base + "/")
    expect(page.locator(".builds > li")).to_have_count(len(NAMES))
    expect(page.locator(".builds")).to_contain_text("Marrow Hollow")
    cookies = {one["name"]: one for one in page.context.cookies()}
    assert cookies["tunwright_login"]["secure"]
    assert cookies["tunwright_login"]["httpOnly"]

    page.get_by_role("link", name="Settings").click()
    expect(page.locator("main")).to_contain_text("for mara")
    page.get_by_role("button", name="Leave the desk").click()
    expect(page).to_have_url(lan_desk.base + "/login")
    page.goto(lan_desk.base + "/")
    expect(page.locator("h1")).to_contain_text("Enter the desk")


def test_plain_http_is_refused_in_a_sentence(chrome: Browser, lan_desk: Lan) -> None:
    context = chrome.new_context()
    page = context.new_page()
    answer = page.goto(f"http://127.0.0.1:{lan_desk.port}/")
    assert answer is not None
    assert answer.status == 400
    expect(page.locator("body")).to_contain_text("speaks HTTPS only")
    context.close()
    with socket.create_connection(("127.0.0.1", lan_desk.port), timeout=10) as plain:
        plain.sendall(b"POST /login HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 9\r\n\r\npassword=")
        came = b"".join(iter(lambda: plain.recv(4096), b""))
    assert came.startswith(b"HTTP/1.1 400 ")
    assert b"put https:// before its address" in came


def test_the_password_form_says_what_it_refuses(page: Page, lan_desk: Lan, heard: list[str]) -> None:
    password = lan_desk.account("piet")
    log_in(page, lan_desk, "piet", password)
    page.goto(lan_desk.base + "/me")
    assert axe(page) == []
    wrong = page.locator("#password").get_by_role("alert")
    for old, new, again, words, field in (
        ("", LONG, LONG, "Type your present password", "Present password"),
        (password, "", "", "Type the new password", "New password"),
        (password, LONG, OTHER, "are not the same", "New password, again"),
        ("guess", LONG, LONG, "present password is not right", "Present password"),
        (password, "short", "short", "too short", "New password"),
        (password, "password123", "password123", "too common", "New password"),
        (password, password, password, "is the present one", "New password"),
    ):
        change(page, old, new, again)
        expect(wrong).to_contain_text(words)
        at = page.get_by_label(field, exact=True)
        expect(at).to_be_focused()
        expect(at).to_have_attribute("aria-invalid", "true")
        expect(at).to_have_accessible_description(re.compile(words))
        expect(page.locator("#password [aria-invalid=true]")).to_have_count(1)
    assert axe(page) == []
    forget(heard, 400)


def test_a_changed_password_shuts_the_other_devices_out(page: Page, context_of: Contexts, lan_desk: Lan) -> None:
    password, other = lan_desk.account("jon"), stranger(context_of)
    for one in (page, other):
        log_in(one, lan_desk, "jon", password)
        expect(one.locator(".builds > li")).to_have_count(len(NAMES))
    page.goto(lan_desk.base + "/me")
    change(page, password, LONG, LONG)
    expect(page.locator("#password-said")).to_contain_text("The password is changed")
    expect(page.get_by_label("Present password")).to_have_value("")
    assert LONG not in page.url
    page.goto(lan_desk.base + "/")
    expect(page.locator(".builds > li")).to_have_count(len(NAMES))
    other.goto(lan_desk.base + "/")
    expect(other.locator("h1")).to_contain_text("Enter the desk")
    log_in(other, lan_desk, "jon", LONG)
    expect(other.locator(".builds > li")).to_have_count(len(NAMES))


def test_whoever_guesses_must_wait(page: Page, tmp_path: Path, heard: list[str]) -> None:
    with open_desk(tmp_path) as desk:
        for _ in range(TRIES):
            log_in(page, desk, "lead", "guess")
            expect(page.get_by_role("alert")).to_contain_text("do not belong together")
        log_in(page, desk, "lead", desk.password)
        expect(page.get_by_role("alert")).to_contain_text("Too many wrong passwords")
        expect(page.get_by_role("alert")).to_contain_text("Try again in 5 minutes")
        assert axe(page) == []
    forget(heard, 429)
