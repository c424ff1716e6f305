"""The lifting plan on the desk: offered for a build that says how its tank is lifted, and only for such."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client

from tunwright.demos import demo_text
from tunwright.desk import makers

Ask = Callable[..., Any]
LIFTING = ("lifting.pdf", "lifting.svg", "lifting.dxf")


def offered(browser: Client, slug: str) -> str:
    return browser.get(f"/b/{slug}/sheets").content.decode()


def test_a_build_without_a_lift_is_offered_no_plan(browser: Client, quarry: str) -> None:
    page = offered(browser, quarry)
    assert 'data-kind="dossier"' in page
    assert not any(f'data-kind="{kind}"' in page for kind in LIFTING)


def test_a_build_with_a_lift_is(browser: Client, ask: Ask) -> None:
    slug = ask("POST", "/api/builds", {"from": "demo", "demo": "village-carrier"})[1]["slug"]
    assert all(f'data-kind="{kind}"' in offered(browser, slug) for kind in LIFTING)


@pytest.mark.parametrize("kind", LIFTING)
def test_asked_for_all_the_same_it_is_refused_in_a_sentence(kind: str) -> None:
    with pytest.raises(ValueError, match=r"says nothing of a lift; give a table \[lifting\]"):
        makers.make(kind, demo_text("quarry-carrier"), lambda *_: None)
