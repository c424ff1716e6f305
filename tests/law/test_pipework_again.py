"""Figures of two demos' pipework, each worked out a second way: own equations, scipy and fluids, tables by hand."""

from __future__ import annotations

import math
import re
from functools import lru_cache

import numpy as np
import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from fluids.friction import friction_factor
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq, fsolve

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.pipework.frost import time_to_ice, tracing
from tunwright.checks.pipework.pipes import Pipes
from tunwright.demos import demo_text
from tunwright.sheets.dips import dip_rows
from tunwright.sheets.pipework.dosing import dosing_list
from tunwright.sheets.pipework.sender import taught
from tunwright.shop.pipe_cuts import pipe_cuts
from tunwright.shop.pipe_flanges import bolting, flange_joints
from tunwright.shop.pipe_stock import stock_plans
from tunwright.truck.pipework.holding import EngineRange

G, RHO, NU = 9.80665, 999.498, 1.2347e-6  # water of 12 degrees: IAPWS-95 through Kell 1975, IAPWS R12-08
LITRES = 60_000.0
BORE = {"DN65": 0.06268, "DN80": 0.07792, "DN100": 0.10226, "DN125": 0.12820}  # ASME B36.10M, schedule 40
BLEED = re.compile(r'# Keeps the pump cool.*\n\[\[pipework\.relief\]\]\nname = "bleed"\n(?:.+\n)+\n')
LIP = 1.24 + 1.25 - 0.01 * 2.45  # bottom, lip, fall to the middle [m]

_POINTS = np.array([(0, 70, 0), (500, 69, 0.38), (1000, 65, 0.56), (1500, 57, 0.64), (2000, 44, 0.60), (2400, 30, 0.5)])
HEAD = PchipInterpolator(_POINTS[:, 0] / LITRES, _POINTS[:, 1])
ETA = PchipInterpolator(_POINTS[:, 0] / LITRES, _POINTS[:, 2])


@lru_cache
def assessed(name: str) -> Assessment:
    return Assessment(read_text(BLEED.sub("", demo_text(name))).build)


@lru_cache
def pipes(name: str) -> Pipes:
    return Pipes(assessed(name).truck)


def first(name: str, number: int):
    return pipes(name).worked[number].states[0]


def turbulent(bore: float) -> float:
    return 0.25 / math.log10(45e-6 / (3.7 * bore)) ** 2


def pipe(flow: float, size: str, length: float, multiple: float, k: float = 0.0) -> float:
    """Head lost in a pipe of new steel: Colebrook, fittings as multiples of the factor in complete turbulence."""
    bore = BORE[size]
    speed = flow / (0.25 * math.pi * bore**2)
    factor = friction_factor(Re=speed * bore / NU, eD=45e-6 / bore)
    return (factor * length / bore + multiple * turbulent(bore) + k) * speed**2 / (2 * G)


def square(bar: float, litres: float) -> float:
    return bar * 1e5 / (RHO * G) / (litres / LITRES) ** 2


def manifold(flow: float, turns: float, surface: float = LIP) -> float:
    """Head behind the delivery: suction 2 long elbows and V1, strainer; pump; elbow, tee, meter."""
    before = pipe(flow, "DN125", 3.4, 2 * 14 + 45, 0.15) + square(0.05, 1500) * flow**2
    behind = pipe(flow, "DN100", 1.9, 14 + 60) + square(0.05, 1500) * flow**2
    return surface - before + turns**2 * float(HEAD(flow / turns)) - behind


def rear(flow: float) -> float:
    return pipe(flow, "DN80", 4.65, 2 * 14 + 60 + 45) + 0.80 + square(3, 800) * flow**2


def front(flow: float) -> float:
    return pipe(flow, "DN65", 4.41, 12 + 60 + 45) + 0.60 + square(3, 500) * flow**2


def test_two_branches_at_once() -> None:
    def off(flows):
        here = manifold(sum(flows), 0.9)
        return [here - rear(flows[0]), here - front(flows[1])]

    back, ahead = fsolve(off, [0.015, 0.009], xtol=1e-12)
    state = first("quarry-carrier", 1)
    assert state.flow("rear line") == pytest.approx(back, rel=2e-4)
    assert state.flow("front line") == pytest.approx(ahead, rel=2e-4)
    flow = back + ahead
    head = 0.81 * float(HEAD(flow / 0.9))
    assert state.pump.head == pytest.approx(head, rel=2e-4)
    assert state.pump.power == pytest.approx(RHO * G * flow * head / float(ETA(flow / 0.9)), rel=1e-3)


@pytest.mark.parametrize(("depth", "speed"), [(0.3, 10.0), (0.2, 20.0)])
def test_engine_speed_for_a_depth(depth: float, speed: float) -> None:
    flow = depth * 1e-3 * speed / 3.6 * 13.8
    turns = brentq(lambda one: manifold(flow, one) - rear(flow), 0.4, 1.1)
    plumbing = pipes("quarry-carrier").plumbing
    held = EngineRange(plumbing, plumbing.work.duty[0], 1.0).engine_for(flow)
    assert held.engine * 30 / math.pi == pytest.approx(2000 * turns / 1.2, abs=0.5)


def test_monitor_flow_push_and_reach() -> None:
    def off(flow):
        line = pipe(flow, "DN80", 6.08, 3 * 14 + 3)
        return manifold(flow, 0.96) - line - 2.75 - square(5, 900) * flow**2

    flow = brentq(off, 1e-3, 0.03)
    pressure = 5e5 * (flow * LITRES / 900) ** 2
    found = assessed("quarry-carrier").finding("jet-reaction-monitor")
    assert found.value == pytest.approx(0.5 * math.pi * 0.025**2 * pressure, rel=5e-4)
    sideways = assessed("quarry-carrier").finding("jet-sideways-monitor")
    mass, off_middle = 11633, 0.008  # as printed
    assert sideways.value == pytest.approx(found.value * 2.75 / (mass * G * (0.92 - off_middle)), rel=2e-3)
    assert RHO * flow * math.sqrt(2 * pressure / RHO) < found.value  # the momentum of what really flows is less


def test_hydrant_through_a_valve_part_open() -> None:
    """A butterfly 38 % open stands 55.8 degrees from open: Weisbach's 58.8 at 55 and 118 at 60, by the flow."""
    parts = [(1 + k) ** -0.5 for k in (58.8, 118)]
    throttled = np.interp(0.8, [0.0, 5.0], parts) ** -2 - 1

    def off(flow):
        lost = pipe(flow, "DN100", 2.4, 2 * 14 + 45, 0.1 + 1.0 + throttled)
        return 0.9 + 3e5 / (RHO * G) - square(1.5, 1100) * flow**2 - lost - 2.8

    flow = brentq(off, 1e-3, 0.05)
    one = pipes("quarry-carrier").worked[4]
    assert one.states[0].flow("hydrant filling") == pytest.approx(flow, rel=2e-4)
    assert one.over.time == pytest.approx(one.over.volume / flow, rel=2e-4)  # the mouth stands over the water
    left = assessed("quarry-carrier").finding("main-hydrant-coupling").value
    assert left == pytest.approx(3 - 1.5 * (flow * LITRES / 1100) ** 2, rel=3e-4)


def ice(bore: float, wall: float, insulation: float, air: float, wind: float, pressure: float, water: float):
    """Hours to a tenth ice by steps of the balance, and watts a metre to hold 2 degrees with a fifth in reserve."""
    outside = bore + 2 * (wall + insulation)
    film = 273.15 + 0.5 * air
    viscosity = 1.716e-5 * (film / 273.15) ** 1.5 * (273.15 + 110.4) / (film + 110.4)  # Sutherland
    conductivity = 0.0241 * (film / 273.15) ** 0.9
    reynolds, prandtl = pressure / (287.05 * film) * wind * outside / viscosity, 0.715
    nusselt = 0.3 + 0.62 * reynolds**0.5 * prandtl ** (1 / 3) / (1 + (0.4 / prandtl) ** (2 / 3)) ** 0.25 * (
        1 + (reynolds / 282e3) ** 0.625
    ) ** 0.8
    pipe_wall = math.log(1 + 2 * wall / bore) / 50
    foam = math.log(outside / (bore + 2 * wall)) / 0.04
    warm, cold = 273.15, 273.15 + air
    glow = 0.9 * 5.670374e-8 * (warm**4 - cold**4) / (warm - cold)
    through = (pipe_wall / 2 + foam / 2 + 1 / (nusselt * conductivity + glow * outside)) / math.pi
    mass, steps = 999.84 * 0.25 * math.pi * bore**2, 500
    middle = (np.arange(steps) + 0.5) / steps
    cools = (mass * 4205 * water / steps * through / (water * middle - air)).sum()
    shell = -np.log(1 - 0.1 * middle) / (4 * math.pi * 2.22)
    freezes = (mass * 333430 * 0.1 / steps * (through + shell) / -air).sum()
    return (cools + freezes) / 3600, 1.2 * (2 - air) / through


@pytest.mark.parametrize(
    ("demo", "run", "size", "insulation", "air", "altitude"),
    [
        ("quarry-carrier", "front line", (0.06268, 0.00516), 0.0, -6.0, 420),
        ("quarry-carrier", "suction", (0.12820, 0.00655), 0.0, -6.0, 420),
        ("village-carrier", "front filling", (0.06268, 0.00516), 0.019, -10.0, 640),
    ],
)
def test_hours_to_ice_and_heating(demo, run, size, insulation, air, altitude) -> None:
    plumbing = pipes(demo).plumbing
    frost, pressure = plumbing.work.frost, ATMOSPHERE_1976(altitude).P
    hours, watts = ice(*size, insulation, air, 15 / 3.6, pressure, float(frost.water) - 273.15)
    assert time_to_ice(plumbing, frost, plumbing.runs[run], insulation) / 3600 == pytest.approx(hours, rel=0.01)
    assert tracing(plumbing, frost, plumbing.runs[run], insulation) == pytest.approx(watts, rel=0.01)


def test_vents_with_the_weather() -> None:
    """Normal cubic metres of 0 degrees and 1 atm are more at 15 degrees and 420 m: by temperature and pressure."""
    state = first("quarry-carrier", 1)
    gross = float(assessed("quarry-carrier").truck.volumes.gross.sum())
    air = ATMOSPHERE_1976(420).P
    weather = 4 * gross**0.7 / 3600 * (288.15 / 273.15) * (101325 / air)
    whole, opening = state.from_tank + weather, 2 * 0.25 * math.pi * 0.08**2
    vent = pipes("quarry-carrier").plumbing.work.vent[0]
    needs = 0.5 * air / (287.05 * 288.15) * (whole / (opening * float(vent.coefficient))) ** 2
    assert assessed("quarry-carrier").finding("vent-in").value == pytest.approx(needs / 1e3, rel=1e-3)


def test_evenness_of_two_strips_that_overlap() -> None:
    """7 m each, 6.8 m apart: 0.2 m are wet twice, 13.6 m once."""
    wide, mean = 13.8, 14.0 / 13.8
    deviation = (13.6 * (mean - 1) + 0.2 * (2 - mean)) / wide
    found = assessed("quarry-carrier").finding("evenness-spray-the-road-behind")
    assert found.value == pytest.approx(1 - deviation / mean, abs=1e-6)


def test_cut_lengths_by_the_tables() -> None:
    """Middle to end of long elbows: 114, 152, 190 mm (ASME B16.9), necks 50 and 52 mm (EN 1092-1), gaps 2 mm."""
    found = {piece.mark: piece.length for one in pipe_cuts(pipes("quarry-carrier").plumbing) for piece in one.pieces}
    cut = 114 * math.tan(0.5 * math.atan2(0.54, 0.72)) + 2
    wanted = {
        "P1-1": 3400 - 4 * 192, "P3-1": 1900 - 2 * 54 - 2 * 154, "P4-1": 250 - 52 - 116, "P4-2": 400 - 2 * 116,
        "P4-3": 4000 - 116 - 52, "P6-3": 2580 - 116 - cut, "P6-4": 900 - cut, "P7-2": 1750 - 154,
    }  # fmt: skip
    for mark, length in wanted.items():
        assert 1000 * found[mark] == pytest.approx(length, abs=0.6), mark


def test_bend_table_of_the_front_line() -> None:
    down, back, up = (np.array(one) for one in ((0, 0, -0.4), (-3.5, 0.3, 0.0), (-0.6, 0.0, -0.05)))

    def angle(one, other):
        return math.acos(one @ other / np.linalg.norm(one) / np.linalg.norm(other))

    tube = pipe_cuts(pipes("quarry-carrier").plumbing)[4].bent.tube
    assert tube.angles == pytest.approx([angle(down, back), angle(back, up)])
    offs = [0.25 * math.tan(0.5 * one) for one in tube.angles]
    second = np.linalg.norm(back) - sum(offs)
    assert tube.straights == pytest.approx([0.4 - offs[0], second, np.linalg.norm(up) - offs[1]])
    planes = np.cross(down, back), np.cross(back, up)
    assert abs(tube.turns[1]) == pytest.approx(angle(*planes))
    assert tube.developed == pytest.approx(sum(tube.straights) + 0.25 * sum(tube.angles))


def test_stock_and_bolts() -> None:
    plumbing = pipes("quarry-carrier").plumbing
    cuts = pipe_cuts(plumbing)
    for plan in stock_plans(cuts):
        for one in plan.lengths:
            whole = sum(cut.length for cut in one.cuts) + 0.003 * len(one.cuts)
            assert 6.0 - whole == pytest.approx(one.offcut, abs=1e-9)
    bought = {(one.what, one.size): one.count for one in bolting(flange_joints([one.run for one in cuts]))}
    assert bought["bolt", "M16"] == bought["nut", "M16"] == 6 * 8 == bought["washer", "M16"] // 2


def test_doses_for_the_village() -> None:
    net = float(assessed("village-carrier").truck.volumes.net.sum())
    rows = dosing_list(assessed("village-carrier")).rows
    chlorine = 50.0 * net  # 50 mg/L, which is 50 parts per million, in g
    assert 1e3 * rows[0][5] == pytest.approx(chlorine / 0.65)
    assert 1e3 * rows[1][6] == pytest.approx(chlorine / 120)
    assert 1e3 * rows[0][7] == pytest.approx(1.9 * chlorine)


def test_meters_and_pulses() -> None:
    flow = first("village-carrier", 0).flow("delivery")
    found = assessed("village-carrier")
    assert found.finding("meter-pulses-water-meter").value == pytest.approx(100e3 * flow, rel=1e-6)
    assert found.finding("meter-most-water-meter").value == pytest.approx(LITRES * flow, rel=1e-6)


def test_sender_strays_no_farther_than_it_says() -> None:
    chart = dip_rows(assessed("quarry-carrier"), step=0.005)
    levels, volumes = np.array(chart.levels), np.array(chart.volumes)[:, 0]
    found = taught(levels, volumes, 12)
    off = np.abs(np.interp(levels, found.levels, found.volumes) - volumes).max()
    assert len(found.levels) == 12
    assert off == pytest.approx(found.error, rel=1e-9)
