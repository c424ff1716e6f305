"""What may be put on a frame, where it begins and ends, and how it is told."""

from __future__ import annotations

import pytest

from tunwright.build.edit import with_value
from tunwright.build.model import Build
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.frame.candidate import Candidate, liners_for, members_for
from tunwright.checks.frame.choice import choice
from tunwright.checks.frame.load import joined
from tunwright.checks.frame.stretch import lined
from tunwright.demos import demo_text
from tunwright.tables.reinforcements import reinforcements

TEXT = demo_text("ridge-carrier")
FRAME = ("chassis", "frame")


def build(**values: str) -> Build:
    text = TEXT
    for name, value in values.items():
        text = with_value(text, (*FRAME, name), value)
    return read_text(text).build


def test_spans_that_meet_are_one() -> None:
    assert joined([(2.0, 3.0), (0.0, 1.0), (1.0, 1.5)]) == ((0.0, 1.5), (2.0, 3.0))
    assert joined([(0.0, 4.0), (1.0, 2.0)]) == ((0.0, 4.0),)
    assert joined([(0.0, 1.0), (1.4, 2.0)], gap=0.5) == ((0.0, 2.0),)


@pytest.mark.parametrize(
    ("over", "runs"),
    [
        ((3.30, 3.40), (2.65, 3.92)),  # 2.78 m is 70 mm from the mount at 2.85 m: on to 2.65 m
        ((3.50, 5.00), (2.65, 5.85)),  # 2.98 m and 5.52 m are 130 mm from mounts
        ((0.00, 0.20), (-0.52, 1.75)),  # past the subframe's end at 1.05 m to 1.57 m, and on past the mount at 1.55 m
        ((-0.80, 6.60), (-0.90, 6.70)),  # no farther than the rails
    ],
)
def test_where_a_reinforcement_begins_and_ends(over: tuple[float, float], runs: tuple[float, float]) -> None:
    assert lined(build(), [over]) == (pytest.approx(runs, abs=1e-9),)


def test_two_stretches_far_apart_stay_two() -> None:
    assert len(lined(build(), [(1.0, 1.4), (5.0, 5.1)])) == 2
    assert len(lined(build(), [(1.8, 2.0), (3.0, 3.1)])) == 1


def test_nothing_thicker_than_the_rail_and_nothing_on_a_flange_unasked() -> None:
    thick = {(kind.shape, kind.thickness) for kind in liners_for(build(), on_flange=False)}
    assert thick == {("angle", 0.005), ("angle", 0.006), ("channel", 0.005), ("channel", 0.006)}
    asked = {kind.shape for kind in liners_for(build(), on_flange=True)}
    assert asked == {"angle", "channel", "strip"}


def test_members_suit_the_rail_and_are_larger() -> None:
    """Rail flange 75 mm, present members 120 x 60 x 6 mm."""
    found = members_for(build())
    assert {(kind.height, kind.flange) for kind in found if kind.shape == "box"} == {(0.12, 0.06), (0.14, 0.07)}
    assert all(kind.height >= 0.12 and kind.flange <= 0.075 for kind in found)
    assert members_for(build().model_copy(update={"subframe": None})) == ()


def test_a_reinforcement_that_is_there_already_is_left_alone() -> None:
    liner = {"from": "0.5 m", "to": "2.0 m", "thickness": "3 mm", "weighed": True}
    text = with_value(TEXT, (*FRAME, "liner", 0), liner).replace('"390 MPa"', '"200 MPa"')
    weak = Assessment(read_text(text).build)
    found = choice(weak, most=2)
    assert all(one.candidate.liner is None for one in found.tried)
    assert len(weak.build.chassis.frame.liner) == len(found.tried[0].after.build.chassis.frame.liner) == 1


def test_progress_is_told() -> None:
    told: list[tuple[float, str]] = []
    choice(Assessment(build()), lambda part, words: told.append((part, words)), most=3)
    assert all(0.0 <= part < 1.0 for part, _ in told)
    assert any("line both rails from" in words for _, words in told)


def test_words_follow_the_units_of_the_order() -> None:
    us = read_text(with_value(TEXT, ("order", "units"), "us")).build
    one = Candidate(reinforcements().liners[3], ((0.53, 2.37),), reinforcements().members[2])
    assert " in " in one.words(us)
    assert " mm" not in one.words(us)
    assert "0.53 m" in one.words(build())


def test_every_reinforcement_says_where_it_comes_from() -> None:
    table = reinforcements()
    assert table.mark == "common practice"
    assert table.source.startswith("common practice, no source")
    assert len(set(table.liners)) == len(table.liners)
    assert len(set(table.members)) == len(table.members)
