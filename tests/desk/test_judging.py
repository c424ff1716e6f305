from __future__ import annotations

import time
from collections.abc import Iterator
from importlib.resources import files
from threading import Thread
from typing import Any

import pytest

from tunwright.desk import judging
from tunwright.desk.live import Change, assessed, changed, look
from tunwright.desk.refusal import Refusal

TEXT = (files("tunwright.demos") / "quarry-carrier.toml").read_text(encoding="utf-8")
STATE = {"fill": 0.62, "grade": 0.0, "braking": 0.0, "slope": 0.0, "crew": True}


@pytest.fixture(scope="module")
def judge() -> Iterator[judging.Judge]:
    made = judging.Judge()
    yield made
    made.stop()


def timeless(found: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in found.items() if key != "ms"}


def test_the_judge_finds_what_is_found_here(judge: judging.Judge) -> None:
    changes = [Change(("tank", "middle"), "3.812 m")]
    parts = ["window", "findings"]
    assert timeless(judge.look("p", TEXT, changes, STATE, parts)) == timeless(look(TEXT, changes, STATE, parts))


def test_the_water_it_worked_out_comes_back_with_the_verdicts(judge: judging.Judge) -> None:
    changes = [Change(("tank", "baffle", 0, "at"), "1.3071 m")]
    hurried = look(TEXT, changes, STATE, ["side", "loads"], hurry=True)
    assert hurried["later"] == ["side"]
    assert 'data-part="window"' not in hurried["side"]["svg"]
    judged = judge.look("p", TEXT, changes, STATE, ["side", "window"])
    again = look(TEXT, changes, STATE, ["side", "loads"], hurry=True)
    assert "later" not in again
    assert again["side"] == judged["side"]
    assert 'data-part="window"' in again["side"]["svg"]
    solid = assessed(changed(TEXT, changes)).truck.solid
    own = assessed(TEXT.replace('"1.25 m"', '"1.3071 m"')).truck
    assert own.solid is solid
    assert own.table.axles.shape[0] > 300


def test_a_newer_look_of_a_page_takes_the_place_of_its_older_ones(judge: judging.Judge) -> None:
    said: list[Any] = []

    def asked(page: str, place: float) -> None:
        try:
            said.append(judge.look(page, TEXT, [Change(("tank", "length"), f"{place} m")], STATE, ["charts"]))
        except Refusal as refusal:
            said.append(refusal)

    threads = [Thread(target=asked, args=("one", 4.95 + 0.01 * i)) for i in range(6)]
    other = Thread(target=asked, args=("other", 4.93))
    for thread in [*threads, other]:
        thread.start()
    until = time.monotonic() + 10
    while len(judge._waiting.get("one", [])) < len(threads) and time.monotonic() < until:
        time.sleep(0.001)
    judge.newer("one")
    for thread in [*threads, other]:
        thread.join()
    refused = [one for one in said if isinstance(one, Refusal)]
    assert refused
    assert all(one.status == 409 and "newer look" in one.words for one in refused)
    assert [one for one in said if isinstance(one, dict)], "what another page asked for is answered"


def test_a_draft_that_does_not_read_gives_its_problems(judge: judging.Judge) -> None:
    found = judge.look("p", TEXT.replace("4.9 m", "4.9 kg"), [], STATE, ["findings"])
    assert found["problems"][0]["path"] == "tank.length"


def test_when_its_process_dies_the_answer_comes_all_the_same() -> None:
    judge = judging.Judge()
    try:
        first = judge.look("p", TEXT, [], STATE, ["window"])
        for process in judge._pool._processes.values():
            process.kill()
            process.join()
        assert timeless(judge.look("p", TEXT, [], STATE, ["window"])) == timeless(first)
        assert timeless(judge.look("p", TEXT, [], STATE, ["window"])) == timeless(first)
    finally:
        judge.stop()
