"""The shop's lists add up to what the build says, and the driver's table conserves water."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from functools import cache

import pytest

from tunwright.build.kind import System
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.pipework.road.across import wetted
from tunwright.demos import demo_text
from tunwright.sheets.pipework.all_lists import pipework_lists
from tunwright.sheets.pipework.flows import plumbed
from tunwright.sheets.pipework.listing import MEASURES, Listing
from tunwright.sheets.pipework.road.load import permitted
from tunwright.sheets.pipework.road.spreading import spreading
from tunwright.tables.pipes import pipe_size

Check = Callable[..., None]


@cache
def quarry() -> Assessment:
    return Assessment(read_text(demo_text("quarry-carrier")).build)


@cache
def lists(system: System) -> dict[str, Listing]:
    return {one.key: one for one in pipework_lists(quarry(), system)}


def total(listing: Listing, key: str) -> float:
    at = [one.key for one in listing.columns].index(key)
    assert listing.total is not None
    assert sum(float(row[at] or 0) for row in listing.rows) == pytest.approx(float(listing.total[at] or 0))
    return float(listing.total[at] or 0)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_lengths_of_the_line_list_are_the_builds(check: Check, system: System) -> None:
    work, found = plumbed(quarry()).work, lists(system)
    length = sum(float(run.length) for run in work.run) + (float(work.overflow.length) if work.overflow else 0.0)
    ours = total(found["lines"], "length")
    what = f"length of pipe in the line list, {system}"
    check(what, source="sum over the build", expected=length, ours=ours, tol=1e-9, unit="m")


@pytest.mark.parametrize("system", ["metric", "us"])
def test_fittings_are_counted_neither_twice_nor_left_out(check: Check, system: System) -> None:
    work, found = plumbed(quarry()).work, lists(system)
    names = [name for run in work.run for name in run.fittings] + (
        list(work.overflow.fittings) if work.overflow else []
    )
    count = Counter(names) + Counter(one.kind for table in (work.valve, work.device) for one in table)
    listed: Counter[str] = Counter()
    for what, _, _, number in found["fittings"].rows:
        listed[str(what)] += int(number or 0)
    assert listed == count
    words = f"fittings, valves and devices, {system}"
    check(words, source="count over the build", expected=count.total(), ours=total(found["fittings"], "count"), tol=0)
    at = [one.key for one in found["lines"].columns].index("fittings")
    parts = [part.split(" × ") for row in found["lines"].rows for part in str(row[at]).split(", ") if part]
    summed: Counter[str] = Counter()
    for number, name in parts:
        summed[name] += int(number)
    assert summed == Counter(names)


def test_water_in_the_pipes_is_that_of_cylinders(check: Check) -> None:
    work = plumbed(quarry()).work
    cylinders = sum(math.pi / 4 * pipe_size(run.series, run.size).inside ** 2 * float(run.length) for run in work.run)
    ours = 1000 * total(lists("metric")["lines"], "water")
    check("water in the pipes", source="pi d²/4 L", expected=1000 * cylinders, ours=ours, tol=1e-6, unit="L")


def test_every_valve_and_run_is_listed_once() -> None:
    work, found = plumbed(quarry()).work, lists("metric")
    own = {one.valve for one in work.spray if one.valve} - {one.name for one in work.valve}
    listed = [row[0] for row in found["valves"].rows]
    assert Counter(listed) == Counter([one.name for table in (work.valve, work.relief, work.regulator) for one in table]
                                      + sorted(own))  # fmt: skip
    assert [row[0] for row in found["lines"].rows[: len(work.run)]] == [run.name for run in work.run]


@pytest.mark.parametrize("system", ["metric", "us"])
def test_what_is_laid_on_the_road_is_what_leaves_the_tank(check: Check, system: System) -> None:
    """Depth times width times way is the load, at every line; depth times width times speed is the flow."""
    loads = {one.duty.name: spreading(one, permitted(quarry())) for one in quarry().pipes.worked}
    worst = worst_flow = 0.0
    rows = lists(system)["spreading"].rows
    for name, flow, width, _, speed, depth, area, way, least, most in rows:
        found = loads[str(name)]
        assert found is not None
        assert float(least) <= float(depth) <= float(most)  # type: ignore[arg-type]
        worst = max(worst, abs(float(depth) * float(width) * float(way) / found.volume - 1))  # type: ignore[arg-type]
        worst = max(worst, abs(float(area) * float(depth) / found.volume - 1))  # type: ignore[arg-type]
        laid = float(depth) * float(width) * float(speed)  # type: ignore[arg-type]
        worst_flow = max(worst_flow, abs(laid / float(flow) - 1))  # type: ignore[arg-type]
    assert len(rows) >= 9
    check(f"water laid over the load, {system}", source="continuity", expected=0, ours=worst, tol=1e-9)
    check(f"depth x width x speed over the flow, {system}", source="continuity", expected=0, ours=worst_flow, tol=1e-9)


def test_road_table_by_the_trades_formula(check: Check) -> None:
    """d [L/m2] = 60 Q [L/min] / (1000 v [km/h] w [m]): 600 L/min at 12 km/h on 6 m lay 0.50 L/m2."""
    name, flow, width, _, speed, depth, *_ = lists("metric")["spreading"].rows[2]
    by_hand = 60 * MEASURES["flow"]["metric"].size ** -1 * float(flow) / (1000 * 3.6 * float(speed) * float(width))  # type: ignore[arg-type]
    check(f"water laid, {name}", source="d = 60 Q / (1000 v w)", expected=by_hand, ours=1000 * float(depth), tol=1e-9)  # type: ignore[arg-type]


def test_strips_that_overlap_wet_the_road_once(check: Check) -> None:
    one = plumbed(quarry()).work.spray[0]

    def strip(y: float, width: float) -> object:
        return one.model_copy(update={"y": y, "width": width})

    for what, strips, expected in (
        ("apart", [(-3.0, 2.0), (3.0, 2.0)], 4.0),
        ("overlapping", [(-1.0, 4.0), (1.0, 4.0)], 6.0),
        ("one in the other", [(0.0, 6.0), (1.0, 2.0)], 6.0),
    ):
        ours = wetted([strip(*each) for each in strips])  # type: ignore[misc]
        check(
            f"width wetted, strips {what}",
            source="union of intervals",
            expected=expected,
            ours=ours,
            tol=1e-12,
            unit="m",
        )


@pytest.mark.parametrize(
    "unit", ["flow", "power", "torque", "pressure", "road", "area", "depth", "volume", "way", "head"]
)
def test_us_units_against_an_independent_library(check: Check, unit: str) -> None:
    pint = pytest.importorskip("pint")
    names = {
        "flow": "gallon / minute", "power": "horsepower", "torque": "force_pound * foot", "pressure": "psi",
        "road": "mile / hour", "area": "yard ** 2", "depth": "gallon / yard ** 2", "volume": "gallon", "way": "mile",
        "head": "foot",
    }  # fmt: skip
    expected = pint.UnitRegistry().Quantity(1.0, names[unit]).to_base_units().magnitude
    ours = MEASURES[unit]["us"].size
    check(f"one {MEASURES[unit]['us'].symbol} in SI", source="Pint", expected=expected, ours=ours, tol=1e-12 * expected)
