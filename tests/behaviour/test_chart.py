"""Charts: round ticks, lines told apart without colour, the table beside the picture."""

from __future__ import annotations

import doctest
import math
import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

import tunwright.sheets.chart
from tunwright.sheets.chart import Axis, Band, Chart, Limit, Mark, Series, chart_svg, chart_table
from tunwright.sheets.chart_model import told_apart
from tunwright.sheets.chart_plan import LETTER, plan_chart
from tunwright.sheets.chart_screen import SIZES, screen_charts
from tunwright.sheets.placing import crosses, four_wide, meet, overlaps, spread
from tunwright.sheets.ticks import decimals, figure, round_step, ticks

SVG = "{http://www.w3.org/2000/svg}"
X = (0.0, 50.0, 100.0)


def chart(
    *series: Series, y: Axis | None = None, limits: tuple[Limit, ...] = (), marks: tuple[Mark, ...] = ()
) -> Chart:
    lines = series or (Series("a", X, (0.0, 5.0, 10.0)),)
    return Chart("Loads", Axis("fill", "%"), y or Axis("load", "kg"), lines, limits, (), marks)


def drawn(what: Chart, theme: str = "css") -> ET.Element:
    svg = chart_svg(what, width_mm=160.0, height_mm=80.0, theme=theme)  # type: ignore[arg-type]
    return ET.fromstring(svg)  # noqa: S314


def test_a_page_gets_a_chart_in_every_width_its_labels_leave_room_for() -> None:
    found = screen_charts(chart())
    assert list(found) == [f"{width:.0f}" for width, _ in SIZES]
    boxes = [ET.fromstring(svg).get("viewBox") for svg in found.values()]  # noqa: S314
    assert boxes == [f"0 0 {width:g} {height:g}" for width, height in SIZES]
    long = screen_charts(chart(Series("a name that takes most of a narrow chart for itself alone", X, X)))
    assert 0 < len(long) < len(SIZES)


def named(root: ET.Element, name: str) -> ET.Element:
    return next(group for group in root.iter(f"{SVG}g") if group.get("data-series") == name)


def test_the_example_in_the_docstring_runs() -> None:
    assert doctest.testmod(tunwright.sheets.chart).failed == 0


@pytest.mark.parametrize(
    ("span", "most", "step"),
    [(100.0, 10, 10.0), (100.0, 6, 20.0), (16069.0, 5, 5000.0), (0.9, 4, 0.25), (1e-3, 2, 5e-4)],
)
def test_steps_are_round(span: float, most: int, step: float) -> None:
    assert round_step(span, most) == pytest.approx(step)


@given(low=st.floats(-1e6, 1e6), span=st.floats(1e-3, 1e6), most=st.integers(2, 10))
def test_ticks_lie_in_the_range_and_are_few(low: float, span: float, most: int) -> None:
    step = round_step(span, most)
    found = ticks(low, low + span, step)
    assert 1 <= len(found) <= most + 1
    assert all(low - 1e-6 * step <= value <= low + span + 1e-6 * step for value in found)
    assert all(math.isclose(value / step, round(value / step), abs_tol=1e-6) for value in found)


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [(12440.0, 0, "12\u00a0440"), (-0.5, 1, "−0.5"), (-0.04, 1, "0.0"), (999.6, 0, "1\u00a0000"), (0.25, 2, "0.25")],
)
def test_figures_are_printed_as_in_print(value: float, places: int, text: str) -> None:
    assert figure(value, places) == text


def test_a_step_shows_as_many_decimals_as_it_has() -> None:
    assert [decimals(step) for step in (500.0, 2.5, 0.25, 0.002)] == [0, 1, 2, 3]


@given(st.lists(st.floats(0.0, 100.0), min_size=1, max_size=8))
def test_names_are_moved_apart_in_order(wanted: list[float]) -> None:
    wanted.sort()
    placed = spread(wanted, [5.0] * (len(wanted) - 1), 0.0, 100.0)
    assert all(b - a >= 5.0 - 1e-9 for a, b in pairwise(placed))
    assert placed[0] >= -1e-9
    assert placed[-1] <= 100.0 + 1e-9


def test_names_with_room_stay_where_they_are_wanted() -> None:
    assert spread([10.0, 30.0, 31.0], [5.0, 5.0], 0.0, 100.0) == pytest.approx([10.0, 28.0, 33.0])
    assert spread([], [], 0.0, 1.0) == []


def test_boxes_and_lines_meet_or_not() -> None:
    box = four_wide([(0.0, 0.0, 2.0, 1.0)])
    lines = four_wide(
        [(-1.0, 0.5, 3.0, 0.5), (-1.0, 2.0, 3.0, 2.0), (1.0, 0.2, 1.0, 0.4), (0.0, -1.0, 0.0, 2.0), (-1, -1, 3, 3)]
    )
    assert crosses(lines, box).tolist() == [True, False, True, False, True]
    assert overlaps(four_wide([(2.0, 0.0, 3.0, 1.0), (1.9, 0.9, 3.0, 2.0)]), box).tolist() == [False, True]
    assert meet(four_wide([(0.0, 0.0, 1.0, 1.0)]), four_wide([(0.0, 1.0, 1.0, 0.0), (0, 2, 1, 3)])).tolist() == [
        True,
        False,
    ]


def test_no_two_lines_differ_by_colour_alone() -> None:
    lines = tuple(Series(f"s{i}", X, (1.0, 2.0, 3.0), "accent") for i in range(20))
    looks = [(line.style, line.marker) for line in told_apart(lines)]
    assert len(set(looks)) == 20
    assert looks[0] == ("solid", None)
    with pytest.raises(ValueError, match="21 series"):
        told_apart((*lines, Series("s20", X, (1.0, 2.0, 3.0))))


def test_a_look_that_is_given_stays() -> None:
    lines = (Series("a", X, X), Series("b", X, X, style="solid"), Series("c", X, X, style="solid"))
    looks = [(line.style, line.marker) for line in told_apart(lines)]
    assert looks == [("dashed", None), ("solid", None), ("solid", "circle")]


def test_dashes_and_markers_reach_the_picture() -> None:
    root = drawn(
        chart(
            Series("a", X, X), Series("b", X, X[::-1]), Series("c", X, (1.0, 1.0, 1.0), style="solid", marker="square")
        )
    )
    dashes = {name: named(root, name)[0].get("stroke-dasharray") for name in "abc"}
    assert dashes == {"a": None, "b": "2.4 1.2", "c": None}
    assert "h1.6v1.6h-1.6z" in "".join(path.attrib["d"] for path in named(root, "c").iter(f"{SVG}path"))


def test_the_table_holds_every_value() -> None:
    header, rows = chart_table(
        chart(Series("a", X, (1.0, math.nan, 3.0)), Series("b", (50.0, 75.0), (7.0, 8.0)), y=Axis("load", "kg"))
    )
    assert header == ("fill, %", "a, kg", "b, kg")
    assert rows == ((0.0, 1.0, None), (50.0, None, 7.0), (75.0, None, 8.0), (100.0, 3.0, None))


def test_a_gap_parts_the_line() -> None:
    root = drawn(chart(Series("a", (0.0, 1.0, 2.0, 3.0, 4.0), (1.0, 2.0, math.nan, 2.0, 1.0))))
    assert named(root, "a")[0].attrib["d"].count("M") == 2
    assert "nan" not in ET.tostring(root, encoding="unicode")


def test_points_lie_where_the_axes_say() -> None:
    what = chart(Series("a", X, (2.0, 6.0, 4.0)), y=Axis("load", "kg", low=0.0, high=8.0))
    root = drawn(what)
    left, top, right, bottom = (float(value) for value in root.attrib["data-plot"].split())
    assert (root.attrib["data-x"], root.attrib["data-y"]) == ("0 100", "0 8")
    numbers = [float(value) for value in re.findall(r"-?\d*\.?\d+", named(root, "a")[0].attrib["d"])]
    middle = numbers[2:4]
    assert middle == pytest.approx([(left + right) / 2.0, bottom - 0.75 * (bottom - top)], abs=0.011)


def test_points_tell_their_figures_in_a_page_only() -> None:
    what = chart(Series("front", X, (5084.0, 6307.5, 7531.0)))
    words = [title.text for title in named(drawn(what), "front").iter(f"{SVG}title")]
    assert words[1] == "front: 6\u00a0308 kg at 50 %"
    assert len(list(drawn(what, "paper").iter(f"{SVG}title"))) == 1


def test_lines_are_named_at_their_ends_in_their_order() -> None:
    what = chart(
        Series("low", X, (0.0, 5.0, 9.9)), Series("high", X, (0.0, 5.0, 10.0)), Series("mid", X, (0.0, 5.0, 9.95))
    )
    plan = plan_chart(what, width=160.0, height=80.0)
    names = {label.text: label for label in plan.labels if label.text in ("low", "mid", "high")}
    assert names["high"].y < names["mid"].y < names["low"].y
    assert names["mid"].y - names["high"].y >= LETTER * 1.6 - 1e-9
    assert all(label.x > plan.plot.right for label in names.values())


@pytest.mark.parametrize(("sense", "sign"), [("at most", "-1.1"), ("at least", "1.1")])
def test_strokes_of_a_limit_show_the_side_not_allowed(sense: str, sign: str) -> None:
    root = drawn(chart(limits=(Limit(5.0, "limit", sense),)))  # type: ignore[arg-type]
    group = next(found for found in root.iter(f"{SVG}g") if found.get("class") == "limit")
    strokes = re.findall(r"l1\.1 ?(-?[\d.]+)", group[1].attrib["d"])
    assert len(strokes) > 10
    assert set(strokes) == {sign}


def test_limits_widen_the_range() -> None:
    plan = plan_chart(chart(limits=(Limit(24.0, "limit"),)), width=160.0, height=80.0)
    assert plan.plot.y_range == (0.0, 25.0)
    assert plan.y_ticks == (0.0, 5.0, 10.0, 15.0, 20.0, 25.0)


def test_a_mark_puts_a_dot_on_every_line() -> None:
    root = drawn(
        chart(Series("a", X, (0.0, 4.0, 8.0)), Series("b", (0.0, 20.0), (1.0, 2.0)), marks=(Mark(62.0, "62 %"),))
    )
    group = next(found for found in root.iter(f"{SVG}g") if found.get("class") == "mark")
    assert len(list(group.iter(f"{SVG}circle"))) == 1  # b ends before the mark


@pytest.mark.parametrize(
    "line", [Series("one", (5.0,), (3.0,)), Series("flat", X, (7.0, 7.0, 7.0)), Series("zero", X, (0.0, 0.0, 0.0))]
)
def test_a_single_value_still_makes_a_chart(line: Series) -> None:
    root = drawn(chart(line), "paper")
    assert any(text.text == line.name for text in root.iter(f"{SVG}text"))


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Series("a", (0.0, 1.0), (0.0,)), "2 x and 1 y values"),
        (lambda: Series("a", (0.0, math.inf), (0.0, 1.0)), "every x must be finite"),
        (lambda: Series("a", (0.0,), (math.nan,)), "no finite y"),
        (lambda: Series("a", (1.0, 0.0), (0.0, 1.0)), "must not fall"),
        (lambda: Chart("Empty", Axis("x"), Axis("y"), ()), "'Empty' has no series"),
        (lambda: chart(Series("a", X, X), Series("a", X, X)), "names of series repeat: a, a"),
        (lambda: chart_svg(chart(), width_mm=30.0, height_mm=80.0), "leaves no room for the curves"),
        (lambda: chart_svg(chart(), width_mm=160.0, height_mm=25.0), "leaves no room for the curves"),
        (lambda: round_step(0.0, 5), "a positive span"),
    ],
)
def test_a_mistake_is_reported(make: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        make()  # type: ignore[operator]


def test_a_band_is_hatched() -> None:
    what = Chart("Band", Axis("x"), Axis("y"), (Series("a", X, X),), bands=(Band(90.0, 120.0, "over"),))
    root = drawn(what)
    (rect,) = [found for found in root.iter(f"{SVG}rect") if "hatch" in found.get("fill", "")]
    left, _, right, _ = (float(value) for value in root.attrib["data-plot"].split())
    assert float(rect.attrib["width"]) == pytest.approx(0.1 * (right - left), abs=0.011)  # cut off at the plot's edge
