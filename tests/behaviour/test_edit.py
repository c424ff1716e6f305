"""Changes to the text of a build file: one place changes, everything else stays as it was typed."""

from __future__ import annotations

import difflib
import random
import tomllib
from importlib.resources import files
from typing import Any

import pytest

from tunwright.build.dxf_outline import ImportedOutline
from tunwright.build.edit import NotEditable, section_text, with_outline, with_value, with_values, without, written
from tunwright.build.reading import read_text
from tunwright.build.units import Quantity
from tunwright.demos import NAMES

DEMOS = {
    name: files("tunwright.demos").joinpath(f"{name}.toml").read_text("utf-8")
    for name in NAMES
}
DEMO = DEMOS["quarry-carrier"]
Where = tuple[str | int, ...]

COMMENTED = """\
# first
format = 1   # the format

[tank]       # the tank
# about its length
length = "4 m"     # between tangents
points = [
  [1, 2],    # one
  [3, 4],
]
shell = { value = "4 mm", from = "maker", note = "ticket" }  # plate

# the baffles
[[tank.baffle]]
at = "1 m"

[[tank.baffle]]
at = "2 m"   # second
opening = [{ diameter = "460 mm" }, { diameter = "180 mm" }]

# behind the baffles
[states]
"""


def changed(before: str, after: str) -> list[str]:
    """The lines that went and came."""
    return [line for line in difflib.ndiff(before.split("\n"), after.split("\n")) if line[0] in "+-"]


def leaves(value: Any, at: Where = ()) -> list[tuple[Where, Any]]:
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    found = [leaf for key, one in pairs for leaf in leaves(one, (*at, key))]
    return found if isinstance(value, dict | list) else [(at, value)]


@pytest.mark.parametrize("name", DEMOS)
def test_setting_what_is_there_changes_no_byte(name: str) -> None:
    text = DEMOS[name]
    for where, value in leaves(tomllib.loads(text)):
        assert with_value(text, where, value) == text


@pytest.mark.parametrize("name", DEMOS)
def test_a_value_changes_in_its_line_only(name: str) -> None:
    text = DEMOS[name]
    rng = random.Random(3)  # noqa: S311  # a choice of cases
    for where, _ in rng.sample(leaves(tomllib.loads(text)), 25):
        after = with_value(text, where, "changed")
        assert len(changed(text, after)) == 2
        assert after.count("\n") == text.count("\n")
        back = with_value(after, where, dict(leaves(tomllib.loads(text)))[where])
        assert back == text


@pytest.mark.parametrize(
    ("where", "value", "lines"),
    [
        (("format",), 2, ["- format = 1   # the format", "+ format = 2   # the format"]),
        (
            ("tank", "length"),
            "5 m",
            ['- length = "4 m"     # between tangents', '+ length = "5 m"     # between tangents'],
        ),
        (("tank", "points", 0, 1), 7, ["-   [1, 2],    # one", "+   [1, 7],    # one"]),
        (
            ("tank", "shell"),
            "5 mm",
            [
                '- shell = { value = "4 mm", from = "maker", note = "ticket" }  # plate',
                '+ shell = { value = "5 mm", from = "maker", note = "ticket" }  # plate',
            ],
        ),
        (("tank", "baffle", 1, "at"), "2.5 m", ['- at = "2 m"   # second', '+ at = "2.5 m"   # second']),
        (("tank", "fall"), "1 %", ['+ fall = "1 %"']),
        (("tank", "baffle", 0, "open"), "20 %", ['+ open = "20 %"']),
        (("states", "grade"), 0.1, ["+ grade = 0.1"]),
        (("order", "title"), 'A "b"', ["+ [order]", '+ title = "A \\"b\\""', "+ "]),
        (
            ("tank", "baffle", 2),
            {"at": "3 m", "open": 0.2},
            ["+ [[tank.baffle]]", '+ at = "3 m"', "+ open = 0.2", "+ "],
        ),
        (("tank", "ring", 0), {"at": "3 m"}, ["+ [[tank.ring]]", '+ at = "3 m"', "+ "]),
        (("tank", "head", "shape"), "flat", ["+ [tank.head]", '+ shape = "flat"', "+ "]),
        (("tank", "shell", "from"), "measured", None),
        (("tank", "shell", "note"), "other", None),
        (("tank", "baffle", 1, "opening", 2), {"diameter": "50 mm"}, None),
        (("tank", "baffle", 1, "opening", 1, "height"), "1 m", None),
        (("tank", "points", 2), [5, 6], None),
        (("tank", "odd key"), True, ['+ "odd key" = true']),
    ],
)
def test_what_is_set_is_set_and_nothing_else(where: Where, value: Any, lines: list[str] | None) -> None:
    after = with_value(COMMENTED, where, value)
    here: Any = tomllib.loads(after)
    for part in where:
        here = here[part]
    assert here == value or here["value"] == value
    assert after.count("#") == COMMENTED.count("#")
    if lines is not None:
        assert sorted(changed(COMMENTED, after)) == sorted(lines)


@pytest.mark.parametrize(
    ("where", "gone"),
    [
        (("format",), 1),
        (("tank", "length"), 1),
        (("tank", "points"), 4),
        (("tank", "points", 0), None),
        (("tank", "points", 1), None),
        (("tank", "shell", "from"), None),
        (("tank", "baffle", 0), 3),
        (("tank", "baffle", 1), 4),
        (("tank", "baffle"), 7),
        (("tank", "baffle", 1, "opening", 0), None),
        (("states",), 1),
    ],
)
def test_what_is_taken_away_is_gone_and_nothing_else(where: Where, gone: int | None) -> None:
    after = without(COMMENTED, where)
    before, left = dict(leaves(tomllib.loads(COMMENTED))), dict(leaves(tomllib.loads(after)))
    lost = [path for path in before if path[: len(where)] == where]
    assert len(left) == len(before) - len(lost)
    lines = changed(COMMENTED, after)
    if gone is not None:
        assert [line[0] for line in lines] == ["-"] * gone
    for comment in ("# first", "# the tank", "# about its length", "# the baffles", "# behind the baffles"):
        assert comment in after


@pytest.mark.parametrize("seed", range(20))
def test_whatever_is_taken_away_the_rest_stays(seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311  # a choice of cases
    text = DEMOS[rng.choice(list(DEMOS))]
    where, _ = rng.choice(leaves(tomllib.loads(text)))
    where = where[: rng.randint(1, len(where))]
    after = without(text, where)
    assert set(after.split("\n")) - set(text.split("\n")) <= {
        one for one in after.split("\n") if "[" in one or "{" in one
    }
    tomllib.loads(after)


@pytest.mark.parametrize(
    ("where", "value", "word"),
    [
        (("tank",), "x", "header of its own"),
        (("tank", "length", "deep"), "x", "cannot hold"),
        (("tank", "baffle", 5), {"at": "3 m"}, "2 entries"),
        (("tank", "points", 9), 1, "cannot hold"),
        (("tank", "length"), None, "take the key away"),
    ],
)
def test_what_cannot_be_set_is_refused_in_words(where: Where, value: Any, word: str) -> None:
    with pytest.raises(NotEditable, match=word):
        with_value(COMMENTED, where, value)


def test_what_is_not_there_cannot_be_taken_away() -> None:
    with pytest.raises(NotEditable, match=r"no tank\.ring"):
        without(COMMENTED, ("tank", "ring"))


def test_a_text_that_is_not_toml_is_left_alone() -> None:
    with pytest.raises(NotEditable, match="not TOML"):
        with_value("a = = 1", ("a",), 2)


def test_foreign_line_ends_stay() -> None:
    text = COMMENTED.replace("\n", "\r\n")
    after = with_value(with_value(text, ("tank", "length"), "5 m"), ("tank", "fall"), "1 %")
    assert after.count("\r\n") == after.count("\n") == text.count("\n") + 1
    assert without(after, ("tank", "fall")).replace('"5 m"', '"4 m"') == text


def test_tables_in_any_order() -> None:
    text = '[tank]\nlength = "4 m"\n\n[order]\ntitle = "x"\n\n[tank.section] # late\nshape = "circle"\n'
    assert with_value(text, ("tank", "section", "shape"), "ellipse") == text.replace("circle", "ellipse")
    assert tomllib.loads(without(text, ("tank",))) == {"order": {"title": "x"}}


def test_a_quantity_is_written_as_it_was_typed() -> None:
    assert written(Quantity(4.191, "165 in", "length")) == '"165 in"'
    assert written({"value": "4 mm", "from": "maker"}) == '{ value = "4 mm", from = "maker" }'
    assert written([True, 1, 0.5, "é\\"]) == '[true, 1, 0.5, "é\\\\"]'


SQUARE = ImportedOutline(
    tuple((float(y), float(z)) for y, z in [(0, 0), (900, 0), (1000, 600), (0, 1300), (-1000, 600), (-900, 0)]),
    "ab" * 32,
    "section 7.dxf",
    "mm",
)


def test_an_outline_takes_the_place_of_the_section() -> None:
    text = DEMO.replace('height = "1300 mm"', 'height = "1300 mm"\n# a remark inside').replace(
        "[tank.section]", "[tank.section] # its shape"
    )
    after = with_outline(text, SQUARE)
    section = tomllib.loads(after)["tank"]["section"]
    assert section == {
        "shape": "outline",
        "unit": "mm",
        "drawn_in": "section 7.dxf",
        "sha256": "ab" * 32,
        "points": [list(point) for point in SQUARE.points_mm],
    }
    assert "# a remark inside" in after
    assert "[tank.section] # its shape" in after
    assert [line for line in text.split("\n") if "#" in line] == [line for line in after.split("\n") if "#" in line]
    assert with_outline(after, SQUARE) == after
    assert tomllib.loads(section_text(SQUARE))["tank"]["section"] == section


def test_an_outline_is_a_section_that_reads() -> None:
    text = with_outline(without(DEMO, ("tank", "baffle")), SQUARE)
    outline = read_text(text).build.tank.section.outline()
    assert outline.area == pytest.approx(SQUARE.area * 1e-6, rel=1e-12)


@pytest.mark.parametrize(
    "form",
    ['[tank]\nsection = { shape = "circle", diameter = "1 m" } # it\nlength = "4 m"\n', '[tank]\nlength = "4 m"\n', ""],
)
def test_an_outline_goes_in_where_there_is_no_table_for_it(form: str) -> None:
    after = tomllib.loads(with_outline(form, SQUARE))
    assert after["tank"]["section"]["shape"] == "outline"
    assert after["tank"].get("length") == ("4 m" if form else None)


def test_many_points_stand_on_many_lines() -> None:
    many = ImportedOutline(tuple((float(i), 0.5) for i in range(400)), "", "", "mm")
    assert max(map(len, section_text(many).split("\n"))) < 130


def test_a_place_beyond_the_end_of_a_list_is_refused_in_words() -> None:
    text = (files("tunwright.demos") / "quarry-carrier.toml").read_text("utf-8")
    with pytest.raises(NotEditable, match="the list is shorter"):
        with_value(text, ("tank", "baffle", 99, "at"), "1 m")


def test_several_values_are_set_at_once_and_one_after_the_other_where_they_must() -> None:
    at_once = with_values(DEMO, [(("tank", "length"), "5 m"), (("tank", "middle"), "3.7 m")])
    assert at_once == with_value(with_value(DEMO, ("tank", "length"), "5 m"), ("tank", "middle"), "3.7 m")
    twice = with_values(DEMO, [(("tank", "length"), "5 m"), (("tank", "length"), "5.1 m")])
    assert tomllib.loads(twice)["tank"]["length"] == "5.1 m"
    unset = with_values(DEMO, [(("tank", "length"), "5 m"), (("order", "note"), "by hand")])
    assert unset == with_value(with_value(DEMO, ("tank", "length"), "5 m"), ("order", "note"), "by hand")
