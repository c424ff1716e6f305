"""Twenty people at once on SQLite: no error, no write lost, one chain; and two people on one build."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import Any

from django.contrib.auth import get_user_model
from django.db import connections
from django.test import Client

from tunwright.build.edit import with_value
from tunwright.demos import demo_text
from tunwright.desk import store

PEOPLE = 20
TEXT = demo_text("village-carrier")


class Person:
    """Somebody with an account and a browser."""

    def __init__(self, name: str) -> None:
        self.client = Client(SERVER_NAME="localhost", raise_request_exception=False)
        self.client.force_login(get_user_model().objects.create_user(name))

    def ask(self, method: str, address: str, body: Any = None) -> tuple[int, Any]:
        sent = {} if body is None else {"data": json.dumps(body), "content_type": "application/json"}
        response = self.client.generic(method, address, **sent)
        return response.status_code, response.json()


def day(person: Person, number: int, slug: str, start: Barrier) -> list[int]:
    """What one person does; the statuses that came."""
    base = f"/api/builds/{slug}"
    start.wait()
    seen = []
    for step in range(4):
        text = with_value(TEXT, ("tank", "middle"), f"{2.5 + number / 100 + step / 1000:.3f} m")
        seen.append(person.ask("GET", "/api/builds")[0])
        seen.append(person.ask("PUT", f"{base}/draft", {"text": text, "version": step})[0])
        seen.append(person.ask("GET", f"{base}/draft")[0])
    seen.append(person.ask("POST", f"{base}/look", {"parts": ["loads", "side"]})[0])
    seen.append(person.ask("POST", f"{base}/revisions", {"version": 4, "base": 1, "over": True})[0])
    seen.append(person.ask("PUT", "/api/me", {"units": "us"})[0])
    seen.append(person.ask("POST", f"{base}/sheets", {"kind": "side.svg"})[0])
    connections.close_all()
    return seen


def test_twenty_people_at_once(lan: None) -> None:
    build = store.from_demo("village-carrier", author="one")
    people = [Person(f"person{i}") for i in range(PEOPLE)]
    start = Barrier(PEOPLE)
    with ThreadPoolExecutor(PEOPLE) as pool:
        days = [pool.submit(day, person, i, build.slug, start) for i, person in enumerate(people)]
        seen = [status for one in days for status in one.result()]
    assert len(seen) == PEOPLE * 16
    assert set(seen) == {200, 201, 202}
    assert seen.count(201) == PEOPLE
    assert store.newest(build).number == PEOPLE + 1
    assert store.chain_faults(build) == []
    authors = set(build.revisions.exclude(number=1).values_list("author", flat=True))
    assert len(authors) == PEOPLE


def test_two_people_see_each_other(lan: None) -> None:
    build = store.from_demo("village-carrier", author="one")
    base = f"/api/builds/{build.slug}"
    mara, piet = Person("mara"), Person("piet")
    text = with_value(TEXT, ("tank", "middle"), "2.700 m")
    mara.ask("PUT", f"{base}/draft", {"text": text, "version": 0})
    seen = piet.ask("GET", f"{base}/draft")[1]
    assert seen["text"] == TEXT
    assert [one["owner"] for one in seen["others"]] == ["mara"]
    piet.ask("PUT", f"{base}/draft", {"text": TEXT + "# mine\n", "version": 0})
    assert mara.ask("POST", f"{base}/revisions", {"version": 1, "base": 1})[0] == 201
    status, answer = piet.ask("POST", f"{base}/revisions", {"version": 1, "base": 1})
    assert (status, answer["newest"]) == (409, 2)
    assert "mara saved revision 2" in answer["error"]["words"]
    assert piet.ask("GET", f"{base}/draft")[1]["text"] == TEXT + "# mine\n"
    assert piet.ask("GET", f"{base}/draft")[1]["newest"] == 2
