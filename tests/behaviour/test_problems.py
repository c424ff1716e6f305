"""The sentences in which a build file's problems are told."""

from __future__ import annotations

import pickle

import pytest

from tunwright.build.problems import BuildProblems, Problem, key_path, nearest

FULL = Problem(
    line=12,
    path="chassis.axle[2].kerb_load",
    given="4700",
    message="The load needs a unit.",
    allowed="a mass in kg, t, lb",
    example='"4700 kg"',
)


def bare(line: int | None, message: str = "It is wrong.") -> Problem:
    return Problem(line=line, path="", given="", message=message, allowed="", example="")


def test_a_sentence_says_where_what_and_what_would_do() -> None:
    assert FULL.sentence("build.toml") == (
        "build.toml:12: chassis.axle[2].kerb_load: The load needs a unit. "
        'Given 4700; allowed a mass in kg, t, lb; for example "4700 kg".'
    )


def test_what_is_not_known_is_left_out() -> None:
    assert bare(None).sentence("build.toml") == "build.toml: It is wrong."
    assert bare(3).sentence("build.toml") == "build.toml:3: It is wrong."
    only = Problem(line=3, path="order", given="", message="Wrong.", allowed="a table", example="")
    assert only.sentence("b.toml") == "b.toml:3: order: Wrong. Allowed a table."


def test_long_and_broken_texts_are_quoted_on_one_line() -> None:
    long = Problem(line=1, path="a", given="x\n" * 200, message="Wrong.", allowed="", example="")
    sentence = long.sentence("b.toml")
    assert "\n" not in sentence
    assert sentence.endswith("x x….")
    assert len(sentence) < 100


def test_problems_come_by_line_and_those_without_a_line_last() -> None:
    given = [bare(None), bare(9), bare(2, "First."), bare(2, "Second.")]
    problems = BuildProblems("b.toml", given)
    assert [(one.line, one.message) for one in problems.problems] == [
        (2, "First."),
        (2, "Second."),
        (9, "It is wrong."),
        (None, "It is wrong."),
    ]
    assert str(problems).split("\n") == [one.sentence("b.toml") for one in problems.problems]
    assert problems.file == "b.toml"


def test_problems_survive_a_process_pool() -> None:
    twin = pickle.loads(pickle.dumps(BuildProblems("b.toml", [FULL, bare(1)])))  # noqa: S301  # our own bytes
    assert (twin.file, twin.problems) == ("b.toml", [bare(1), FULL])


@pytest.mark.parametrize(
    ("path", "text"),
    [
        (("chassis", "axle", 1, "kerb_load"), "chassis.axle[2].kerb_load"),
        (("tank", "outline", 0, 1), "tank.outline[1][2]"),
        (("order", "odd key"), 'order."odd key"'),
        (("", "é"), '""."é"'),
        ((), ""),
    ],
)
def test_paths_are_counted_from_one(path: tuple[str | int, ...], text: str) -> None:
    assert key_path(path) == text


@pytest.mark.parametrize(
    ("word", "expected"),
    [("kerbload", "kerb_load"), ("KERB_LOAD", "kerb_load"), ("Ratng", "Rating"), ("colour", None), ("", None)],
)
def test_the_nearest_name(word: str, expected: str | None) -> None:
    assert nearest(word, ["at", "kerb_load", "Rating"]) == expected
