"""The neutral drawing: entities, extents, scales, views, and figures that make room for each other."""

from __future__ import annotations

import doctest
import math
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import tunwright.sheets.drawing
from tunwright.sheets.annotate import dimension_figure, dimension_frame, figure_leader, flatten
from tunwright.sheets.drawing import (
    Arc,
    Bounds,
    CentreMark,
    Circle,
    Drawing,
    Entity,
    Gauge,
    Group,
    Leader,
    Line,
    LinearDimension,
    Point,
    Polyline,
    Text,
    chain_dimension,
)
from tunwright.sheets.geometry import arc_of_bulge, arc_points, moved
from tunwright.sheets.layers import DARK, FILLS, LAYERS, LIGHT, css_variables
from tunwright.sheets.layout import arrange, compose, extents, fitting_scale
from tunwright.sheets.lettering import SPARE, font_size, text_corners, text_width
from tunwright.sheets.settle import settle

QUARTER = math.tan(math.pi / 8.0)


def boxes(entities: tuple[Entity, ...], scale: float) -> list[tuple[Point, ...]]:
    return [text_corners(part, scale) for part in flatten(entities, scale) if isinstance(part, Text)]


def apart(one: tuple[Point, ...], other: tuple[Point, ...]) -> bool:
    """Whether two convex quadrangles have a line between them (separating axis)."""
    for quad in (one, other):
        for (au, av), (bu, bv) in zip(quad, (*quad[1:], quad[0]), strict=True):
            nu, nv = bv - av, au - bu
            here, there = ([u * nu + v * nv for u, v in box] for box in (one, other))
            if max(here) <= min(there) + 1e-9 or max(there) <= min(here) + 1e-9:
                return True
    return False


def test_the_example_in_the_docstring_runs() -> None:
    assert doctest.testmod(tunwright.sheets.drawing).failed == 0


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Line((0.0, 0.0), (1.0, 0.0), "outlines"), r"layer 'outlines' is not known; allowed are outline, thin"),
        (lambda: Circle((0.0, 0.0), 1.0, fill="red"), "fill 'red' is not known; allowed are ink"),
        (lambda: Line((0.0, math.nan), (1.0, 0.0)), "start is .*nan.* finite"),
        (lambda: Circle((0.0, 0.0), 0.0), "radius is 0.0; it must be positive"),
        (lambda: Text((0.0, 0.0), "two\nlines"), "one entity a line"),
        (lambda: Polyline(((0.0, 0.0),)), "at least two"),
        (lambda: Polyline(((0.0, 0.0), (1.0, 0.0)), bulges=(1.0,)), "2 points and 1 bulges"),
        (lambda: LinearDimension((1.0, 1.0), (1.0, 1.0), 5.0, "0", "slope"), "needs two"),
        (lambda: Group("Tank 1", ()), "cannot be a data name"),
        (lambda: chain_dimension([(0.0, 0.0)], [], offset_mm=5.0), "1 points and 0 texts"),
        (lambda: Drawing("t", (), Bounds(0.0, 0.0, 1.0, 1.0), 0.0), "scale is 0.0"),
        (lambda: Drawing("t", (), Bounds(0.0, 0.0, 0.0, 1.0), 1.0), "are empty"),
        (lambda: extents((), 10.0), "nothing to draw"),
    ],
)
def test_a_mistake_is_reported_where_it_is_made(make: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        make()  # type: ignore[operator]


def test_every_colour_role_has_a_day_and_a_night_value() -> None:
    assert LIGHT.keys() == DARK.keys()
    assert {layer.role for layer in LAYERS.values()} | set(FILLS.values()) <= LIGHT.keys()
    assert all(f"--{role}:{colour}" in css_variables() for role, colour in [*LIGHT.items(), *DARK.items()])


def test_a_bulge_is_the_arc_it_names() -> None:
    arc = arc_of_bulge((1.0, 0.0), (0.0, 1.0), QUARTER)
    assert arc.centre == pytest.approx((0.0, 0.0), abs=1e-12)
    assert arc.radius == pytest.approx(1.0)
    assert arc.end - arc.start == pytest.approx(math.pi / 2.0)
    assert arc_points(arc)[-1] == pytest.approx((0.0, 1.0))
    clockwise = arc_of_bulge((0.0, 1.0), (1.0, 0.0), -QUARTER)
    assert clockwise.centre == pytest.approx((0.0, 0.0), abs=1e-12)


@pytest.mark.parametrize(
    ("entity", "expected"),
    [
        (Polyline(((0.0, -1.0), (0.0, 1.0)), bulges=(1.0, 0.0)), (0.0, -1.0, 1.0, 1.0)),  # right half circle
        (Polyline(((0.0, -1.0), (0.0, 1.0)), bulges=(-1.0, 0.0)), (-1.0, -1.0, 0.0, 1.0)),
        (Arc((0.0, 0.0), 2.0, 0.0, math.pi / 2.0), (0.0, 0.0, 2.0, 2.0)),
        (Arc((0.0, 0.0), 2.0, 1.5 * math.pi, 0.5 * math.pi), (0.0, -2.0, 2.0, 2.0)),  # over the zero angle
        (Circle((1.0, 1.0), 0.5), (0.5, 0.5, 1.5, 1.5)),
    ],
)
def test_extents_of_arcs_are_exact(entity: Entity, expected: tuple[float, ...]) -> None:
    room = extents([entity], 20.0)
    assert (room.left, room.bottom, room.right, room.top) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(
    "mark",
    [Gauge((0.0, 0.0), 0.5, "6 601 kg"), CentreMark((0.0, 0.0)), Leader((0.0, 0.0), "outlet"), Text((0, 0), "a")],
)
def test_annotations_keep_their_size_on_paper(mark: Entity) -> None:
    small, large = extents([mark], 10.0), extents([mark], 50.0)
    assert large.width == pytest.approx(5.0 * small.width)
    assert large.height == pytest.approx(5.0 * small.height)


def test_lettering_on_the_thing_keeps_its_size_there() -> None:
    painted = Text((0.0, 0.0), "12 000 L", height_m=0.3)
    assert extents([painted], 10.0) == extents([painted], 50.0)


@pytest.mark.parametrize(("part", "filled"), [(0.5, 0.5), (1.0, 1.0), (1.1, 1.1), (9.0, 1.2)])
def test_a_gauge_shows_its_part(part: float, filled: float) -> None:
    bars = [p for p in flatten([Gauge((0.0, 0.0), part)], 10.0) if isinstance(p, Polyline) and p.fill in ("ink", "bad")]
    us = [u for u, _ in bars[0].points]
    assert max(us) - min(us) == pytest.approx(filled * 0.24)
    assert (bars[0].fill == "bad") == (part > 1.0)


def test_an_unknown_gauge_is_dashed_and_empty() -> None:
    parts = list(flatten([Gauge((0.0, 0.0), None)], 10.0))
    assert [(part.layer, part.fill) for part in parts if isinstance(part, Polyline)] == [("hidden", "sheet")]


@pytest.mark.parametrize(("along", "turn"), [("u", 0.0), ("v", math.pi / 2.0), ("slope", math.atan2(3.0, 4.0))])
def test_a_dimension_line_stands_off_by_its_offset(along: str, turn: float) -> None:
    dim = LinearDimension((0.0, 0.0), (4.0, 3.0), 10.0, "5 000", along)  # type: ignore[arg-type]
    frame = dimension_frame(dim, 20.0)
    away = {"u": frame.start[1] - 3.0, "v": frame.start[0] - 4.0, "slope": math.dist(frame.start, dim.p1)}[along]
    assert away == pytest.approx(0.2)
    assert frame.span == pytest.approx({"u": 4.0, "v": 3.0, "slope": 5.0}[along])
    assert dimension_figure(dim, 20.0).turn == pytest.approx(turn)


def test_a_figure_never_stands_on_its_head() -> None:
    for angle in range(0, 360, 15):
        tip = (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
        turn = dimension_figure(LinearDimension((0.0, 0.0), tip, 5.0, "1 000", "slope"), 20.0).turn
        assert -math.pi / 2.0 < turn <= math.pi / 2.0 + 1e-9


def test_a_chain_stands_on_one_line() -> None:
    chain = chain_dimension([(0.0, 1.0), (2.0, 3.0), (5.0, 2.0)], ["2 000", "3 000"], offset_mm=8.0)
    assert {dimension_frame(dim, 25.0).start[1] for dim in chain} == {3.0 + 0.2}
    assert [dimension_frame(dim, 25.0).span for dim in chain] == [2.0, 3.0]


def narrow_run(scale_free: float = 1.0) -> tuple[LinearDimension, ...]:
    us = [scale_free * u for u in (-1.35, 0.0, 0.56, 0.62, 0.69, 0.95, 6.35)]
    texts = ["1 350", "560", "60", "70", "260", "tank 5 400"]
    return chain_dimension([(u, 2.9) for u in us], texts, offset_mm=9.0)


def test_figures_that_fit_stay_and_narrow_ones_move_out() -> None:
    settled = [dim for dim in settle(narrow_run(), 40.0) if isinstance(dim, LinearDimension)]
    moved_out = [dim.text for dim in settled if dim.text_shift_mm != (0.0, 0.0)]
    assert moved_out == ["60", "70", "260"]
    assert all(figure_leader(dim, 40.0) for dim in settled if dim.text in moved_out)
    assert not any(figure_leader(dim, 40.0) for dim in settled if dim.text not in moved_out)
    middles = [dimension_figure(dim, 40.0).at[0] for dim in settled if dim.text in moved_out]
    assert middles == sorted(middles)  # the order along the run is kept


def test_narrow_neighbours_share_a_dot_and_a_lone_one_points_inwards() -> None:
    settled = [dim for dim in settle(narrow_run(), 40.0) if isinstance(dim, LinearDimension)]
    assert [dim.ends for dim in settled[1:4]] == [("arrow", "dot"), ("dot", "dot"), ("dot", "dot")]
    (lone,) = settle([LinearDimension((0.0, 0.0), (0.08, 0.0), 8.0, "80")], 40.0)
    assert isinstance(lone, LinearDimension)
    assert lone.ends == ("out", "out")


def test_settling_twice_changes_nothing() -> None:
    once = settle([Group("run", narrow_run())], 40.0)
    assert settle(once, 40.0) == once


def test_a_figure_makes_room_for_a_text_in_its_place() -> None:
    dim = LinearDimension((0.0, 0.0), (4.0, 0.0), 8.0, "4 000")
    note = Text((2.0, 8.9 * 0.04), "here already", anchor="middle")
    settled = settle([note, dim], 40.0)
    assert settled[0] == note
    assert apart(*boxes(settled, 40.0))
    assert not apart(*boxes((note, replace(dim, text_shift_mm=(0.0, 0.0))), 40.0))


spans = st.lists(st.floats(0.001, 2.0), min_size=1, max_size=9)


@settings(max_examples=60, deadline=None)
@given(spans=spans, scale=st.sampled_from([10.0, 25.0, 50.0]), along=st.sampled_from(["u", "v"]), side=st.booleans())
def test_no_two_figures_of_a_run_overlap(spans: list[float], scale: float, along: str, side: bool) -> None:
    places = [sum(spans[:i]) for i in range(len(spans) + 1)]
    points = [(place, 0.0) if along == "u" else (0.0, place) for place in places]
    texts = [f"{span * 1000.0:.0f}" for span in spans]
    offset = 8.0 if side else -8.0
    run = chain_dimension(points, texts, offset_mm=offset, along=along)  # type: ignore[arg-type]
    whole = replace(run[0], p2=run[-1].p2, text="over all")
    found = boxes(settle([*run, whole], scale), scale)
    assert len(found) == len(spans) + 1
    assert all(apart(one, other) for one, other in combinations(found, 2))


def test_the_largest_standard_scale_that_fits_is_taken() -> None:
    thing = [Line((0.0, 0.0), (9.0, 0.0), "outline")]
    assert fitting_scale(thing, width_mm=270.0, height_mm=50.0) == 40.0  # 225 + 6 mm; 1:30 would need 306
    assert fitting_scale(thing, width_mm=306.1, height_mm=50.0) == 30.0
    assert compose("Line", thing, width_mm=186.1).scale == 50.0


def test_a_scale_that_fits_nothing_says_what_is_needed() -> None:
    with pytest.raises(ValueError, match=r"needs 206 x 6 mm at 1:100 but the paper has 100 x 50 mm"):
        fitting_scale([Line((0.0, 0.0), (20.0, 0.0))], width_mm=100.0, height_mm=50.0)


def test_a_drawing_has_room_for_all_it_holds() -> None:
    drawing = compose("Run", narrow_run(), scale=40.0, margin_mm=3.0)
    room = extents(drawing.entities, 40.0)
    assert drawing.bounds.left == pytest.approx(room.left - 0.12)
    assert drawing.bounds.top == pytest.approx(room.top + 0.12)


@pytest.mark.parametrize("direction", ["right", "down"])
def test_views_stand_a_gap_apart(direction: str) -> None:
    views = [Group("side", (*narrow_run(), Circle((0.0, 0.5), 0.5))), Group("rear", (Circle((0.0, 1.0), 1.2),))]
    placed = arrange(views, scale=40.0, gap_mm=10.0, direction=direction)  # type: ignore[arg-type]
    one, other = (extents([view], 40.0) for view in placed)
    assert placed[0].name == "side"
    if direction == "right":
        assert other.left - one.right == pytest.approx(0.4)
        assert other.bottom == pytest.approx(-0.2)  # one road for both
    else:
        assert one.bottom - other.top == pytest.approx(0.4)
        assert other.left == pytest.approx(-1.2)


@pytest.mark.parametrize(
    "entity",
    [
        Line((0.0, 0.0), (1.0, 2.0)),
        Polyline(((0.0, 0.0), (1.0, 0.0)), bulges=(0.3, 0.0)),
        Arc((0.0, 0.0), 1.0, 0.0, 2.0),
        Text((0.0, 0.0), "a", turn=0.3),
        Leader((0.0, 0.0), "a"),
        CentreMark((0.0, 0.0)),
        Gauge((0.0, 0.0), 0.3),
        LinearDimension((0.0, 0.0), (1.0, 0.0), 5.0, "1 000", base=0.4),
        LinearDimension((0.0, 0.0), (1.0, 1.0), 5.0, "1 000", "v", base=2.0),
        Group("all", (Circle((0.0, 0.0), 1.0),)),
    ],
)
def test_moving_moves_everything(entity: Entity) -> None:
    before, after = extents([entity], 20.0), extents([moved(entity, 2.0, -3.0)], 20.0)
    assert after.left - before.left == pytest.approx(2.0)
    assert after.top - before.top == pytest.approx(-3.0)
    assert after.width == pytest.approx(before.width)


SAMPLES = (
    "3 900",
    "tank 5 400",
    "permitted 3 420 – 3 730 at 11 000 L",
    "first wheel lift 0.41 g",
    "NPSH ≥ 2.5 m",
    "Ø 89 × 5",
)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", SAMPLES)
def test_the_estimated_width_holds_the_text_of_common_faces(text: str, bold: bool) -> None:
    fonts = pytest.importorskip("fontTools.ttLib")
    shelves = {
        "LiberationSans-Bold.ttf" if bold else "LiberationSans-Regular.ttf": 1.0,
        "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf": SPARE,
    }
    found = {name: next(Path("/usr/share/fonts").rglob(name), None) for name in shelves}
    if not all(found.values()):
        pytest.skip("the faces are not installed here")
    for name, spare in shelves.items():
        face = fonts.TTFont(found[name])
        signs, metrics = face.getBestCmap(), face["hmtx"]
        ems = sum(metrics[signs[ord(sign)]][0] for sign in text) / face["head"].unitsPerEm
        true = ems * font_size(2.5)
        assert true <= spare * text_width(text, 2.5, bold=bold) * 1.005
        assert true >= 0.85 * text_width(text, 2.5, bold=bold)
