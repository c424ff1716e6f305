"""Remedies hold what they promise, and say what else they change."""

from __future__ import annotations

import re

import pytest

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import verdict
from tunwright.checks.remedy import Remedies
from tunwright.demos import demo_text


def quarry(*changes: tuple[str, str]) -> Assessment:
    text = demo_text("quarry-carrier")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return Assessment(read_text(text).build)


def remedy_of(found: Assessment, key: str):
    return next(f.remedy for f in Remedies(found).findings() if f.key == key)


def test_a_tank_too_far_forward_is_moved_into_the_window() -> None:
    found = quarry(('middle = "3.75 m"', 'middle = "3.55 m"'))
    assert found.finding("axle-front-grade").verdict == "fails"
    words = remedy_of(found, "axle-front-grade").words
    by = int(re.search(r"move the tank back (\d+) mm", words).group(1))  # type: ignore[union-attr]
    moved = quarry(('middle = "3.75 m"', f'middle = "{3.55 + by / 1000:.3f} m"'))
    assert moved.worst != "fails"
    short = quarry(('middle = "3.75 m"', f'middle = "{3.55 + (by - 7) / 1000:.3f} m"'))
    assert short.worst == "fails", "the five millimetres to spare and two more less would not do"


def test_too_much_water_is_capped_and_the_broken_order_is_named() -> None:
    found = quarry(('gross_rating = { value = "26000 kg"', 'gross_rating = { value = "23000 kg"'))
    told = remedy_of(found, "gross")
    litres = int(re.search(r"fill to ([\d\u2009]+) L", told.words).group(1).replace("\u2009", ""))  # type: ignore[union-attr]
    assert "capacity" in told.breaks
    assert Assessment(found.build, cap=litres / 1000).finding("gross").verdict in ("holds", "close")
    assert Assessment(found.build, cap=litres / 1000 + 0.02).finding("gross").verdict == "fails"


def changed_verdicts(before: Assessment, after: Assessment) -> tuple[set[str], set[str]]:
    """Keys that fail after a change only, and keys that fail before it only."""
    was, now = ({f.key for f in one.findings if f.verdict == "fails"} for one in (before, after))
    return now - was, was - now


def test_a_remedy_tells_what_it_does_to_the_frame_too() -> None:
    found = quarry(('middle = "3.75 m"', 'middle = "3.10 m"'))
    told = remedy_of(found, "axle-front")
    by = int(re.search(r"move the tank back (\d+) mm", told.words).group(1))  # type: ignore[union-attr]
    breaks, cures = changed_verdicts(found, quarry(('middle = "3.75 m"', f'middle = "{3.10 + by / 1000:.3f} m"')))
    assert {"frame-rail", "axle-front"} <= cures
    assert (set(told.breaks), {*told.cures, "axle-front"}) == (breaks, cures)


def test_a_remedy_that_is_too_much_for_the_rails_says_so() -> None:
    """Forward with the tank, to unload the rear axles: rails that hold by a hair do not bear it."""
    too_far_back = ('middle = "3.75 m"', 'middle = "4.40 m"')
    rail = quarry(too_far_back).finding("frame-rail")
    strength = 500.0 * 1.001 * rail.value / rail.limit  # type: ignore[operator]
    weaker = ('value = "500 MPa"', f'value = "{strength:.2f} MPa"')
    found = quarry(too_far_back, weaker)
    assert found.finding("frame-rail").verdict == "close"
    told = remedy_of(found, "axle-rear-1")
    by = int(re.search(r"move the tank forward (\d+) mm", told.words).group(1))  # type: ignore[union-attr]
    assert "frame-rail" in told.breaks
    moved = (too_far_back[0], f'middle = "{4.40 - by / 1000:.3f} m"')
    assert quarry(moved, weaker).finding("frame-rail").verdict == "fails"


def test_a_tank_too_small_is_lengthened() -> None:
    found = quarry(('volume = "12000 L"', 'volume = "13500 L"'))
    words = remedy_of(found, "capacity").words
    assert re.search(r"lengthen the tank by \d+ mm", words)


def test_a_bay_too_large_gets_a_baffle() -> None:
    text = demo_text("quarry-carrier")
    found = Assessment(read_text(re.sub(r"\[\[tank\.baffle\]\].*?\]\n\n", "", text, flags=re.DOTALL)).build)
    assert found.finding("bay-volume").verdict == "fails"
    assert "add a baffle" in remedy_of(found, "bay-volume").words


def test_a_tank_in_the_cab_is_moved_out() -> None:
    found = quarry(('middle = "3.75 m"', 'middle = "3.10 m"'))
    assert found.finding("cab-gap").verdict == "fails"
    assert "move the tank back" in remedy_of(found, "cab-gap").words


@pytest.mark.parametrize(
    ("value", "limit", "sense", "expected"),
    [
        (100.0, 100.0, "at_most", "close"),
        (100.0 + 1e-8, 100.0, "at_most", "close"),
        (100.1, 100.0, "at_most", "fails"),
        (96.0, 100.0, "at_most", "holds"),
        (0.2, 0.2, "at_least", "close"),
        (0.19, 0.2, "at_least", "fails"),
        (float("nan"), 100.0, "at_most", "open"),
        (float("inf"), 100.0, "at_most", "open"),
        (None, 100.0, "at_most", "open"),
        (1.0, None, "at_most", "open"),
    ],
)
def test_verdicts(value: float | None, limit: float | None, sense: str, expected: str) -> None:
    assert verdict(value, limit, sense) == expected  # type: ignore[arg-type]
