"""Water on the road: none is lost across the width, the engine speed found gives it back, loads are permitted ones."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from plumbed import changed
from quarry import bare
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.road.across import evenness, nozzles
from tunwright.checks.pipework.road.running import barred, in_common, running
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.spreading import pattern
from tunwright.sheets.pipework.all_lists import pipework_lists
from tunwright.sheets.pipework.listing import Listing
from tunwright.sheets.pipework.road.chart import across_chart
from tunwright.sheets.pipework.road.engines import engine_list
from tunwright.sheets.pipework.road.load import load, permitted, permitted_time
from tunwright.tables.read import SHOP_VARIABLE
from tunwright.truck.pipework.duties import DutyState, over_time
from tunwright.truck.pipework.holding import EngineRange, on_the_road, road_flow

Check = Callable[..., None]
QUARRY = bare()
BEHIND, BOTH = "spray-the-road-behind", "spray-before-and-behind"
DUTY = 'road_speed = "15 km/h"\nwants = "800 L/min"'
HEAVY = (
    ('rating = { value = "19000 kg"', 'rating = { value = "15500 kg"'),
    ('rating = { value = "9500 kg"', 'rating = { value = "7750 kg"'),
    ('rating = { value = "9500 kg"', 'rating = { value = "7750 kg"'),
)
RPM = math.pi / 30


@cache
def assessed(*changes: tuple[str, str]) -> Assessment:
    return Assessment(read_text(changed(QUARRY, *changes)).build)


def lays(wanted: str, *, speed: str = "15 km/h") -> tuple[str, str]:
    return DUTY, f'road_speed = "{speed}"\nlays = "{wanted}"\nwants = "800 L/min"'


def heads(shape: str, right: float = 3.4) -> tuple[tuple[str, str], ...]:
    """Both rear heads with a pattern, so far to the right and to the left."""
    names = [f'name = "rear head, {side}"\n' for side in ("left", "right")]
    shaped = [(name, f'{name}pattern = "{shape}"\n') for name in names]
    return (*shaped, ('y = "-3.4 m"', f'y = "-{right} m"'), ('y = "3.4 m"', f'y = "{right} m"'))


def spray_duty(assessment: Assessment, slug: str = BEHIND) -> Worked:
    return next(one for one in assessment.pipes.worked if one.slug == slug)


def found(key: str, *changes: tuple[str, str]) -> Finding:
    return assessed(*changes).finding(key)


# across the width


@pytest.mark.parametrize("shape", ["even", "triangle"])
@pytest.mark.parametrize("slug", [BEHIND, BOTH])
def test_the_chart_holds_the_water_of_all_sprays(check: Check, shape: str, slug: str) -> None:
    one = spray_duty(assessed(*heads(shape)), slug)
    chart = across_chart(one, "metric")
    whole, *single = chart.series
    state = min(one.states, key=lambda state: abs(state.fill - 0.5))
    laid = np.trapezoid(whole.y, whole.x) / 1000 * float(one.duty.road_speed)
    what = f"{slug}, {shape}: area under the sum, times the speed"
    check(what, source="flow on the road", expected=road_flow(state), ours=laid, tol=1e-8, unit="m3/s")
    at = np.unique([*(x + 1e-4 for line in chart.series for x in line.x[1:-1]), *np.linspace(-6, 6, 41) + 0.0123])
    inside = at[at < whole.x[-1]]
    summed = sum(np.interp(inside, line.x, line.y) for line in single)
    off = float(np.abs(summed - np.interp(inside, whole.x, whole.y)).max())
    check(f"{slug}, {shape}: sum of the sprays", source="addition", expected=0, ours=off, tol=1e-9, unit="L/m2")
    assert len(single) == len(on_the_road(state))


def test_several_alike_stand_side_by_side(check: Check) -> None:
    spray = assessed().build.pipework.spray[0].model_copy(update={"count": 4, "y": 1.0, "width": 2.0})
    laid = pattern(np.linspace(-3.0, 5.0, 33), nozzles([(spray, 0.012)]))
    check("four even patterns of 2 m about 1 m", source="1 / 8 m", expected=1 / 8, ours=float(laid.min()), tol=1e-12)
    assert float(laid.max()) == pytest.approx(1 / 8, rel=1e-12)


def test_triangles_by_their_closed_form(check: Check) -> None:
    """One triangle: mean half the peak, mean deviation a quarter; the driest quarter is 18 of 70 strips of 0.1 m, 9 at
    each edge. Two a whole width apart: the same between their middles. Two half a width apart: even between them.
    """
    first = assessed().build.pipework.spray[0]
    for places, even, driest in (((0.0,), 1 / 2, 18 / 70), ((-3.5, 3.5), 1 / 2, 18 / 70), ((-1.75, 1.75), 1.0, 1.0)):
        bar = [(first.model_copy(update={"pattern": "triangle", "y": y, "width": 7.0}), 0.006) for y in places]
        ours = evenness(bar)
        for what, closed, here in (("CU", even, ours[0]), ("DU", driest, ours[1])):
            check(f"{what} of triangles at {places}", source="closed form", expected=closed, ours=here, tol=1e-3)


# the engine


@pytest.mark.parametrize("slug", [BEHIND, BOTH])
@pytest.mark.parametrize("fill", [0.03, 0.5, 1.0])
def test_the_engine_speed_found_gives_the_flow_back(check: Check, slug: str, fill: float) -> None:
    one, plumbing = spray_duty(assessed(), slug), assessed().pipes.plumbing
    turning = EngineRange(plumbing, one.duty, fill)
    ends, worst = (turning.flow(turning.least), turning.flow(turning.most)), 0.0
    for wanted in np.linspace(*ends, 7):
        engine = turning.engine_for(float(wanted)).engine
        turned = one.duty.model_copy(update={"engine": engine})
        worst = max(worst, abs(road_flow(DutyState(plumbing, turned, fill)) / wanted - 1))
    what = f"{slug}, {100 * fill:.0f} % full: flow at the engine speed found, over the wanted"
    check(what, source="the duty solved anew at that speed", expected=0, ours=worst, tol=1e-6)
    assert turning.engine_for(0.99 * ends[0]).end == "least"
    assert turning.engine_for(1.01 * ends[1]).end == "most"
    assert turning.engine_for(1.01 * ends[1]).engine is None


def test_without_static_head_the_flow_goes_with_the_engine(check: Check) -> None:
    """The header level with the water and next to no pipe: all losses go with the square, so Q = n Q0 / n0."""
    surface = assessed().pipes.plumbing.tank.surface(assessed().pipes.plumbing.points["tank sump"], 0.5)
    level = ('height = "0.80 m"\nat = "6.90 m"', f'height = "{surface:.9f} m"\nat = "6.90 m"')
    short = tuple((f'length = "{long}"', 'length = "1 mm"') for long in ("3.4 m", "1.9 m", "4.65 m"))
    other = assessed(level, *short)
    turning = EngineRange(other.pipes.plumbing, spray_duty(other).duty, 0.5)
    base = turning.flow(1300 * RPM)
    for rpm in (900, 1100, 1500, 1700):
        what = f"flow at {rpm} rpm over that at 1300, no static head"
        ours = turning.flow(rpm * RPM) / base
        check(what, source="affinity laws", expected=rpm / 1300, ours=ours, tol=1e-4 * rpm / 1300)
        back = turning.engine_for(base * rpm / 1300).engine / RPM
        what = f"engine for {rpm}/1300 of the flow"
        check(what, source="affinity laws", expected=rpm, ours=back, tol=0.2, unit="rpm")


def test_the_ends_of_the_range_are_where_something_forbids_more() -> None:
    one, plumbing = spray_duty(assessed(), BOTH), assessed().pipes.plumbing
    fills = [EngineRange(plumbing, one.duty, fill) for fill in (0.5, 1.0, one.states[-1].fill)]
    free = in_common([running(each) for each in fills])
    assert all(not barred(each.at(engine)) for each in fills for engine in (free.low, free.high))
    assert any(barred(each.at(free.low - 0.5 * RPM)) == free.below for each in fills)
    assert "pressure before" in free.below
    assert free.high == fills[0].most


def test_a_weak_drive_ends_the_range(check: Check) -> None:
    """The torque of the drive at the last speed is what it bears."""
    weak = assessed(('torque = "420 N m"', 'torque = "90 N m"'))
    one, plumbing = spray_duty(weak, BOTH), weak.pipes.plumbing
    turning = EngineRange(plumbing, one.duty, 0.5)
    free = running(turning)
    assert free.above == "too much torque for the drive"
    torque = turning.at(free.high).pump.torque * plumbing.work.pump.drive.ratio
    check("torque at the last speed", source="what the drive bears", expected=90, ours=torque, tol=0.05, unit="N m")


def engines(assessment: Assessment) -> Listing:
    return engine_list(assessment.pipes.worked, assessment.pipes.plumbing, "metric")


def test_every_cell_of_the_engine_table_holds_its_water(check: Check) -> None:
    other, worst, cells = assessed(lays("0.4 L/m2")), 0.0, 0
    for name, speed, depth, _, engine, full, empty, why, least, most, *_ in engines(other).rows:
        one = next(each for each in other.pipes.worked if each.duty.name == name)
        assert (engine is None) == bool(why)
        if engine is None:
            assert (depth < least * (1 + 1e-9)) if why.startswith("under") else (depth > most * (1 - 1e-9))
            continue
        cells += 1
        assert least * (1 - 1e-9) <= depth <= most * (1 + 1e-9)
        assert full is None or engine is None or full < engine
        assert empty is None or empty > engine
        turned = one.duty.model_copy(update={"engine": engine})
        state = DutyState(other.pipes.plumbing, turned, min(one.states, key=lambda each: abs(each.fill - 0.5)).fill)
        worst = max(worst, abs(road_flow(state) / (13.8 * speed * depth) - 1))
    assert cells >= 5
    check("flow at the cell's engine speed over d v w", source="the duty solved anew", expected=0, ours=worst, tol=1e-6)


def test_gravity_has_no_engine_speeds() -> None:
    rest = ('lift = "5 m"\n', 'lift = "5 m"\nrest = { loses = "0.1 bar", flow = "500 L/min" }\n')
    still = assessed(('engine = "1300 rpm"\n', ""), rest)
    names = {row[0] for row in engines(still).rows}
    assert names == {"spray before and behind"}
    with pytest.raises(ValueError, match="no speed of the engine"):
        EngineRange(still.pipes.plumbing, spray_duty(still).duty, 0.5)


# enough, and even


def test_too_little_water_is_caught_with_the_engine_and_the_speed_that_would_do() -> None:
    one = found(f"lays-{BEHIND}", lays("0.28 L/m2"))
    assert one.verdict == "fails"
    words = one.remedy.words.replace("\u2009", "")
    rpm = int(re.search(r"run the engine at (\d+) rpm", words)[1])
    slow = float(re.search(r"drive at ([\d.]+) km/h", words)[1])
    for engine, verdicts in ((rpm, ("holds", "close")), (rpm - 10, ("fails",))):
        turned = ('engine = "1300 rpm"', f'engine = "{engine} rpm"')
        assert found(f"lays-{BEHIND}", lays("0.28 L/m2"), turned).verdict in verdicts, engine
    for speed, verdicts in ((slow, ("holds", "close")), (slow + 0.1, ("fails",))):
        assert found(f"lays-{BEHIND}", lays("0.28 L/m2", speed=f"{speed:.1f} km/h")).verdict in verdicts, speed


def test_an_engine_too_slow_for_it_says_what_it_lays(check: Check) -> None:
    one = found(f"lays-{BEHIND}", lays("0.4 L/m2"))
    words = one.remedy.words.replace("\u2009", "")
    assert "run the engine" not in words
    told = float(re.search(r"at 1700 rpm .* it lays ([\d.]+) L/m²", words)[1])
    fast = found(f"lays-{BEHIND}", lays("0.4 L/m2"), ('engine = "1300 rpm"', 'engine = "1700 rpm"'))
    source = "the finding at that speed"
    check("most the engine lays", source=source, expected=fast.value, ours=told, tol=0.005, unit="L/m2")


def test_the_depth_is_that_of_the_driest_filling_by_hand(check: Check) -> None:
    """877 L/min at 15 km/h on 13.8 m: 60 Q / (1000 v w)."""
    one, least = found(f"lays-{BEHIND}", lays("0.2 L/m2")), min(map(road_flow, spray_duty(assessed()).states))
    by_hand = 60 * least * 60e3 / (1000 * 15 * 13.8)
    check("least water", source="60 Q / (1000 v w)", expected=by_hand, ours=one.value, tol=1e-9, unit="L/m2")
    assert one.verdict == "holds"
    assert one.remedy is None


def test_what_no_depth_can_be_told_without_is_asked_for() -> None:
    still = found(f"lays-{BEHIND}", (DUTY, 'lays = "0.2 L/m2"\nwants = "800 L/min"'))
    assert (still.verdict, still.missing) == ("open", ("pipework.duty[1].road_speed",))
    bare = found(f"lays-{BEHIND}", lays("0.2 L/m2"), ('width = "7 m"\n', ""), ('width = "7 m"\n', ""))
    assert (bare.verdict, bare.missing) == ("open", ("pipework.spray[1].width", "pipework.spray[2].width"))
    shut = found(f"lays-{BEHIND}", lays("0.2 L/m2"), ('open = ["V1", "V3"]', 'open = ["V1"]'))
    assert (shut.verdict, shut.value) == ("fails", 0.0)


def test_water_that_pools_is_told_and_does_not_fail() -> None:
    slow = found(f"lays-{BEHIND}", lays("0.2 L/m2", speed="3 km/h"))
    assert slow.verdict == "holds"
    assert "may stand in pools" in slow.note
    assert not found(f"lays-{BEHIND}", lays("0.2 L/m2")).note


def test_uneven_triangles_are_caught_and_the_spacing_is_tried(check: Check) -> None:
    key = f"evenness-{BEHIND}"
    assert found(key, *heads("even")).verdict == "holds"
    one = found(key, *heads("triangle"))
    assert one.verdict == "fails"
    apart, then = (float(each) for each in re.search(r"([\d.]+) m apart.*: (\d+) % even", one.remedy.words).groups())
    better = found(key, *heads("triangle", right=apart / 2))
    check("evenness at the spacing told", source="finding there", expected=100 * better.value, ours=then, tol=0.5)
    assert better.verdict == "holds"


def test_one_spray_alone_is_asked_only_where_its_pattern_is_not_even() -> None:
    right = 'name = "rear head, right"\n'
    single = (right, f'{right}valve = "V9"\n')
    keys = {one.key for one in assessed(single).findings}
    assert f"evenness-{BEHIND}" not in keys
    one = found(f"evenness-{BEHIND}", single, *heads("triangle")[:1])
    assert one.value == pytest.approx(0.5, abs=3e-3)


# the load


def test_the_load_is_what_the_axles_allow(check: Check) -> None:
    other = assessed(*HEAVY)
    allowed, one = permitted(other), spray_duty(other)
    water, net = other.fill_limit.water, float(other.truck.volumes.net.sum())
    assert allowed.less
    assert water < net
    stays = net - float(other.truck.volumes.usable.sum())
    ours = load(one, allowed)
    check("load", source="fill limit less what stays", expected=water - stays, ours=ours, tol=1e-9, unit="m3")
    rows = {row.key: row for row in pipework_lists(other, "metric")}["spreading"]
    area = next(float(row[6]) * float(row[5]) for row in rows.rows)
    check("area times depth", source="the load", expected=ours, ours=area, tol=1e-9, unit="m3")
    assert "the most the axles allow" in rows.foot


def test_where_the_axles_allow_all_the_load_is_the_usable_water(check: Check) -> None:
    one, usable = spray_duty(assessed()), float(assessed().truck.volumes.usable.sum())
    ours = load(one, permitted(assessed()))
    check("load", source="usable volume", expected=usable, ours=ours, tol=1e-9, unit="m3")
    assert permitted_time(one, assessed().pipes.plumbing, permitted(assessed())) is None
    assert "usable water" in {row.key: row for row in pipework_lists(assessed(), "metric")}["spreading"].foot


def test_a_limit_passed_empty_leaves_no_load() -> None:
    other = assessed(('rating = { value = "19000 kg"', 'rating = { value = "4200 kg"'))
    allowed = permitted(other)
    assert other.fill_limit.fails_dry
    assert (allowed.water, load(spray_duty(other), allowed)) == (0.0, 0.0)
    rows = {row.key: row for row in pipework_lists(other, "metric")}["spreading"]
    assert rows.rows
    assert all(row[6] is None and row[7] is None for row in rows.rows)
    assert "There is no load" in rows.foot


@pytest.mark.parametrize("slug", [BEHIND, "drain-the-tank", "fill-from-a-hydrant", "fill-from-a-pond"])
def test_the_time_of_the_permitted_load_is_that_of_the_volume_balance(check: Check, slug: str) -> None:
    """dV/dt = -Q(V) by solve_ivp between the permitted filling and the end, the network solved at every step."""
    other = assessed(*HEAVY)
    allowed, one, plumbing = permitted(other), spray_duty(other, slug), other.pipes.plumbing
    begin, end = (one.states[0].fill, allowed.fill) if one.inward else (allowed.fill, one.over.ends)
    near = one.states[0]

    def rate(_: float, y: np.ndarray) -> list[float]:
        return [-DutyState(plumbing, one.duty, float(y[0]), near).from_tank / plumbing.tank.net]

    def done(_: float, y: np.ndarray) -> float:
        return float(y[0]) - end

    done.terminal = True  # type: ignore[attr-defined]
    span = 3.0 * one.over.time
    by_hand = solve_ivp(rate, (0.0, span), [begin], events=done, rtol=1e-7, atol=1e-9, max_step=span / 40)
    time, ours = float(by_hand.t_events[0][0]), permitted_time(one, plumbing, allowed).time
    check(f"{slug}: time of the permitted load", source="dV/dt = -Q by scipy solve_ivp", expected=time, ours=ours,
          tol=1e-3 * time, unit="s")  # fmt: skip
    assert ours < one.over.time


def test_two_parts_of_the_time_add_up(check: Check) -> None:
    one, plumbing = spray_duty(assessed(), "drain-the-tank"), assessed().pipes.plumbing
    whole, part = one.over.time, over_time(plumbing, one.duty, full=0.6).time

    def rate(_: float, y: np.ndarray) -> list[float]:
        return [-DutyState(plumbing, one.duty, float(y[0])).from_tank / plumbing.tank.net]

    fall = solve_ivp(rate, (0.0, whole - part), [1.0], rtol=1e-7, atol=1e-9, max_step=whole / 60)
    check("filling after the first part", source="dV/dt = -Q", expected=0.6, ours=float(fall.y[0, -1]), tol=5e-4)


def test_a_full_below_what_stays_is_refused() -> None:
    with pytest.raises(ValueError, match="counts as full"):
        over_time(assessed().pipes.plumbing, spray_duty(assessed()).duty, full=0.0)


def test_the_shop_says_what_pools(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    own = tmp_path / "shop.toml"
    own.write_text('[lays_most]\nvalue = 0.0002\nwhy = "our roads"\n', encoding="utf-8")
    monkeypatch.setenv(SHOP_VARIABLE, str(own))
    fresh = Assessment(read_text(QUARRY.replace(*lays("0.2 L/m2"))).build)
    assert "may stand in pools" in fresh.finding(f"lays-{BEHIND}").note
