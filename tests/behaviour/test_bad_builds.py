"""Five hundred build files with faults: every fault is named, with its line, its key and what is allowed, in one go."""

from __future__ import annotations

import copy
import random
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from spoiled import DEMO, JARGON, SEEDS, SENSE, VALUES, broken_build, plain, problems_of, still
from spoiling import Doc, Where, get, put
from tunwright.build.complaints import MOST
from tunwright.build.problems import BuildProblems, Problem, key_path
from tunwright.build.reading import LARGEST, read_file, read_text


def assert_readable(problem: Problem, rows: list[str]) -> None:
    """A sentence with line, key and what is allowed, in plain words."""
    sentence = problem.sentence("bad.toml")
    assert problem.message.endswith((".", "?")), sentence
    assert not JARGON.search(sentence.replace(problem.given[:60] or "\0", "")), sentence
    assert sentence.isprintable() or all(c.isprintable() or c == "\u2009" for c in sentence), sentence
    assert problem.allowed, sentence
    assert problem.path, sentence
    if problem.line is None:
        assert "." not in problem.path, sentence
        assert "missing" in problem.message, sentence
    else:
        words = re.findall(r"[A-Za-z_-]+", problem.path)
        assert any(word in rows[problem.line - 1] for word in words) or "[" in problem.path, sentence


@pytest.mark.parametrize("seed", range(SEEDS))
def test_every_fault_is_named_and_nothing_else(seed: int) -> None:
    text, done = broken_build(seed)
    found = problems_of(text)
    paths = [problem.path for problem in found]
    for broken in done:
        for where in broken.named:
            assert key_path(where) in paths, f"{key_path(where)} is not named in\n{found}"
    known = [key_path(one) for broken in done for one in (*broken.named, *broken.also)]
    for problem in found:
        assert any(problem.path.startswith(one) or one.startswith(problem.path) for one in known), f"false: {problem}"
        assert_readable(problem, text.split("\n"))


def test_each_fault_comes_alone_and_then_with_others() -> None:
    counts = [len(broken_build(seed)[1]) for seed in range(SEEDS)]
    alone = len(SENSE) + len(VALUES)
    assert counts[:alone] == [1] * alone
    assert set(counts[alone:]) == {2, 3, 4, 5}
    assert SEEDS - alone > 300


# ------------------------------------------------------------------------------------------------- examples are right


def with_example(doc: Doc, where: Where, problem: Problem) -> Doc | None:
    """The document with the example in place of what was wrong, None where the problem shows none."""
    if not problem.example:
        return None
    tried = copy.deepcopy(doc)
    try:
        value = tomllib.loads(f"x = {problem.example}")["x"]
    except tomllib.TOMLDecodeError:
        ((key, value),) = tomllib.loads(problem.example).items()
        here = where if where and isinstance(maybe(tried, where), dict) and key != where[-1] else where[:-1]
        get(tried, here)[key] = value
    else:
        put(tried, where, value)
    return tried


def maybe(doc: Any, path: Where) -> Any:
    try:
        return get(doc, path)
    except (KeyError, IndexError, TypeError):
        return None


def place(path: str) -> Where:
    """ "chassis.axle[2].at" as keys and positions counted from 0."""
    parts = re.findall(r'"(?:[^"\\]|\\.)*"|[^.\[\]"]+|\[\d+\]', path)
    return tuple(int(p[1:-1]) - 1 if p.startswith("[") else str(p) for p in parts)


@pytest.mark.parametrize("seed", range(0, SEEDS, 5))
def test_an_example_put_in_place_is_accepted(seed: int) -> None:
    text, _ = broken_build(seed)
    doc = plain(text)
    for problem in problems_of(text):
        mended = with_example(doc, place(problem.path), problem)
        if mended is not None:
            after = [(one.path, one.message) for one in still(mended)]
            assert (problem.path, problem.message) not in after, problem
            assert problem.path not in [path for path, _ in after], (problem, after)


# ------------------------------------------------------------------------------------------------ how it is written


def rows_with_text() -> list[int]:
    return [i for i, row in enumerate(DEMO.split("\n")) if re.fullmatch(r'\w+ = "[^"]*"', row)]


@pytest.mark.parametrize("seed", range(20))
def test_writing_faults_come_together_with_the_others(seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311  # a choice of test cases
    rows = DEMO.split("\n")
    at = sorted(rng.sample(rows_with_text(), 3))
    rows[at[0]] = rows[at[0]].replace('"', "", 2)  # quotes forgotten
    rows[at[1]] = rows[at[1]] + "\n" + rows[at[1]]  # written twice
    rows[at[2]] = rows[at[2]][:-1]  # a quote not closed
    rows = "\n".join([*rows, "[states]", 'brakes = "0.4 g"']).split("\n")
    found = problems_of("\n".join(rows))
    assert [one.line for one in found] == [at[0] + 1, at[1] + 2, at[2] + 2, len(rows)], found
    for problem, i in zip(found, at, strict=False):
        assert problem.path.rsplit(".", 1)[-1] == DEMO.split("\n")[i].partition(" ")[0]
        assert_readable(problem, rows)
    assert found[-1].path == "states.brakes"


@pytest.mark.parametrize(
    ("text", "line", "path", "word"),
    [
        ("format = 1\nformat = 1", 2, "format", "twice"),
        ("[order]\n[chassis]\n[order]", 3, "order", "twice"),
        ("a = [1, 2", 1, "a", "closed"),
        ('[tank]\nlength = "5.4 m\n', 2, "tank.length", "quotation mark"),
        ("[tank]\nlength = 5.4 m", 2, "tank.length", "quotes"),
        ("[[chassis.axle]]\n[[chassis.axle]]\nat = 3.9 m", 3, "chassis.axle[2].at", "quotes"),
        ("[tank\nlength = 1", 1, "", "brackets"),
        ("just some words", 1, "", "read"),
        ("length = ", 1, "length", "missing"),
        ('a = "b\\q"', 1, "a", "backslash"),
        ("a = 1\x00", 1, "a", "control"),
        ('a = "\x1b[31m"', 1, "a", "control"),
        ("a = 2026-13-45", 1, "a", ""),
        ("format = " + "1" * 5000, 1, "format", "digits"),
        ("a" + ".a" * 20_000 + " = 1", 1, "", "dots"),
        ("[a" + ".a" * 20_000 + "]", 1, "", "dots"),
        ("a = " + "[" * 100_000, None, "", "deep"),
        ("a = " + "{a=" * 5_000, None, "", "deep"),
    ],
)
def test_what_is_not_toml_is_said_in_plain_words(text: str, line: int | None, path: str, word: str) -> None:
    first = next(one for one in problems_of(text) if one.line == line)
    assert first.path == path, first
    assert word in first.message
    assert first.allowed
    assert not JARGON.search(first.sentence("bad.toml").replace(first.given or "\0", "")), first
    assert all(c.isprintable() or c == "\u2009" for c in first.sentence("bad.toml"))


@pytest.mark.parametrize(
    ("raw", "line", "word"),
    [
        (b'format = 1\ntitle = "\xff\xfe"', 2, "UTF-8"),
        ("format = 1".encode("utf-16"), 1, "UTF-8"),
        (b"#" * (LARGEST + 1), None, "MB"),
        (b"\x00" * 50, 1, "control"),
        (bytes(range(256)), 9, "UTF-8"),
    ],
)
def test_what_is_no_text_is_refused(tmp_path: Path, raw: bytes, line: int | None, word: str) -> None:
    file = tmp_path / "bad.toml"
    file.write_bytes(raw)
    with pytest.raises(BuildProblems, match=word) as caught:
        read_file(file)
    if line != 9:
        assert caught.value.problems[0].line == line
    assert all(one.allowed for one in caught.value.problems)


def test_a_file_of_a_newer_format_is_not_guessed_at() -> None:
    (problem,) = problems_of(DEMO.replace("format = 1", "format = 2") + "[new]\nkey = 1\n")
    assert (problem.path, problem.given) == ("format", "2")
    assert "newer program" in problem.message
    assert DEMO.split("\n")[(problem.line or 0) - 1] == "format = 1"


def test_a_table_in_braces_that_cannot_be_read_says_what_it_needs() -> None:
    found = problems_of(DEMO.replace('top = { value = "1.04 m", from', 'top = { value = "1.04 m" from'))
    assert [(one.path, "commas" in one.allowed) for one in found] == [("chassis.frame.top", True)]


@pytest.mark.parametrize("name", ["", "gone.toml", "a\0b.toml"])
def test_what_is_no_file_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(BuildProblems, match=r"folder|no such file|no name|cannot be read"):
        read_file(tmp_path / name)


def test_a_mark_at_the_beginning_and_foreign_line_ends_do_no_harm(tmp_path: Path) -> None:
    file = tmp_path / "demo.toml"
    file.write_bytes(b"\xef\xbb\xbf" + DEMO.replace("\n", "\r\n").encode())
    assert read_file(file).build == read_text(DEMO).build
    assert read_text(DEMO.replace("\n", "\r\n")).build == read_text(DEMO).build


def test_thousands_of_faults_are_counted() -> None:
    text = "\n".join(f"k{i} = 1" for i in range(60_000))
    found = problems_of(text)
    assert len(found) == MOST + 1
    assert "more problems" in found[-1].message
