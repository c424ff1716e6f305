"""Who is let in: the one-time key on this machine, accounts in the network; what every answer carries."""

from __future__ import annotations

import pytest
from django.contrib.auth import get_user_model
from django.test import Client

from tunwright.desk import accounts
from tunwright.desk.gate import COOKIE, KEYS
from tunwright.desk.refusal import Refusal

LONG, OTHER = "salt cellar under stairs", "copper kettle on the sill"


def stranger(**more: object) -> Client:
    return Client(SERVER_NAME="localhost", raise_request_exception=False, **more)


@pytest.mark.parametrize(
    "address", ["/", "/new", "/b/x/", "/b/x/side.svg", "/api/builds", "/api/openapi.json", "/nothing"]
)
def test_nobody_gets_in_without_the_key(address: str) -> None:
    response = stranger().get(address)
    assert response.status_code == 401
    assert KEYS.key not in response.content.decode()
    assert ("application/json" in response.headers["Content-Type"]) == address.startswith("/api/")


def test_a_key_works_once_and_leaves_the_address() -> None:
    key, client = KEYS.key, stranger()
    response = client.get("/new", {"key": key, "x": "1"})
    assert (response.status_code, response.headers["Location"]) == (302, "/new?x=1")
    cookie = response.cookies[COOKIE]
    assert cookie["httponly"]
    assert cookie["samesite"] == "Lax"
    assert client.get("/api/me").status_code == 200
    assert stranger().get("/", {"key": key}).status_code == 401
    assert client.get("/", {"key": key}).headers["Location"] == "/"
    assert KEYS.key != key


def test_every_key_made_after_the_first_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[str] = []
    monkeypatch.setattr(KEYS, "tell", told.append)
    stranger().get("/", {"key": KEYS.key})
    assert told == [KEYS.key]


@pytest.mark.parametrize("value", ["", "desk", "ImRlc2si:1xWERl:8DVqlEnEwGTf"])
def test_a_made_up_cookie_opens_nothing(value: str) -> None:
    client = stranger()
    client.cookies[COOKIE] = value
    assert client.get("/api/me").status_code == 401


def test_the_way_back_cannot_lead_elsewhere() -> None:
    response = stranger().get("/", {"key": KEYS.key}, PATH_INFO="//elsewhere.example/")
    assert response.headers["Location"] == "/elsewhere.example/"


def test_the_desk_answers_to_its_own_names_only(browser: Client) -> None:
    response = browser.get("/", SERVER_NAME="elsewhere.example")
    assert response.status_code == 400
    assert "does not answer to the name" in response.content.decode()
    assert browser.get("/api/me", SERVER_NAME="elsewhere.example").json()["error"]["words"]


def test_a_change_needs_the_mark_of_a_page() -> None:
    client = stranger(enforce_csrf_checks=True)
    client.get("/", {"key": KEYS.key})
    body = {"data": '{"theme": "dark"}', "content_type": "application/json"}
    refused = client.put("/api/me", **body)
    assert refused.status_code == 403
    assert "Load the page again" in refused.json()["error"]["words"]
    client.get("/api/me")
    mark = client.cookies["csrftoken"].value
    assert client.put("/api/me", **body, headers={"X-CSRFToken": mark}).json()["theme"] == "dark"


def test_every_answer_forbids_foreign_scripts_and_frames(browser: Client) -> None:
    for address in ("/", "/api/me", "/nothing"):
        headers = browser.get(address).headers
        assert headers["Content-Security-Policy"].startswith("default-src 'self'")
        assert "unsafe" not in headers["Content-Security-Policy"]
        assert headers["X-Content-Type-Options"] == "nosniff"


def test_in_the_network_an_account_is_needed(lan: None) -> None:
    client = stranger()
    response = client.get("/new")
    assert (response.status_code, response.headers["Location"]) == (302, "/login?next=%2Fnew")
    assert client.get("/api/me").status_code == 401
    assert client.get("/", {"key": KEYS.key}).status_code == 302
    assert client.get("/api/me").status_code == 401


def test_logging_in_and_out(lan: None) -> None:
    accounts.set_account("mara", LONG)
    client = stranger()
    assert client.get("/login").status_code == 200
    wrong = client.post("/login", {"username": "mara", "password": "no"})
    assert wrong.status_code == 200
    right = client.post("/login", {"username": "mara", "password": LONG, "next": "/new"})
    assert (right.status_code, right.headers["Location"]) == (302, "/new")
    assert client.get("/api/me").json()["owner"] == "mara"
    assert client.get("/logout").status_code == 405
    client.post("/logout")
    assert client.get("/api/me").status_code == 401


@pytest.fixture
def tries(monkeypatch: pytest.MonkeyPatch) -> accounts.Tries:
    made = accounts.Tries()
    monkeypatch.setattr(accounts, "FAILED", made)
    return made


def test_guessing_is_slowed_down(lan: None, tries: accounts.Tries) -> None:
    accounts.set_account("mara", LONG)
    client = stranger()
    for _ in range(accounts.TRIES):
        assert client.post("/login", {"username": "mara", "password": "no"}).status_code == 200
    refused = client.post("/login", {"username": "mara", "password": LONG})
    assert refused.status_code == 429
    assert "Try again in 5 minutes." in refused.content.decode()
    assert 0 < int(refused.headers["Retry-After"]) <= accounts.WITHIN
    elsewhere = client.post("/login", {"username": "mara", "password": LONG}, REMOTE_ADDR="192.0.2.7")
    assert elsewhere.status_code == 302


def test_waiting_ends(tries: accounts.Tries, monkeypatch: pytest.MonkeyPatch) -> None:
    now = [1000.0]
    monkeypatch.setattr(accounts.time, "monotonic", lambda: now[0])
    for _ in range(accounts.TRIES):
        assert tries.wait("a") == 0
        tries.failed("a")
        now[0] += 1
    assert tries.wait("a") == accounts.WITHIN - accounts.TRIES
    now[0] += accounts.WITHIN - accounts.TRIES
    assert tries.wait("a") == 0


def test_a_password_is_changed_by_who_knows_it(lan: None, tries: accounts.Tries) -> None:
    accounts.set_account("mara", LONG)
    client = stranger()
    client.post("/login", {"username": "mara", "password": LONG})

    def change(old: str, new: str) -> tuple[int, list[str]]:
        body = f'{{"old": "{old}", "new": "{new}"}}'
        answer = client.put("/api/me/password", data=body, content_type="application/json")
        assert LONG not in answer.content.decode()
        return answer.status_code, [one["path"] for one in answer.json().get("error", {}).get("problems", [])]

    assert change("guess", OTHER) == (400, ["old"])
    assert change(LONG, "short") == (400, ["new"])
    assert change(LONG, "password123") == (400, ["new"])
    assert change(LONG, LONG) == (400, ["new"])
    assert change(LONG, OTHER) == (200, [])
    assert client.get("/api/me").status_code == 200
    assert stranger().login(username="mara", password=OTHER)
    assert not stranger().login(username="mara", password=LONG)
    for _ in range(accounts.TRIES - 1):
        assert change("guess", LONG)[0] == 400
    assert change(OTHER, LONG)[0] == 429
    assert stranger().login(username="mara", password=OTHER)


def test_the_password_form_is_there_where_there_are_accounts(request: pytest.FixtureRequest, browser: Client) -> None:
    assert 'id="password"' not in browser.get("/me").content.decode()
    request.getfixturevalue("lan")
    accounts.set_account("mara", LONG)
    client = stranger()
    client.post("/login", {"username": "mara", "password": LONG})
    form = client.get("/me").content.decode().partition('<form class="panel" id="password"')[2].partition("</form>")[0]
    assert form.count('type="password"') == 3
    assert 'method="post"' in form  # without scripts a form sent by GET would show the passwords in its address


def test_the_first_account_is_made_once() -> None:
    password = accounts.first_account()
    assert password is not None
    assert stranger().login(username=accounts.FIRST, password=password)
    assert accounts.first_account() is None
    assert get_user_model().objects.count() == 1


@pytest.mark.parametrize(("name", "password"), [("no spaces", LONG), ("", LONG), ("mara", "short")])
def test_a_bad_account_is_refused(name: str, password: str) -> None:
    with pytest.raises(Refusal):
        accounts.set_account(name, password)
    assert not get_user_model().objects.exists()


def test_without_accounts_there_is_no_log_in(browser: Client) -> None:
    assert browser.get("/login").status_code == 404
    body = {"data": '{"old": "a", "new": "b"}', "content_type": "application/json"}
    assert browser.put("/api/me/password", **body).status_code == 400
