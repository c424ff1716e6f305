"""The frame on the desk: its part of a look, its sheets, and where they are offered."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from framed import known
from tunwright.demos import demo_text
from tunwright.desk.judging import SLOW
from tunwright.desk.makers import KINDS, make
from tunwright.desk.pages import _says_mounts

Ask = Callable[..., Any]


def test_a_look_shows_the_loaded_frame(ask: Ask, quarry: str) -> None:
    status, seen = ask("POST", f"/api/builds/{quarry}/look", {"parts": ["frame"]})
    assert status == 200
    frame, assessment = seen["frame"], known("quarry-carrier")
    assert frame["svg"].startswith("<svg")
    assert "tw-sheet" in frame["svg"]
    assert [one["key"] for one in frame["cases"]] == [trial.case.key for trial in assessment.framework.ladder.trials]
    rails = [one["rail_mpa"] for one in frame["cases"] if not one["lost"]]
    worst = assessment.finding("frame-rail").value
    assert worst is not None
    assert max(rails) == pytest.approx(worst, abs=0.05)
    assert f"{worst:.0f} MPa" in frame["words"].replace("\u2009", " ")
    assert "frame" in SLOW


def test_a_frame_that_is_not_known_says_what_to_measure(ask: Ask, quarry: str) -> None:
    body = {"text": demo_text("lane-carrier"), "parts": ["frame"]}
    frame = ask("POST", f"/api/builds/{quarry}/look", body)[1]["frame"]
    assert (frame["svg"], frame["cases"]) == (None, [])
    assert "flange width of a rail" in frame["words"]


@pytest.mark.parametrize("kind", ["frame.pdf", "mounting.pdf", "frame.svg", "frame.dxf", "mounting.dxf", "holes.dxf"])
def test_its_sheets_are_made(kind: str) -> None:
    told: list[str] = []
    made = make(kind, demo_text("village-carrier"), lambda _, words: told.append(words))
    assert made.startswith({"pdf": b"%PDF", "svg": b"<svg", "dxf": b"  0"}[kind.rsplit(".", 1)[1]])
    assert KINDS[kind].words in told


def test_a_sheet_that_cannot_be_drawn_says_why() -> None:
    with pytest.raises(ValueError, match=r"measure or give: .*flange width"):
        make("mounting.pdf", demo_text("lane-carrier"), lambda _, __: None)


def test_they_are_offered_where_a_build_has_mounts() -> None:
    assert _says_mounts(demo_text("quarry-carrier"))
    assert _says_mounts('mount = [{ name = "one", at = "2 m", kind = "plate" }]')
    assert not _says_mounts(demo_text("lane-carrier"))
