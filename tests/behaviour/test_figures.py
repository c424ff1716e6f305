"""Charts of a build and its dip table: what they show, in whose units, and what happens when something is missing."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import NAMES, demo_text
from tunwright.sheets.chart import chart_svg
from tunwright.sheets.chart_model import value_at
from tunwright.sheets.figures import dip_chart, dip_rows, loads_over_fill, position_sensitivity
from tunwright.sheets.views.surfaces import full_state

THREE_SUPPORTS = """
format = 1
[order]
title = "Springs not known"
[chassis]
gross_rating = "22000 kg"
axle = [
  { name = "one", at = "0 m", kerb_load = "3000 kg", rating = "7000 kg", steered = true },
  { name = "two", at = "1.9 m", kerb_load = "2500 kg", rating = "7000 kg", steered = true },
  { name = "three", at = "5 m", kerb_load = "2500 kg", rating = "11000 kg", driven = true, tyres = 4 },
]
[tank]
middle = "3.6 m"
length = "4.0 m"
bottom = "1.2 m"
shell = "4 mm"
section = { shape = "circle", diameter = "1.7 m" }
"""


def assessed(text: str) -> Assessment:
    return Assessment(read_text(text).build)


@pytest.fixture(scope="module")
def quarry() -> Assessment:
    return assessed(demo_text("quarry-carrier"))


@pytest.fixture(scope="module")
def village() -> Assessment:
    return assessed(demo_text("village-carrier"))


def test_loads_over_fill_are_those_of_the_load_table(quarry: Assessment) -> None:
    chart = loads_over_fill(quarry)
    loads = quarry.truck.loading.table([full_state(quarry.truck)]).axles[0]
    net = 1000.0 * float(quarry.truck.volumes.net.sum())
    at_net = {line.name: value_at(line, net) for line in chart.series}
    assert at_net == pytest.approx({"front": loads[0], "drive": loads[1] + loads[2]})
    assert [mark.x for mark in chart.marks] == pytest.approx([net])
    assert chart.series[0].x[0] == 0.0
    assert chart.series[0].x[-1] == pytest.approx(1000.0 * float(quarry.truck.volumes.gross.sum()))
    assert {round(limit.value) for limit in chart.limits} >= {19000}


def test_the_chart_is_hatched_beyond_the_fill_limit() -> None:
    lane = assessed(demo_text("lane-carrier"))
    assert lane.fill_limit.binds is not None
    (band,) = loads_over_fill(lane).bands
    assert band.low == pytest.approx(1000.0 * lane.fill_limit.water)
    assert band.high == pytest.approx(1000.0 * float(lane.truck.volumes.gross.sum()))


def test_without_a_fill_limit_nothing_is_hatched(quarry: Assessment) -> None:
    assert quarry.fill_limit.binds is None
    assert loads_over_fill(quarry).bands == ()


@pytest.mark.parametrize("shift", [-0.2, 0.15])
def test_the_lines_over_the_place_hold_for_a_tank_really_moved(quarry: Assessment, shift: float) -> None:
    chart = position_sensitivity(quarry)
    middle = float(quarry.build.tank.middle) + shift
    moved = assessed(demo_text("quarry-carrier").replace('middle = "3.75 m"', f'middle = "{middle:.3f} m"'))
    loads = moved.truck.loading.table([full_state(moved.truck)]).axles[0]
    there = {line.name: value_at(line, 1000.0 * middle) for line in chart.series}
    assert there == pytest.approx({"front": loads[0], "drive": loads[1] + loads[2]}, abs=1e-6)


def test_the_window_and_the_place_now_are_marked(quarry: Assessment) -> None:
    chart = position_sensitivity(quarry)
    (band,) = chart.bands
    assert (band.low, band.high) == pytest.approx((1000.0 * quarry.window.low, 1000.0 * quarry.window.high))
    assert [mark.x for mark in chart.marks] == pytest.approx([1000.0 * float(quarry.build.tank.middle)])


def test_a_window_of_one_place_is_a_mark() -> None:
    lane = assessed(demo_text("lane-carrier"))
    assert lane.window.high - lane.window.low < 1e-3
    chart = position_sensitivity(lane)
    assert chart.bands == ()
    assert any(mark.label.startswith("permitted") for mark in chart.marks)


def test_where_springs_are_not_known_the_whole_mass_is_shown() -> None:
    unknown = assessed(THREE_SUPPORTS)
    chart = loads_over_fill(unknown)
    assert [line.name for line in chart.series] == ["whole vehicle"]
    gross = unknown.truck.loading.table([full_state(unknown.truck)]).gross[0]
    net = 1000.0 * float(unknown.truck.volumes.net.sum())
    assert value_at(chart.series[0], net) == pytest.approx(float(gross))
    assert chart.limits[0].value == 22000.0
    assert "not known" in chart.description
    with pytest.raises(ValueError, match=r"no axle load is known.*spring_rate"):
        position_sensitivity(unknown)


def test_the_dip_table_runs_from_dry_to_the_whole_tank(quarry: Assessment) -> None:
    table = dip_rows(quarry, grades=(0.12,))
    volumes = np.array(table.volumes)
    assert [column.grade for column in table.columns] == [0.0, 0.12, -0.12]
    assert table.columns[0].place == float(quarry.build.tank.dip_at or math.nan)
    assert table.levels[0] == 0.0
    assert (np.diff(volumes, axis=0) >= 0.0).all()
    assert len(table.levels) <= 61
    assert np.diff(table.levels)[0] == pytest.approx(0.025)
    lip = float(quarry.build.tank.overflow_lip or math.nan)
    level = np.interp(lip, table.levels, volumes[:, 0])  # the lip stands where the tank is dipped
    assert level == pytest.approx(float(quarry.truck.volumes.net.sum()), rel=2e-3)


def test_reading_a_full_tank_gives_what_is_in_it(quarry: Assessment) -> None:
    truck = quarry.truck
    x, _, floor = truck.volumes.dip_point()
    a = truck.frame.surface(np.array([0.12]), 0.0)[0]
    net = truck.volumes.net
    c = truck.solid.compartments[0].whole.levels(net[:1] * 0.6, a, 0.0)
    reading = float(c[0] + a[0] * x) - floor
    table = dip_rows(quarry, step=reading, grades=(0.12,))
    assert table.volumes[1][1] == pytest.approx(0.6 * float(net[0]), rel=1e-6)


def test_every_compartment_has_its_own_columns(village: Assessment) -> None:
    table = dip_rows(village, grades=(0.05,))
    names = [part.name for part in village.truck.solid.compartments]
    assert [column.compartment for column in table.columns] == [name for name in names for _ in range(3)]
    level = [i for i, column in enumerate(table.columns) if column.grade == 0.0]
    last = [table.volumes[-1][i] for i in level]
    assert last == pytest.approx(village.truck.volumes.gross.tolist(), rel=2e-3)
    chart = dip_chart(village, grade=0.05)
    assert [line.name for line in chart.series] == [f"{name}, level" for name in names]


def test_one_grade_can_be_taken_from_the_table(village: Assessment) -> None:
    table = dip_rows(village, grades=(0.05,))
    up = table.on_grade(0.05)
    assert up.levels == table.levels
    assert [column.grade for column in up.columns] == [0.05] * 3
    assert up.volumes[10] == tuple(table.volumes[10][i] for i in (1, 4, 7))
    with pytest.raises(ValueError, match=r"no grade 0.1, only 0, 0.05, -0.05"):
        table.on_grade(0.1)


def test_steps_are_round_in_the_units_of_the_order() -> None:
    brush = assessed(demo_text("brush-carrier"))
    steps = np.diff(dip_rows(brush).levels) / 0.0254
    assert steps[0] == pytest.approx(1.0)
    assert loads_over_fill(brush).y.unit == "lb"
    assert loads_over_fill(brush).x.unit == "US gal"
    assert position_sensitivity(brush).x.unit == "in"
    assert dip_chart(brush).x.unit == "in"


@pytest.mark.parametrize("step", [0.0, -0.01, 1e-6, math.nan])
def test_a_step_that_makes_no_table_is_refused(quarry: Assessment, step: float) -> None:
    with pytest.raises(ValueError, match="give one above 0 and at most 5000 rows"):
        dip_rows(quarry, step=step)


@pytest.mark.parametrize("name", NAMES)
def test_every_chart_of_every_demo_can_be_drawn(name: str) -> None:
    assessment = assessed(demo_text(name))
    for chart in (loads_over_fill(assessment), position_sensitivity(assessment), dip_chart(assessment, grade=0.1)):
        assert chart_svg(chart, width_mm=170.0, height_mm=80.0).startswith("<svg")
