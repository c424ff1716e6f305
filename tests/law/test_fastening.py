"""Fastenings: forces on the mounts balance what throws the tank, bolts and welds carry what the mounts get."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fastened import ALL, AWAY, BOLTS, BRACKETS, PLATES, REAR, SPRINGS, WELD, build
from tunwright.build.mounting import BoltSet, Weld
from tunwright.handbook.bolt_torque import torque_arm
from tunwright.truck.fastening import weld
from tunwright.truck.fastening.clamp import Clamp
from tunwright.truck.fastening.held import by_friction, holds, sides
from tunwright.truck.fastening.joint import Joint, Web, web_at
from tunwright.truck.fastening.pattern import on_bolts, outline, places, wrenches
from tunwright.truck.fastening.resist import OneBolt
from tunwright.truck.fastening.securing import Securing
from tunwright.truck.fastening.sides import Side, mount_sides
from tunwright.truck.fastening.tightening import tightening
from tunwright.truck.ladder.ladder import Ladder
from tunwright.truck.truck import Truck

G = 9.80665
LAYOUTS: dict[str, tuple[tuple[dict[str, Any], ...], dict[str, Any]]] = {
    "springs, brackets, plates": ((SPRINGS, BRACKETS, PLATES, REAR), {}),
    "without a subframe": ((BRACKETS, PLATES, REAR), {"subframe": ""}),
    "rubber all round": (tuple({**m, "kind": "rubber", "rate": "900 N/mm"} for m in (BRACKETS, PLATES, REAR)), {}),
    "a pivot and rubber": (({**BRACKETS, "kind": "pivot"}, {**REAR, "kind": "rubber", "rate": "2 kN/mm"}), {}),
    "clamps alone": (({**BRACKETS, "kind": "clamp"}, {**REAR, "kind": "clamp"}), {}),
}


def securing(name: str) -> Securing:
    mounts, how = LAYOUTS[name]
    return Securing(Truck(build(*mounts, **how)))


def vectors(found: Securing) -> tuple[np.ndarray, np.ndarray]:
    """Sum of forces on the mounts and of their moments about the body's centre (cases, 3)."""
    total, moment = np.zeros((len(found.loads), 3)), np.zeros((len(found.loads), 3))
    for mount in found.mounts:
        for side in sides(mount):
            arm = np.array(found.place(mount.name, side)) - found.body.centre
            for hold in holds(mount, friction=by_friction(found.mounts)):
                force = found.forces[mount.name, side, hold.word][:, None] * np.array(hold.way)
                total += force
                moment += np.cross(arm, force)
    return total, moment


@pytest.mark.parametrize("name", LAYOUTS)
def test_forces_on_the_mounts_balance_what_throws_the_tank(name: str, check: Callable[..., None]) -> None:
    found = securing(name)
    total, moment = vectors(found)
    size = float(np.abs(found.loads).max())
    off = np.abs(total - found.loads).max() / size
    check(f"sum of forces on the mounts, {name}", source="law: equilibrium", expected=0.0, ours=off, tol=1e-9)
    off = np.abs(moment).max() / size
    check(f"sum of moments, {name}", source="law: equilibrium", expected=0.0, ours=off, tol=1e-7, unit="m")


def test_two_g_forward_by_hand(check: Callable[..., None]) -> None:
    found = securing("springs, brackets, plates")
    truck = found.truck
    mass = truck.weights.on_tank.mass + next(one.mass.mass for one in truck.weights.lumps if one.key == "subframe")
    mass += 1000.0 * float(truck.volumes.gross.sum())
    along = sum(force[0] for (_, _, word), force in found.forces.items() if word == "along")
    check(
        "2 g forward: forces along, all mounts", source="law: 2 m g, tank, water to the brim and subframe by hand",
        expected=-2 * mass * G / 1e3, ours=along / 1e3, tol=1e-6, unit="kN",
    )  # fmt: skip


def test_no_twist_and_no_side_force_when_thrown_forward(check: Callable[..., None]) -> None:
    """The tank of this build stands in the middle: left and right get the same, nothing goes across."""
    found = securing("springs, brackets, plates")
    assert abs(found.body.centre[1]) < 1e-9
    size = float(np.abs(found.loads).max())
    for case in (0, 3):
        uneven = max(
            abs(found.forces[m.name, "left", h.word][case] - found.forces[m.name, "right", h.word][case])
            for m in found.mounts
            for h in holds(m)
        )
        across = max(abs(f[case]) for (_, _, word), f in found.forces.items() if word == "across")
        words = found.throws[case].words
        check(f"left against right, {words}", source="law: symmetry", expected=0, ours=uneven / size, tol=1e-9)
        check(f"forces across, {words}", source="law: symmetry", expected=0, ours=across / size, tol=1e-9)


def test_seats_only_press_and_springs_keep_their_rate() -> None:
    found = securing("springs, brackets, plates")
    for side in ("left", "right"):
        seat, spring = (found.forces["front springs", side, word] for word in ("seat", "spring"))
        assert (seat <= 1e-6).all()
        lifted = seat > -1e-6
        assert lifted.any(), "no case lifts a seat, so this shows nothing"
        assert (spring[lifted] > 3000.0).all()
        assert (np.abs(spring[~lifted] - 3000.0) < 200.0).all(), "pressed, the seat gives by a hair"


@pytest.mark.parametrize("name", ["springs, brackets, plates", "rubber all round"])
def test_mounts_hold_as_in_the_frame_model(name: str) -> None:
    mounts, how = LAYOUTS[name]
    ladder = Ladder(Truck(build(*mounts, **how)))
    for mount in ladder.truck.build.mount:
        mine = [
            (f"{mount.name}, {side}, {one.word}", one.stiffness, one.pushes, one.way, one.preset)
            for side in sides(mount)
            for one in holds(mount)
        ]
        theirs = [
            (link.name, link.stiffness, link.pushes, link.touches[0].way, ladder.structure.preset.get(i, 0.0))
            for i in ladder.structure.mounted[mount.name]
            for link in [ladder.frame.links[i]]
        ]
        assert mine == theirs


def test_forces_of_the_frame_model_add_up_to_the_tank(check: Callable[..., None]) -> None:
    """Without a bearing between, the mounts hold all there is: braking pulls with m a."""
    found = build(*(SPRINGS, BRACKETS, PLATES, REAR), subframe="")
    ladder = Ladder(Truck(found))
    held = Securing(ladder.truck)
    every = [side for mount in found.mount for side in mount_sides(held, mount, ladder)]
    case = every[0].words.index("braking at 0.5 g, 100 % full")
    along = sum(side.force[case, 0] for side in every)
    mass = held.truck.weights.on_tank.mass + 1000.0 * float(held.truck.volumes.net.sum())
    check(
        "frame model, braking at 0.5 g, full: forces along", source="law: m a, tank and net water by hand",
        expected=-0.5 * G * mass / 1e3, ours=along / 1e3, tol=1e-3, unit="kN",
    )  # fmt: skip


# bolts


def one_side(force: tuple[float, float, float], name: str = "left") -> Side:
    return Side(name, ("by hand",), np.array([True]), np.array([force]), np.array([force]))


def test_a_plate_thrown_forward_by_hand(check: Callable[..., None]) -> None:
    """Six bolts, 80 by 60 mm, their middle 150 mm down: F/6, and F e r / sum r2."""
    bolts = BoltSet.model_validate({**BOLTS, "columns": 3, "drop": "120 mm"})
    shear, pull = on_bolts(bolts, 0.12, wrenches(np.array([(-75e3, 0.0, 12e3)]), "left", 0.0))
    twist, spread = 75e3 * 0.150, 6 * 0.03**2 + 4 * 0.08**2
    along, up = 75e3 / 6 + twist * 0.03 / spread, 12e3 / 6 + twist * 0.08 / spread
    source = "by hand: Shigley's Mechanical Engineering Design, 9th ed., 8-12"
    check("worst shear, 75 kN at 150 mm", source=source, expected=np.hypot(along, up), ours=shear.max(), tol=1e-6)
    check("pull, force in the web's plane", source=source, expected=0.0, ours=float(np.abs(pull).max()), tol=1e-9)


def test_a_push_sideways_pulls_the_bolts_by_hand(check: Callable[..., None]) -> None:
    """Pushed to the left at the flange, the left plate turns about its lower edge: pulls grow from there."""
    bolts = BoltSet.model_validate({**BOLTS, "columns": 2, "drop": "120 mm"})
    _, pull = on_bolts(bolts, 0.12, wrenches(np.array([(0.0, -10e3, 0.0)]), "left", 0.0))
    edge = 0.12 + 0.06 + 0.04  # lower edge of the plate, below the flange
    arms = np.array([edge - 0.12, edge - 0.18])
    upper = 10e3 * edge * arms[0] / (2 * (arms**2).sum())
    check(
        "pull of an upper bolt, 10 kN at the flange", source="law: statics of a stiff plate turning about its edge",
        expected=upper, ours=float(pull.max()), tol=1e-6, unit="N",
    )  # fmt: skip


@pytest.mark.parametrize("reach", [0.0, 0.07])
def test_left_and_right_are_mirrored(reach: float) -> None:
    bolts, rng = BoltSet.model_validate(BOLTS), np.random.default_rng(7)
    force = rng.uniform(-40e3, 40e3, (20, 3))
    left = on_bolts(bolts, 0.09, wrenches(force, "left", reach))
    right = on_bolts(bolts, 0.09, wrenches(force * [1, -1, 1], "right", reach))
    turned = places(bolts, 0.09)[:, 0].argsort(kind="stable")
    assert len(turned) == 8
    order = [4 * row + (3 - column) for row in range(2) for column in range(4)]
    for one, other in zip(left, right, strict=True):
        assert np.allclose(one, other[:, order], atol=1e-6)


def test_bolts_lie_inside_the_plate_and_the_plate_below_the_flange() -> None:
    bolts = BoltSet.model_validate({**BOLTS, "drop": "30 mm"})
    at = places(bolts, 0.03)
    corners = outline(bolts, at, 0.03)
    assert corners[:, 1].max() == pytest.approx(0.0)
    assert corners[:, 1].min() == pytest.approx(-0.03 - 0.06 - 0.04)
    assert (at.min(axis=0) > corners.min(axis=0)).all()
    assert (at.max(axis=0) < corners.max(axis=0)).all()


def test_use_of_a_bolt_grows_with_its_load_and_falls_with_its_size() -> None:
    web = Web(0.008, 535e6, 0.3, 0.0)
    sizes = [BoltSet.model_validate({**BOLTS, "size": size}) for size in ("M12", "M14", "M16", "M18")]
    uses = [Joint(one, "plate", (one_side((-60e3, 5e3, 20e3)),), web).strength() for one in sizes]
    assert [one.use for one in uses if one] == sorted((one.use for one in uses if one), reverse=True)
    double = Joint(sizes[2], "plate", (one_side((-120e3, 10e3, 40e3)),), web).strength()
    assert double is not None
    assert uses[2] is not None
    assert double.use == pytest.approx(2 * uses[2].use)


def test_slip_counts_daily_cases_alone() -> None:
    force = np.array([(-60e3, 0.0, 0.0), (-10e3, 0.0, 0.0)])
    side = Side("left", ("hard", "daily"), np.array([False, True]), force, force)
    bolts = BoltSet.model_validate({**BOLTS, "reach": "0 mm"})
    joint = Joint(bolts, "plate", (side,), Web(0.008, 535e6, 0.3, 0.0))
    assert joint.slip().words == "daily"
    assert joint.slip_when_hard() == pytest.approx(6 * joint.slip().use)
    strength = joint.strength()
    assert strength is not None
    assert strength.words == "hard"


def test_a_reinforcement_lengthens_the_grip() -> None:
    found = build(*ALL)
    plain = web_at(found, 4.3)
    lined = Web(plain.thickness, plain.tensile, plain.height, 0.006)
    bolts = BoltSet.model_validate(BOLTS)
    grips = [Joint(bolts, "plate", (one_side((1.0, 1.0, 1.0)),), web).grip for web in (plain, lined)]
    assert grips == [pytest.approx(0.016), pytest.approx(0.022)]


# torque, clamps, welds


@pytest.mark.parametrize("finish", ["dry", "oiled", "zinc", "greased", "waxed"])
@pytest.mark.parametrize("size", ["M8", "M12", "M16", "M20", "M24"])
def test_torque_and_preload_go_together(size: str, finish: str) -> None:
    wide = {"spacing": "120 mm", "row_spacing": "90 mm", "edge": "60 mm"}
    how = tightening(BoltSet.model_validate({**BOLTS, **wide, "size": size, "finish": finish}))
    assert how.settled < how.least < how.most < how.proof
    assert how.first <= 0.5 * how.torque
    row = how.size
    for friction, preload in ((how.friction.least, how.most), (how.friction.most, how.least)):
        arm = torque_arm(
            diameter=row.diameter, pitch=row.pitch, thread_friction=friction, head_friction=friction,
            rubbing_diameter=0.5 * (row.face + row.holes["medium"]),
        )  # fmt: skip
        assert how.torque / preload == pytest.approx(arm)


def test_clamps_hold_by_their_friction_by_hand(check: Callable[..., None]) -> None:
    bolts = BoltSet.model_validate({**BOLTS, "columns": 2, "rows": 1, "surface": "painted"})
    clamp = Clamp(bolts, (one_side((-5e3, 0.0, 4e3)),))
    held = 0.15 * (2 * clamp.one.tightened.settled - 4e3) / 1.1
    slips = clamp.slip()
    source = "law: level force / (mu (clamps - lift) / gamma)"
    check("clamps, friction used", source=source, expected=5e3 / held, ours=slips.use, tol=1e-9)
    pull = clamp.strength().pull  # type: ignore[union-attr]
    check("clamps, pull of a leg", source="law: lift / legs", expected=2e3, ours=pull, tol=1e-9, unit="N")


def test_clamps_alone_hold_by_more_in_the_hard_cases(check: Callable[..., None]) -> None:
    """Once slipping nothing holds: thrown hard, the factor is that of the ultimate limit state."""
    bolts = BoltSet.model_validate({**BOLTS, "columns": 2, "rows": 1, "surface": "painted"})
    force = np.array([(-5e3, 0.0, -6e3)])
    hard = Clamp(bolts, (Side("left", ("thrown",), np.array([False]), force, force),))
    held = 0.15 * (2 * hard.one.tightened.settled + 6e3) / 1.25
    source = "law: level force / (mu (clamps + weight) / 1.25), EN 1993-1-8, 2.2 from memory"
    check("clamps thrown, friction used", source=source, expected=5e3 / held, ours=hard.slip().use, tol=1e-9)


@pytest.mark.parametrize(("columns", "rows", "factor"), [(3, 1, 1.5), (1, 3, 1.5), (3, 2, 2.5)])
def test_one_row_of_bolts_bears_less(columns: int, rows: int, factor: float, check: Callable[..., None]) -> None:
    """Far from all edges and from each other: 2.5 fu d t / gamma, 1.5 with one row in single lap."""
    far = {"spacing": "300 mm", "row_spacing": "300 mm", "edge": "200 mm", "drop": "200 mm"}
    one = OneBolt(BoltSet.model_validate({**BOLTS, **far, "columns": columns, "rows": rows}))
    check(
        f"hole of {columns} by {rows} bolts", source="EN 1993-1-8, Table 3.4 and 3.6.1 (10) by hand", unit="kN",
        expected=factor * 490e6 * 0.016 * 0.008 / 1.25 / 1e3, ours=one.bearing(0.008, 490e6, edges=True) / 1e3,
        tol=1e-9,
    )  # fmt: skip


def test_upright_welds_by_hand(check: Callable[..., None]) -> None:
    """Pushed along at their own height, two upright welds get shear across the weld alone."""
    one = Weld.model_validate(WELD)
    found = weld.worst(one, 0.008, (one_side((-50e3, 0.0, 0.0)),), 0.0)
    tau = 50e3 / (2 * (0.150 - 0.008) * 0.004)
    source = "by hand: EN 1993-1-8, 4.5.3.3"
    strength = 360e6 / (3**0.5 * 0.8 * 1.25)
    check("upright welds, simplified", source=source, expected=tau / strength, ours=found.simplified, tol=1e-9)
    normal = tau / 2**0.5
    directional = (normal**2 + 3 * normal**2) ** 0.5 * 0.8 * 1.25 / 360e6
    source = "by hand: EN 1993-1-8, 4.5.3.2"
    check("upright welds, directional", source=source, expected=directional, ours=found.directional, tol=1e-9)


@pytest.mark.parametrize("size", [{"length": "900 mm", "way": "along"}, {"apart": "900 mm"}])
def test_a_long_lap_loses_strength(size: dict[str, str], check: Callable[..., None]) -> None:
    """A lap of 225 throats, along the welds or across them, keeps 1.2 - 0.2 x 225 / 150 = 0.9 of its strength."""
    one, load = Weld.model_validate(WELD | size), (one_side((-50e3, 0.0, 0.0)),)
    found, plain = weld.worst(one, 0.008, load, 0.0), 50e3 / (2 * (float(one.length) - 0.008) * 0.004)
    strength = 360e6 / (3**0.5 * 0.8 * 1.25)
    source = "by hand: EN 1993-1-8, 4.11 and 4.5.3.3; formula from memory"
    what = "a lap of 225 throats, simplified, " + ("along" if one.way == "along" else "across")
    check(what, source=source, expected=plain / (0.9 * strength), ours=found.simplified, tol=1e-9)
    assert 0.8 < found.directional / found.simplified <= 1.0 + 1e-9
    endless = Weld.model_validate(WELD | {"length": "9 m", "way": "along"})
    assert 1.0 < weld.worst(endless, 0.008, load, 0.0).simplified < np.inf, "no strength is left of 2250 throats"


def test_a_pull_beyond_the_preload_is_all_in_the_bolts() -> None:
    """Upright plates pulled off with more than they were tightened to: the joint opens, none of it is spared."""
    web = Web(0.008, 550e6, 0.3, 0.0)
    for times, opened in ((0.5, False), (2.0, True)):
        bolts = BoltSet.model_validate({**BOLTS, **AWAY})
        most = OneBolt(bolts).tightened.most
        joint = Joint(bolts, "plate", (one_side((0.0, 8 * times * most, 0.0)),), web)
        found, how = joint.proof(), joint.one.tightened
        assert found is not None
        assert joint.share is not None
        assert (found.pull > how.most / (1 - joint.share)) is opened
        expected = found.pull if opened else how.most + joint.share * found.pull
        assert found.use == pytest.approx(expected / how.proof)


def test_the_directional_method_never_asks_for_more() -> None:
    found = build(*ALL)
    held = Securing(Truck(found))
    for mount in found.mount:
        if mount.weld is not None:
            worst = weld.worst(mount.weld, 0.008, mount_sides(held, mount, None), 0.08)
            assert worst.directional <= worst.simplified * (1 + 1e-9)


@pytest.mark.parametrize(("bearing", "past"), [("steel", True), ("plastic", True), ("rubber", False), ("none", False)])
def test_what_lies_on_the_rail_presses_past_the_bolts(bearing: str, past: bool) -> None:
    found = build(*ALL, subframe=bearing)
    side = mount_sides(Securing(Truck(found)), found.mount[2], None)[0]
    assert side.force[:, 2].min() < -1e3
    assert (side.carried[:, 2].min() >= 0.0) == past
    assert np.allclose(side.carried[:, :2], side.force[:, :2])
