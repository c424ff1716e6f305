"""Line numbers of keys: every path the reader finds has the line it is written on."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from tunwright.build.locate import line_of, locate

Path = tuple[str | int, ...]

# A line ends with "# <- path", or several parted by " & ", when those paths must be found there.
MARKED = r'''
# A comment with = and [brackets] and """
format = 1                                        # <- format

[order]                                           # <- order
title = "A # that is no comment"                  # <- order/title
"odd key" = 'C:\no\escape "'                      # <- order/odd key
"tab\tand \u00e9" = "say \"[x]\""                 # <- order/tab	and é
'' = 0                                            # <- order/
due = 2031-05-27 07:32:00                         # <- order/due
rules = ["one", "two, [three]", 'four']           # <- order/rules & order/rules/0 & order/rules/1 & order/rules/2
note = """                                        # text, no comment
[chassis]
at = "9 m"
a quote: "" and an escaped one: \""""
also = \'\'\'first
''at = 1'' [[chassis.axle]]\'\'\'                     # <- -
six = """"two quotes inside at both ends""""      # <- order/six
empty = """"""                                    # <- order/empty
none = []                                         # <- order/none

  [chassis.frame]                                 # <- chassis & chassis/frame
  web.height = "250 mm"                           # <- chassis/frame/web & chassis/frame/web/height
  web . thickness = "8 mm"                        # <- chassis/frame/web/thickness

[chassis]                                         # <- -
maker = "none"                                    # <- chassis/maker

[[chassis.axle]]                                  # <- chassis/axle & chassis/axle/0
at = "0 m"                                        # <- chassis/axle/0/at
kerb_load = { value = "4700 kg", from = "maker" }  # <- chassis/axle/0/kerb_load/value & chassis/axle/0/kerb_load/from
[chassis.axle.tyre]                               # <- chassis/axle/0/tyre
size.wide = 385                                   # <- chassis/axle/0/tyre/size & chassis/axle/0/tyre/size/wide
[[ chassis . "axle" ]]                            # <- chassis/axle/1
[[chassis.axle.spring]]                           # <- chassis/axle/1/spring & chassis/axle/1/spring/0
[[chassis.axle.spring]]                           # <- chassis/axle/1/spring/1
leaf.count = 3                                    # <- chassis/axle/1/spring/1/leaf & chassis/axle/1/spring/1/leaf/count
[chassis.axle.spring.pin]                         # <- chassis/axle/1/spring/1/pin
[[chassis.axle]]                                  # <- chassis/axle/2
[[chassis.axle.spring]]                           # <- chassis/axle/2/spring & chassis/axle/2/spring/0

[tank]                                            # <- tank
outline = [                                       # <- tank/outline
  # a comment, with ] in it
  ["0 m", "1 m"],                                 # <- tank/outline/0 & tank/outline/0/0 & tank/outline/0/1
  [                                               # <- tank/outline/1
    -1.5e3,                                       # <- tank/outline/1/0
    true, { x.y = 1, "z" = [2, {}] },             # <- tank/outline/1/1 & tank/outline/1/2/x/y & tank/outline/1/2/z/1
  ], inf                                          # <- tank/outline/2
  , """                                           # text
  ]""", 7                                         # <- tank/outline/4
]
last = { a = { b = [ { c = 1 } ] } }              # <- tank/last/a/b/0/c
'''.replace(r"\'\'\'", "'''")  # fmt: skip


def every_path(value: Any, path: Path = ()) -> Iterator[Path]:
    if path:
        yield path
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inside in items:
        yield from every_path(inside, (*path, key))


def written(path: Path) -> str:
    return "/".join(str(part) for part in path)


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_marked_lines_are_found(ending: str) -> None:
    found = {written(path): line for path, line in locate(MARKED.replace("\n", ending)).items()}
    expected = {
        path: number
        for number, line in enumerate(MARKED.split("\n"), start=1)
        if "# <- " in line
        for path in line.partition("# <- ")[2].split(" & ")
        if path != "-"
    }
    assert len(expected) > 50
    del expected["chassis"]  # its own header comes later; see the next test
    assert {path: found.get(path) for path in expected} == expected


def test_a_header_outranks_an_earlier_mention() -> None:
    assert MARKED.split("\n")[locate(MARKED)[("chassis",)] - 1].startswith("[chassis] ")
    assert locate("[a.b]\n[a]\n") == {("a",): 2, ("a", "b"): 1}


def test_a_text_that_spans_lines_stands_where_its_key_is() -> None:
    lines = MARKED.split("\n")
    for key in ("note", "also"):
        assert lines[locate(MARKED)[("order", key)] - 1].startswith(f"{key} = ")


def test_all_that_the_reader_finds_is_located_and_nothing_else() -> None:
    assert set(locate(MARKED)) == set(every_path(tomllib.loads(MARKED)))


@pytest.mark.parametrize(
    "text", ["", "\n", "# only a comment", "a = 1", "a = '''\n'''", r'a = """x \""" b = 1 """', "[a]", "[[a]]#"]
)
def test_small_texts(text: str) -> None:
    found = locate(text)
    assert set(found) == set(every_path(tomllib.loads(text)))
    assert set(found.values()) <= {1}


def test_the_nearest_line_around_an_unknown_path() -> None:
    lines = locate(MARKED)
    axle = lines[("chassis", "axle", 1)]
    assert line_of(lines, ("chassis", "axle", 1, "spring", 1, "leaf", "count")) == axle + 3
    assert line_of(lines, ["chassis", "axle", 1, "kerb_load", "value"]) == axle
    assert line_of(lines, ("chassis", "axle", 9, "at")) == lines[("chassis", "axle")]
    assert line_of(lines, ("pump", "at")) is None
    assert line_of(lines, ()) is None


KEYS = st.text("abzAZ09_-. \"'#[]={},\\é", max_size=6)
DECOYS = st.sampled_from(["", "# [decoy]", "  # decoy = '''", '\t# """', "# {"])


@st.composite
def documents(draw: st.DrawFn) -> tuple[dict[str, Any], str]:
    """A nested document, every leaf of it a different number or a text with that number; and a text that means it."""
    count = iter(range(10_000, 99_999))

    def leaf(kind: str) -> object:
        return next(count) if kind == "number" else f"long{next(count)}"

    leaves = st.sampled_from(["number", "text"]).map(leaf)
    inner = st.recursive(leaves, lambda some: st.lists(some, max_size=3) | st.dictionaries(KEYS, some, max_size=3))
    tables = st.dictionaries(KEYS, inner | st.lists(st.dictionaries(KEYS, inner, max_size=3), max_size=3), max_size=4)
    document = draw(tables)
    lines = tomlkit.dumps(document).split("\n")
    decoys = draw(st.lists(DECOYS, min_size=len(lines), max_size=len(lines)))
    spread = "\n".join(line for pair in zip(lines, decoys, strict=True) for line in pair)
    return document, spread


@given(documents())
def test_every_leaf_is_found_on_the_line_that_holds_it(case: tuple[dict[str, Any], str]) -> None:
    document, text = case
    assert tomllib.loads(text) == document
    found = locate(text)
    assert set(found) == set(every_path(document))
    lines = text.split("\n")
    for path in every_path(document):
        value: Any = document
        for part in path:
            value = value[part]
        line = lines[found[path] - 1]
        keys = {part for inside in every_path(tomllib.loads(line)) for part in inside}
        assert next((part for part in reversed(path) if isinstance(part, str)), None) in keys
        if isinstance(value, int | str):
            assert str(value) in line


@given(documents(), st.data())
def test_texts_over_several_lines_move_what_follows_and_nothing_else(
    case: tuple[dict[str, Any], str], data: st.DataObject
) -> None:
    _, text = case
    quotes = data.draw(st.sampled_from(['"""', "'''"]))
    longer = re.sub('"(long[0-9]+)"', rf"{quotes}\n[in the way]\n# x = ''\n\1{quotes}", text)
    found, before = locate(longer), locate(text)
    assert set(found) == set(every_path(tomllib.loads(longer)))
    lines = longer.split("\n")
    for path, line in found.items():
        assert line == before[path] + 3 * lines[: line - 1].count("[in the way]")
