"""The truck's own drawings: what stands where, what is said, what happens when facts are missing."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from drawn import BARE, LIFTED, assessed, dimensions, groups, length_of, opened, read_length, texts
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import demo_text
from tunwright.sheets.drawing import (
    CentreMark,
    Circle,
    Entity,
    Gauge,
    Line,
    LinearDimension,
    Polyline,
    Text,
)
from tunwright.sheets.layout import extents
from tunwright.sheets.output import view_drawing
from tunwright.sheets.svg import write_svg
from tunwright.sheets.views import general_arrangement, plan_view, rear_view, side_view
from tunwright.sheets.views.marks import EMPTY
from tunwright.sheets.views.surfaces import full_state


def test_dimensions_say_what_the_build_says(quarry: Assessment) -> None:
    build = quarry.build
    said = {dim.text.replace("\u00a0", "") for dim in dimensions(side_view(quarry))}
    a, b, c = (1000.0 * axle.at for axle in build.chassis.axle)
    wanted = [b - a, c - b, -1000.0 * build.chassis.cab.front, 1000.0 * build.tank.bottom]
    wanted += [1000.0 * build.chassis.frame.top, 1000.0 * build.chassis.cab.roof]
    wanted += [1000.0 * (build.chassis.frame.rear - build.chassis.axle[-1].at)]
    assert {f"{value:.0f}" for value in wanted} <= said
    assert f"tank {1000.0 * build.tank.length:.0f}" in said
    assert f"middle of tank {1000.0 * build.tank.middle:.0f}" in said
    rear = {dim.text.replace("\u00a0", "") for dim in dimensions(rear_view(quarry))}
    assert {"track 1840", "overall 2500", "2950", f"tank {1000.0 * build.tank.section.width:.0f}"} <= rear  # type: ignore[union-attr]
    plan = {dim.text.replace("\u00a0", "") for dim in dimensions(plan_view(quarry))}
    assert {f"{1000.0 * build.tank.manhole[0].at:.0f}", f"{1000.0 * build.chassis.frame.width:.0f}"} <= plan  # type: ignore[operator]


@pytest.mark.parametrize("view", [side_view, rear_view, plan_view])
@pytest.mark.parametrize("name", ["quarry-carrier", "village-carrier", "lane-carrier"])
def test_every_figure_is_what_its_dimension_measures(view: object, name: str) -> None:
    for dim in dimensions(view(assessed(demo_text(name)))):  # type: ignore[operator]
        assert read_length(dim.text) == pytest.approx(length_of(dim), abs=0.00051), dim.text


def test_wheels_stand_at_their_axles(every: Assessment) -> None:
    axles, net = every.build.chassis.axle, full_state(every.truck)
    raised = every.truck.axles.stances[net.stance].lifted
    found = {int(group.data["axle"]): group.entities[0] for group in groups(side_view(every), "axle")}
    assert set(found) == set(range(len(axles)))
    for i, tyre in found.items():
        assert isinstance(tyre, Circle)
        assert tyre.centre[0] == float(axles[i].at)
        stands = tyre.centre[1] - tyre.radius
        assert stands == pytest.approx(0.12 if i in raised else 0.0)
        if axles[i].tyre_radius is not None:
            assert tyre.radius == float(axles[i].tyre_radius)
    rear = groups(rear_view(every), "axle")[0]
    last = axles[int(rear.data["axle"])]
    tyres = [part for part in rear.entities if isinstance(part, Polyline) and len(part.points) == 8]
    assert len(tyres) == last.tyres


def test_gauges_show_the_loads_of_the_state(quarry: Assessment) -> None:
    state = replace(full_state(quarry.truck), fill=0.5, parts=(0.5,))
    loads = quarry.truck.loading.table([state]).axles[0]
    found = {group.data["name"]: group for group in groups(side_view(quarry, state=state), "load")}
    for name, axles in (("front", [0]), ("drive", [1, 2])):
        gauge = next(part for part in found[name].entities if isinstance(part, Gauge))
        assert gauge.value.replace("\u00a0", " ") == f"{loads[axles].sum():,.0f} kg".replace(",", " ")
        assert gauge.note.startswith(f"{name}, of ")
        assert gauge.part is not None
        limit = loads[axles].sum() / gauge.part
        assert limit <= sum(float(quarry.build.chassis.axle[i].rating) for i in axles) + 1e-6


def test_an_overloaded_axle_runs_past_its_gauge(four: Assessment) -> None:
    (bogie,) = (group for group in groups(side_view(four), "load") if group.data["name"] == "bogie")
    gauge = next(part for part in bogie.entities if isinstance(part, Gauge))
    assert gauge.part is not None
    assert gauge.part > 1.0
    assert "of 18\u00a0000" in gauge.note


def test_the_window_stands_at_its_place_on_the_frame(quarry: Assessment) -> None:
    window, frame = quarry.window, quarry.build.chassis.frame
    (group,) = groups(side_view(quarry), "window")
    band = next(part for part in group.entities if isinstance(part, Polyline))
    us, vs = [u for u, _ in band.points], [v for _, v in band.points]
    assert (min(us), max(us)) == pytest.approx((window.low, window.high))
    assert min(vs) == pytest.approx(float(frame.top or 0.0) - float(frame.rail_height or 0.0))
    assert max(vs) > float(frame.top or 0.0)
    assert band.fill == "hatch"
    words = next(part.text for part in group.entities if isinstance(part, Text)).replace("\u00a0", "")
    expected = f"permitted {1000 * window.low:.0f} – {1000 * window.high:.0f} at {1000 * window.water:.0f} L"
    assert words == expected


def test_a_window_that_is_empty_is_said_in_words() -> None:
    nowhere = assessed(BARE.replace('rating = "6000 kg"', 'rating = "3050 kg"').replace("10000 kg", "1850 kg"))
    assert nowhere.window.empty
    assert EMPTY in [part.text for _, part in opened(side_view(nowhere)) if isinstance(part, Text)]


def test_a_view_can_be_drawn_before_the_window_is_known(bare: Assessment) -> None:
    fresh = Assessment(bare.build)
    side_view(fresh, window=False)
    assert "window" not in fresh.__dict__


def test_missing_facts_are_dashed_and_named(bare: Assessment, quarry: Assessment) -> None:
    for name in ("cab", "frame", "axle"):
        for group in groups(side_view(bare), name):
            assert {part.layer for part in group.entities if isinstance(part, Polyline)} <= {"hidden"}
    said = " ".join(texts(general_arrangement(bare)))
    assert "Dashed, drawn from usual sizes until measured: cab (front, back, roof, width)" in said
    assert "tyres (radius, width, track, pair spacing)" in said
    assert not [dim for dim in dimensions(side_view(bare)) if "overall" in dim.text]
    assert "Dashed" not in " ".join(texts(general_arrangement(quarry)))


def test_what_has_no_size_is_named_as_not_drawn(quarry: Assessment) -> None:
    said = " ".join(texts(general_arrangement(quarry)))
    unsized = [item.name for item in quarry.build.item if not (item.length or item.width or item.tall)]
    assert unsized
    assert all(name in said for name in unsized)


@pytest.mark.parametrize(
    ("name", "words"), [("quarry-carrier", "dimensions in mm"), ("brush-carrier", "dimensions in inches")]
)
@pytest.mark.parametrize("view", [side_view, rear_view, plan_view])
def test_every_view_says_what_its_figures_are_in(view: Callable[..., list[Entity]], name: str, words: str) -> None:
    said = [part.text for _, part in opened(view(assessed(demo_text(name)))) if isinstance(part, Text)]
    assert said.count(words) == 1


def test_us_units_are_used_throughout() -> None:
    drawing = general_arrangement(assessed(demo_text("brush-carrier")))
    joined = " ".join(texts(drawing))
    assert "193.0" in texts(drawing)  # the wheelbase to the first drive axle as typed
    assert " lb" in joined.replace("\u00a0", " ")
    assert "US gal" in joined
    assert not re.search(r"\d (mm|kg|L)\b", joined.replace("\u00a0", " "))


def test_gravity_has_an_arrow_only_where_it_leans(quarry: Assessment) -> None:
    full = full_state(quarry.truck)
    assert groups(side_view(quarry, state=full), "gravity") == []
    for state, view, rightwards in (
        (replace(full, grade=0.12), side_view, True),  # nose up: to the rear
        (replace(full, braking=0.5, surface="braked"), side_view, False),
        (replace(full, slope=0.1), rear_view, False),  # right side high: to the left
    ):
        (group,) = groups(view(quarry, state=state), "gravity")  # type: ignore[operator]
        shaft = next(part for part in group.entities if isinstance(part, Line))
        assert (shaft.end[0] > shaft.start[0]) == rightwards
        assert shaft.end[1] < shaft.start[1]


def test_each_compartment_has_a_surface_of_its_own(four: Assessment) -> None:
    state = replace(full_state(four.truck), sort="pattern", fill=0.4, parts=(0.9, 0.0, 0.5, 0.2))
    lines = [part for _, part in opened(side_view(four, state=state)) if isinstance(part, Polyline)]
    surfaces = [line for line in lines if line.layer == "water"]
    assert len(surfaces) == 3
    levels = [line.points[0][1] for line in surfaces]
    assert levels[0] > levels[1] > levels[2]
    assert all(line.points[0][1] == pytest.approx(line.points[1][1]) for line in surfaces)


def test_braking_tilts_every_bay_by_itself(quarry: Assessment) -> None:
    state = replace(full_state(quarry.truck), fill=0.5, parts=(0.5,), braking=0.5, surface="braked")
    lines = [part for _, part in opened(side_view(quarry, state=state)) if isinstance(part, Polyline)]
    surfaces = [line.points for line in lines if line.layer == "water"]
    assert len(surfaces) == len(quarry.build.tank.baffle) + 1
    for one, two in surfaces:
        assert (two[1] - one[1]) / (two[0] - one[0]) == pytest.approx(-0.5)


def test_plates_and_fittings_stand_at_their_places(four: Assessment, quarry: Assessment) -> None:
    (tank,) = groups(side_view(four), "tank")
    bulkheads = [part for part in tank.entities if isinstance(part, Line) and part.layer == "outline"]
    front = float(four.build.tank.middle) - 0.5 * float(four.build.tank.length)
    assert [line.start[0] - front for line in bulkheads] == pytest.approx([1.9, 3.3, 3.4, 5.0])
    (tank,) = groups(side_view(quarry), "tank")
    assert len(groups([tank], "baffle")) == len(quarry.build.tank.baffle)
    assert all(group.entities[0].layer == "hidden" for group in groups([tank], "baffle"))  # type: ignore[union-attr]
    assert len(groups([tank], "manhole")) == len(quarry.build.tank.manhole)
    assert len(groups([tank], "sump")) == len(quarry.build.tank.sump)


def test_centres_are_those_of_the_load_table(quarry: Assessment) -> None:
    table = quarry.truck.loading.table([full_state(quarry.truck)])
    for view, axis in ((side_view, 0), (rear_view, 1)):
        marks = {
            group.data["of"]: group.entities[0]
            for group in groups(view(quarry), "centre")  # type: ignore[operator]
        }
        assert isinstance(marks["water"], CentreMark)
        assert marks["water"].at == pytest.approx(tuple(table.water_at[0, [axis, 2]]))
        assert isinstance(marks["vehicle"], CentreMark)
        assert marks["vehicle"].at == pytest.approx(tuple(table.centre[0, [axis, 2]]))


def test_without_a_height_of_centre_only_the_water_is_marked(bare: Assessment) -> None:
    assert [group.data["of"] for group in groups(side_view(bare), "centre")] == ["water"]


def test_a_lifted_axle_hangs_and_carries_nothing() -> None:
    lifted = assessed(LIFTED)
    names = [group.data["name"] for group in groups(side_view(lifted), "load")]
    assert names == ["front", "rear"]
    assert "raised" in [part.text for _, part in opened(side_view(lifted)) if isinstance(part, Text)]


def test_the_rear_view_keeps_the_arcs_of_the_section(quarry: Assessment) -> None:
    (tank,) = groups(rear_view(quarry), "tank")
    inside = [part for part in tank.entities if isinstance(part, Polyline) and part.bulges and part.layer == "thin"]
    drawn = quarry.truck.solid.outline.drawn
    assert len(inside) == 1
    assert inside[0].bulges == tuple(drawn[:, 2].tolist())
    room = extents(inside, 1.0)
    assert room.width == pytest.approx(float(quarry.build.tank.section.width), abs=1e-9)  # type: ignore[union-attr]
    assert room.height == pytest.approx(float(quarry.build.tank.section.height), abs=1e-9)  # type: ignore[union-attr]


def test_the_plan_lies_the_right_way_round(four: Assessment) -> None:
    item = next(group for group in groups(plan_view(four), "item") if group.data["item"] == "item.1")
    body = item.entities[0]
    assert isinstance(body, Polyline)
    assert np.mean([v for _, v in body.points]) == pytest.approx(-0.95)  # left of the vehicle, lower on the sheet


def test_a_page_can_find_axles_by_their_index(quarry: Assessment) -> None:
    svg = write_svg(view_drawing(quarry, "side"), theme="css")
    found = re.findall(r'data-part="axle" data-axle="(\d)" data-name="([^"]+)" data-tyres="(\d)"', svg)
    assert found == [("0", "front", "2"), ("1", "rear 1", "4"), ("2", "rear 2", "4")]
    assert re.findall(r'data-part="load" data-axles="([^"]+)"', svg) == ["0", "1 2"]


def test_a_page_can_find_items_and_the_tank_by_their_keys(quarry: Assessment) -> None:
    svg = write_svg(view_drawing(quarry, "side"), theme="css")
    keys = {lump.key for lump in quarry.truck.weights.lumps}
    found = set(re.findall(r'data-part="item" data-item="([^"]+)"', svg))
    assert found
    assert found <= keys
    assert 'data-part="tank" data-drag="u"' in svg
    assert re.findall(r'data-part="baffle" data-baffle="(\d)"', svg) == ["0", "1", "2"]


@pytest.mark.parametrize(("middle", "over"), [("3.75 m", False), ("7.90 m", True)])
def test_the_height_of_the_tank_stands_clear_of_frame_and_wheels(middle: str, over: bool) -> None:
    text = demo_text("quarry-carrier").replace('middle = "3.75 m"', f'middle = "{middle}"')
    entities = side_view(Assessment(read_text(text).build), scale=50.0)
    dims = [one for one in entities if isinstance(one, LinearDimension) and one.along == "v" and one.offset_mm == 0.0]
    (bottom,) = dims
    assert bottom.text_shift_mm is not None
    half = 0.5 * (bottom.p2[1] - bottom.p1[1]) * 1000.0 / 50.0
    assert (bottom.text_shift_mm[0] > half) is over
    assert (bottom.text_shift_mm[0] < 0.0) is not over
