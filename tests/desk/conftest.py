"""A desk on a data folder of its own, emptied before every test."""

from __future__ import annotations

import atexit
import json
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import django
import pytest

from tunwright.desk.start import environment

DATA = Path(tempfile.mkdtemp(prefix="tunwright-desk-"))
atexit.register(shutil.rmtree, DATA, ignore_errors=True)
os.environ["DATABASE_URL"] = os.environ.get("TUNWRIGHT_TEST_DATABASE", "")  # never one that somebody works with
environment(DATA)
django.setup()

from django.conf import settings  # noqa: E402  # Django is set up above
from django.core.management import call_command  # noqa: E402
from django.db import connections  # noqa: E402
from django.http import HttpResponse  # noqa: E402
from django.test import Client, override_settings  # noqa: E402

Ask = Callable[..., Any]


@pytest.fixture(scope="session")
def _tables() -> None:
    call_command("migrate", verbosity=0)


@pytest.fixture(autouse=True)
def _empty(_tables: None) -> Iterator[None]:
    call_command("flush", verbosity=0, interactive=False)
    yield
    connections.close_all()


@pytest.fixture
def browser() -> Client:
    """A browser that came in with the key."""
    from tunwright.desk.gate import KEYS

    client = Client(raise_request_exception=False, SERVER_NAME="localhost")
    assert client.get("/", {"key": KEYS.key}).status_code == 302
    return client


@pytest.fixture
def ask(browser: Client) -> Ask:
    """`ask("PUT", "/api/…", body)` -> (status, answer)."""
    return asker(browser)


def asker(client: Client) -> Ask:
    def asked(method: str, address: str, body: Any = None) -> tuple[int, Any]:
        sent = {} if body is None else {"data": json.dumps(body), "content_type": "application/json"}
        response: HttpResponse = client.generic(method, address, **sent)
        plain = "json" in response.headers.get("Content-Type", "") and not response.streaming
        return response.status_code, json.loads(response.content) if plain else response

    return asked


@pytest.fixture
def quarry(ask: Ask) -> str:
    """The slug of a build from a demo."""
    status, made = ask("POST", "/api/builds", {"from": "demo", "demo": "quarry-carrier"})
    assert status == 201
    return str(made["slug"])


@pytest.fixture
def lan() -> Iterator[None]:
    """The desk as it is when open to the network."""
    with override_settings(
        PLACE=replace(settings.PLACE, lan=True), PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"]
    ):
        yield
