"""Each published set answered: axle loads, permitted window, fill limit, or a plain no with the litres that do."""

from __future__ import annotations

import re

import numpy as np
import pytest

from published_sets import SETS, Carrier, text
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.sheets.data import chosen_states
from tunwright.sheets.words import answer, fill_words, needed_gross, window_words

BY_NAME = {carrier.name: carrier for carrier in SETS}


def assessed(carrier: Carrier) -> Assessment:
    return Assessment(read_text(text(carrier)).build)


@pytest.mark.parametrize("name", BY_NAME)
def test_each_set_is_answered(name: str) -> None:
    found = assessed(BY_NAME[name])
    loads = chosen_states(found, every=False)
    assert np.isfinite(loads.axles).all()
    assert loads.axles.sum(axis=1) == pytest.approx(loads.gross)
    assert found.truck.volumes.net.sum() >= BY_NAME[name].litres / 1000, "the tank must hold what was asked"
    assert window_words(found)
    assert fill_words(found)
    assert answer(found)


@pytest.mark.parametrize("name", ["A1 Type I", "A1 Type II", "A1 Type III"])
def test_what_cannot_fit_is_refused_plainly(name: str) -> None:
    found, carrier = assessed(BY_NAME[name]), BY_NAME[name]
    said = answer(found)
    assert said.startswith("Does not fit as specified")
    assert found.window.filled == "most"
    assert 0 < found.window.water < carrier.litres / 1000
    gross = needed_gross(found)
    assert gross > carrier.gross
    assert re.sub(r"\D", "", f"{int(np.ceil(gross))}") in re.sub(r"[^\d]", "", said)


@pytest.mark.parametrize("name", ["A1 Type I", "A1 Type II"])
def test_the_litres_that_would_do_hold_and_no_more(name: str) -> None:
    found = assessed(BY_NAME[name])
    build, most = found.build, found.window
    place = most.low
    moved = build.model_copy(update={"tank": build.tank.model_copy(update={"middle": type(build.tank.middle)(place)})})
    within = Assessment(moved, cap=most.water * 0.999)
    beyond = Assessment(moved, cap=most.water * 1.01)
    loads = {limit.key for limit in found.limits}
    assert not [f.key for f in within.findings if f.verdict == "fails" and f.key in loads]
    assert [f.key for f in beyond.findings if f.verdict == "fails" and f.key in loads]
