"""The log of a pump control: closed forms of flows and ways, and no litre that comes from nowhere or gets lost."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from tunwright.build.reading import read_text
from tunwright.demos import demo_text
from tunwright.proof.along import round_length
from tunwright.proof.delivery_log import Deliveries, Tank
from tunwright.proof.log import COLUMNS, log_of
from tunwright.proof.rows import rows_of
from tunwright.proof.way import RADIUS, distances, plane
from tunwright.truck.truck import Truck

AREA = 8.0  # of a box for a tank [m2]


def log(columns: dict[str, np.ndarray], *, k: float | None = None, tank: Tank | None = None) -> Deliveries:
    rows = zip(*columns.values(), strict=True)
    lines = [",".join(columns), *(",".join(map(cell, row)) for row in rows)]
    return Deliveries(log_of(rows_of("\n".join(lines).encode(), COLUMNS, file="log.csv"), k), tank)


def cell(value: float | str) -> str:
    if isinstance(value, str):
        return value
    return "" if math.isnan(value) else repr(float(value))


def box(net: float = 10.0) -> Tank:
    return Tank(lambda level: AREA * np.clip(level, 0.0, 2.0), net)


def random_log(seed: int, many: int = 400) -> Deliveries:
    """A log with everything in it: stops, gaps, jumps, empty cells."""
    rng = np.random.default_rng(seed)
    time = np.cumsum(rng.choice([1.0, 1.0, 1.0, 2.0, 20.0], many, p=[0.5, 0.2, 0.18, 0.1, 0.02]))
    speed = np.repeat(rng.choice([0.0, 3.0, 8.0], many // 10 + 1), 10)[:many]
    way = np.concatenate([[0.0], np.cumsum(speed[:-1] * np.diff(time))])
    x, y = way.copy(), 30 * np.sin(way / 60)
    x[rng.integers(5, many - 5, 3)] += 5000.0
    x[rng.integers(0, many, 8)] = np.nan
    flow = np.repeat(rng.uniform(0, 900, many // 20 + 1), 20)[:many] * rng.choice([0, 1, 1], many)
    flow[rng.integers(1, many - 1, 10)] = np.nan
    return log({"time": time, "flow_l_min": flow, "x_m": x, "y_m": y})


# water over time


def test_an_even_flow_and_a_ramp(check) -> None:
    time = np.arange(0.0, 601.0, 10.0)
    even = log({"time": time, "flow_l_min": np.full(len(time), 600.0)})
    ramp = log({"time": time, "flow_l_min": time})
    check("even flow", source="Q t", expected=6.0, ours=even.delivered.total, tol=1e-12, unit="m3")
    check("flow that rises evenly", source="Q t / 2", expected=3.0, ours=ramp.delivered.total, tol=1e-12, unit="m3")
    assert even.delivered.open == 0.0
    assert ramp.delivered.open == pytest.approx(0.5 * 10 / 60_000 * 600, rel=1e-12)


def test_bins_of_a_ramp(check) -> None:
    """Minute by minute of a flow that rises by 1 L/min in a second: the difference of t squared halves."""
    time = np.arange(0.0, 601.0, 7.0)
    starts, water = log({"time": time, "flow_l_min": time}).delivered.bins(60.0)
    for start, ours in zip(starts[:-1], water[:-1], strict=True):
        expected = ((start + 60) ** 2 - start**2) / 2 / 60_000
        check("minute of a ramp", source="difference of t² / 2", expected=expected, ours=ours, tol=1e-12, unit="m3")


def test_the_error_of_the_trapezoid_is_that_of_the_trapezoid(check) -> None:
    """Of a parabola it is h² (f'(b) - f'(a)) / 12; a root stays within what is said to be open."""
    for step in (20.0, 10.0, 5.0):
        time = np.arange(0.0, 1000.5, step)
        ours = log({"time": time, "flow_l_min": 1e-3 * time**2}).delivered.total
        expected = (1e6 / 3 + step**2 * 2 / 12) / 60_000
        check("flow as a parabola", source="closed form with the trapezoid's own error", expected=expected, ours=ours,
              tol=1e-11, unit="m3")  # fmt: skip
    time = np.arange(0.0, 601.0, 5.0)
    root = log({"time": time, "flow_l_min": 600 * np.sqrt(time / 600)}).delivered
    assert 0 < abs(root.total - 4.0) < root.open


def test_bins_begin_with_the_clock() -> None:
    start = datetime(2026, 5, 4, 7, 30, 25, tzinfo=UTC)
    time = np.array([(start + timedelta(seconds=s)).isoformat() for s in range(0, 121, 5)])
    made = log({"time": time, "flow_l_min": np.full(25, 60.0)}).delivered
    starts, water = made.bins(60.0)
    assert starts.tolist() == [-25.0, 35.0, 95.0]
    assert water == pytest.approx([0.035, 0.06, 0.025])


@pytest.mark.parametrize("seed", range(5))
def test_bins_hold_all_water(seed: int) -> None:
    made = random_log(seed).delivered
    for width in (60.0, 300.0, 3600.0):
        assert made.bins(width)[1].sum() == pytest.approx(made.total, rel=1e-12)


def test_pulses_are_counted_as_they_are(check) -> None:
    counts = np.array([5.0, 120.0, 0.0, 240.0, 60.0])
    made = log({"time": np.arange(5) * 10.0, "pulses": counts}, k=120e3).delivered
    check("pulses since the row before", source="Σ N / K, the first row left out", expected=0.0035, ours=made.total,
          tol=1e-15, unit="m3")  # fmt: skip
    assert made.open == 0.0


# gaps


def test_no_water_is_made_up_for_a_gap(check) -> None:
    time = np.concatenate([np.arange(0.0, 101.0, 10.0), np.arange(400.0, 501.0, 10.0)])
    one = log({"time": time, "flow_l_min": np.full(len(time), 600.0)})
    check("even flow with a gap", source="Q (t - gap)", expected=2.0, ours=one.delivered.total, tol=1e-12, unit="m3")
    assert (one.gap_count, one.gap_time) == (1, 300.0)
    assert one.findings[-1].verdict == "open"
    pulses = log({"time": time, "pulses": np.full(len(time), 1200.0)}, k=120e3)
    assert pulses.delivered.in_gaps == pytest.approx(0.01)
    assert pulses.delivered.total == pytest.approx(0.01 * (len(time) - 1))
    assert pulses.findings[-1].verdict == "holds"


def test_an_empty_cell_is_bridged_and_many_are_a_gap() -> None:
    time, flow = np.arange(0.0, 101.0, 10.0), np.full(11, 600.0)
    flow[4] = np.nan
    assert log({"time": time, "flow_l_min": flow}).delivered.total == pytest.approx(1.0)
    flow[4:8] = np.nan
    one = log({"time": time, "flow_l_min": flow})
    assert (one.gap_count, one.gap_time) == (1, 50.0)
    assert one.delivered.total == pytest.approx(0.5)


# where it went


def test_even_flow_at_even_speed_lays_the_same_on_each_metre(check) -> None:
    time = np.arange(0.0, 601.0, 3.0)
    for speed in (2.0, 5.0):
        one = log({"time": time, "flow_l_min": np.full(len(time), 600.0), "x_m": speed * time, "y_m": 0 * time})
        assert one.along.length == pytest.approx(600 * speed)
        for segment in one.along.segments():
            check("water on each metre", source="Q / v", expected=0.01 / speed, ours=segment.per_metre, tol=1e-12,
                  unit="m3/m")  # fmt: skip


@pytest.mark.parametrize("seed", range(8))
def test_every_litre_has_a_place_or_none_is_known(check, seed: int) -> None:
    one = random_log(seed)
    along = one.along
    parts = along.on_the_way + along.standing + along.nowhere
    check("on the way, standing, not known", source="all that was delivered", expected=one.delivered.total, ours=parts,
          tol=1e-12, unit="m3")  # fmt: skip
    for length in (None, 7.0, 1000.0):
        laid = sum(segment.volume for segment in along.segments(length))
        check("pieces of the way", source="all that was laid on it", expected=along.on_the_way, ours=laid, tol=1e-12,
              unit="m3")  # fmt: skip
    assert sum(pool.volume for pool in along.pools) == pytest.approx(along.standing, abs=1e-8)


def test_water_while_the_vehicle_stands_is_a_pool() -> None:
    time = np.arange(0.0, 301.0, 5.0)
    way = np.where(time < 100, 4 * time, np.where(time < 160, 400.0, 400 + 4 * (time - 160)))
    one = log({"time": time, "flow_l_min": np.full(len(time), 120.0), "x_m": way, "y_m": 0 * way})
    (pool,) = one.along.pools
    assert (pool.start, pool.end, pool.way, pool.east) == (100.0, 160.0, 400.0, 400.0)
    assert pool.volume == pytest.approx(0.12)
    assert max(segment.per_metre for segment in one.along.segments()) == pytest.approx(0.002 / 4)


def test_a_wrong_place_is_left_out(check) -> None:
    time = np.arange(0.0, 101.0, 1.0)
    x = 5.0 * time
    x[50] += 3000.0
    one = log({"time": time, "flow_l_min": np.full(len(time), 60.0), "x_m": x, "y_m": 0 * x})
    assert int(one.along.jumps.sum()) == 2
    check("way without the jump", source="speed times time, two steps less", expected=490.0, ours=one.along.length,
          tol=1e-9, unit="m")  # fmt: skip
    assert one.along.nowhere == pytest.approx(0.002)


def test_a_vehicle_at_rest_does_not_drive_by_its_places() -> None:
    rng = np.random.default_rng(0)
    time = np.arange(0.0, 601.0, 10.0)
    x, y = 1.0 * rng.standard_normal((2, len(time)))
    one = log({"time": time, "flow_l_min": 0 * time, "x_m": x, "y_m": y, "speed_km_h": 0 * time})
    assert one.along.length == 0.0


def test_the_way_by_speeds_alone() -> None:
    time = np.arange(0.0, 601.0, 10.0)
    one = log({"time": time, "flow_l_min": np.full(61, 60.0), "speed_km_h": np.full(61, 18.0)})
    assert one.along.length == pytest.approx(3000.0)
    assert one.along.segments()[0].per_metre == pytest.approx(0.001 / 5.0)
    assert math.isnan(one.along.segments()[0].east)


def test_pieces_of_a_way_are_round_and_few() -> None:
    for way in (3.0, 900.0, 1001.0, 18_272.0, 2e6):
        length = round_length(way)
        assert way / length <= 200
        assert f"{length:e}"[:3] in ("1.0", "2.0", "2.5", "5.0")


# distances


def test_distances_on_meridian_and_equator_and_by_chords(check) -> None:
    """Along a meridian and the equator the arc is the angle; elsewhere twice the arc of half the straight chord."""
    check("a degree of a meridian", source="R π / 180", expected=RADIUS * math.pi / 180, tol=1e-6, unit="m",
          ours=float(distances([47.0, 48.0], [8.0, 8.0])[0]))  # fmt: skip
    check("a degree of the equator, over the date line", source="R π / 180", expected=RADIUS * math.pi / 180, tol=1e-6,
          unit="m", ours=float(distances([0.0, 0.0], [179.5, -179.5])[0]))  # fmt: skip
    rng = np.random.default_rng(1)
    for reach in (1e-4, 1.0, 60.0):
        lat, lon = rng.uniform(-60, 60, 2), rng.uniform(-180, 180, 2)
        lat[1], lon[1] = lat[0] + reach * rng.uniform(-1, 1), lon[0] + reach * rng.uniform(-1, 1)
        p, m = np.radians(lat), np.radians(lon)
        xyz = np.column_stack([np.cos(p) * np.cos(m), np.cos(p) * np.sin(m), np.sin(p)])
        chord = 2 * RADIUS * math.asin(0.5 * float(np.linalg.norm(xyz[1] - xyz[0])))
        check("distance of random places", source="straight chord in space", expected=chord, tol=1e-6 + 1e-9 * chord,
              unit="m", ours=float(distances(lat, lon)[0]))  # fmt: skip


def test_the_plane_keeps_lengths(check) -> None:
    """A road of some kilometres: lengths on the plane against those over the sphere."""
    s = np.linspace(0, 2 * np.pi, 200)
    for lat0, lon0 in ((47.0, 8.5), (-33.0, 179.99), (0.0, 0.0)):
        lat, lon = lat0 + 0.02 * np.sin(s), (lon0 + 0.03 * np.cos(2 * s) + 180) % 360 - 180
        east, north = plane(lat, lon)
        ours = np.hypot(np.diff(east), np.diff(north)).sum()
        expected = distances(lat, lon).sum()
        check("road on the plane", source="over the sphere", expected=expected, ours=ours, tol=1e-3 * expected,
              unit="m")  # fmt: skip


# the tank against the meter


def emptied(loss: np.ndarray, *, fill: float = 0.0, noise: float = 0.0, seed: int = 0) -> Deliveries:
    """An hour of even flow out of a box, with a loss so far, a filling in the middle, and levels that jitter."""
    rng = np.random.default_rng(seed)
    time = np.arange(0.0, 3601.0, 10.0)
    flow = np.full(len(time), 60.0)
    water = 9.0 - 0.001 * time - loss + np.interp(time, [1800, 2000], [0.0, fill])
    level = 1000 * water / AREA + noise * rng.standard_normal(len(time))
    return log({"time": time, "flow_l_min": flow, "level_mm": level}, tank=box())


TIME = np.arange(0.0, 3601.0, 10.0)


def test_what_left_past_the_meter_is_found(check) -> None:
    lost = np.interp(TIME, [1000, 1600], [0.0, 0.6])
    balance = emptied(lost).balance
    assert balance is not None
    check("loss of 600 L", source="what was taken out", expected=0.6, ours=balance.lost, tol=1e-9, unit="m3")
    check("what the meter counted", source="Q t", expected=3.6, ours=balance.passed, tol=1e-9, unit="m3")
    assert balance.found
    assert balance.worst is not None
    assert 1000 <= balance.worst.start < balance.worst.end <= 1600
    assert balance.worst.end - balance.worst.start == pytest.approx(0.8 * 600, abs=20)


def test_fillings_are_counted_apart(check) -> None:
    lost = np.interp(TIME, [2400, 3000], [0.0, 0.6])
    balance = emptied(lost, fill=3.0).balance
    assert balance is not None
    (filling,) = balance.fillings
    assert (filling.start, filling.end) == (1800.0, 2000.0)
    check("filling of 3 m³", source="what was put in", expected=3.0, ours=filling.volume, tol=1e-9, unit="m3")
    check("loss beside a filling", source="what was taken out", expected=0.6, ours=balance.lost, tol=1e-9, unit="m3")


@pytest.mark.parametrize("seed", range(12))
def test_waves_are_no_loss_and_hide_none(seed: int) -> None:
    calm = emptied(0 * TIME, fill=3.0, noise=6.0, seed=seed).balance
    assert calm is not None
    assert not calm.found
    assert calm.waves == pytest.approx(AREA * 0.006, rel=0.25)
    leak = emptied(np.interp(TIME, [600, 900], [0.0, 1.0]), noise=6.0, seed=seed).balance
    assert leak is not None
    assert leak.found
    assert abs(leak.lost - 1.0) < leak.uncertain
    assert leak.worst is not None
    assert 500 <= leak.worst.start < leak.worst.end <= 1000


def test_a_meter_that_reads_low_is_no_leak_at_rest() -> None:
    balance = emptied(0.00025 * TIME).balance
    assert balance is not None
    assert balance.found
    assert balance.lost / balance.passed == pytest.approx(0.25)
    assert balance.while_still == pytest.approx(0.0, abs=1e-9)


def test_the_uncertainty_is_that_of_both_levels_and_the_meter(check) -> None:
    balance = emptied(0 * TIME).balance
    assert balance is not None
    by_hand = math.sqrt(2 * (AREA * 0.01) ** 2 + (0.02 * 3.6) ** 2)
    check("how far the balance may be off", source="√(2 (A 10 mm)² + (2 % V)²)", expected=by_hand,
          ours=balance.uncertain, tol=1e-6, unit="m3")  # fmt: skip


def test_a_level_that_stands_alone_is_no_filling() -> None:
    time = np.arange(0.0, 601.0, 10.0)
    level = 1000 * (9.0 - 0.001 * time) / AREA
    level[20], level[40] = 1900.0, 0.0
    one = log({"time": time, "flow_l_min": np.full(61, 60.0), "level_mm": level}, tank=box()).balance
    assert one is not None
    assert (one.alone, one.fillings) == (2, ())
    assert one.lost == pytest.approx(0.0, abs=1e-9)


def test_gaps_are_no_loss() -> None:
    time = np.concatenate([np.arange(0.0, 601.0, 10.0), np.arange(1800.0, 2401.0, 10.0)])
    level = 1000 * (9.0 - 0.001 * time) / AREA
    one = log({"time": time, "flow_l_min": np.full(len(time), 60.0), "level_mm": level}, tank=box())
    assert one.balance is not None
    assert one.balance.lost == pytest.approx(0.0, abs=1e-9)
    assert one.balance.fell_in_gaps == pytest.approx(1.2)
    counted = np.concatenate([[0.0], np.diff(time) * 0.001 * 120e3])
    pulses = log({"time": time, "pulses": np.round(counted), "level_mm": level}, k=120e3, tank=box()).balance
    assert pulses is not None
    assert pulses.lost == pytest.approx(0.0, abs=1e-9)
    assert pulses.passed == pytest.approx(2.4)


def test_flow_while_the_pump_stands() -> None:
    time = np.arange(0.0, 601.0, 10.0)
    pump = (time <= 300).astype(float)
    one = log({"time": time, "flow_l_min": np.full(61, 60.0), "pump": pump})
    assert one.past_the_pump == pytest.approx(0.29)
    assert next(each for each in one.findings if each.key == "log-pump-still").verdict == "fails"


def test_the_levels_of_a_build_are_its_dip_table() -> None:
    truck = Truck(read_text(demo_text("quarry-carrier")).build)
    level = np.linspace(1.1, 0.5, 121)
    water = truck.volumes.dip(level)
    time = np.arange(121) * 10.0
    flow = np.concatenate([[0.0], -np.diff(water) / 10 * 60_000])
    flow = 0.5 * (flow + np.append(flow[1:], flow[-1]))
    tank = Tank(truck.volumes.dip, float(truck.volumes.net.sum()))
    one = log({"time": time, "flow_l_min": flow, "level_mm": 1000 * level}, tank=tank)
    assert one.balance is not None
    assert one.balance.fell == pytest.approx(float(water[0] - water[-1]), rel=1e-9)
    assert not one.balance.found
