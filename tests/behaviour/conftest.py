"""The builds whose drawings are looked at."""

from __future__ import annotations

import pytest

from drawn import BARE, FOUR_AXLES, LIFTED, assessed
from tunwright.checks.assess import Assessment
from tunwright.demos import NAMES, demo_text


@pytest.fixture(scope="module", params=[*NAMES, "bare", "four axles", "lifted"])
def every(request: pytest.FixtureRequest) -> Assessment:
    own = {"bare": BARE, "four axles": FOUR_AXLES, "lifted": LIFTED}
    return assessed(own.get(request.param) or demo_text(request.param))


@pytest.fixture(scope="module")
def quarry() -> Assessment:
    return assessed(demo_text("quarry-carrier"))


@pytest.fixture(scope="module")
def bare() -> Assessment:
    return assessed(BARE)


@pytest.fixture(scope="module")
def four() -> Assessment:
    return assessed(FOUR_AXLES)
