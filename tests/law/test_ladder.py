"""Laws of the frame under the tank: axle loads come out as weighed, nothing is lost, what must not matter does not."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files
from itertools import pairwise

import numpy as np
import pytest

from tunwright.build.reading import read_text
from tunwright.handbook.beams import CHI, FREEDOMS, RY, W
from tunwright.handbook.gravity import GRAVITY
from tunwright.truck.ladder import stations
from tunwright.truck.ladder.ladder import Ladder
from tunwright.truck.ladder.running import unsprung
from tunwright.truck.ladder.stress import Stresses
from tunwright.truck.ladder.weights import chassis_lumps
from tunwright.truck.truck import Truck

DEMOS = ("quarry-carrier", "village-carrier", "brush-carrier")
STATICS = "statics of the stiff vehicle, as in test_hand_statics"


def text(name: str) -> str:
    return (files("tunwright.demos") / f"{name}.toml").read_text(encoding="utf-8")


@lru_cache(maxsize=12)
def ladder(name: str, *, held: bool = False) -> Ladder:
    return Ladder(Truck(read_text(text(name), name=name).build), held=held)


def trial(frame: Ladder, key: str):
    return next(one for one in frame.trials if one.case.key == key)


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("case", ["standing", "bump", "braking"])
def test_axle_loads_come_out_of_the_frame_as_they_go_in(check, name: str, case: str) -> None:
    frame = ladder(name)
    one = trial(frame, case)
    table = frame.truck.loading.table(frame._states(one.case))
    for axle, load in frame.reactions(one):
        wanted = one.case.vertical * table.axles[:, axle]
        worst = int(np.abs(load / GRAVITY - wanted).argmax())
        words = f"{name}, {case}: load of axle {axle + 1} out of the frame, worst of 21 fills"
        check(words, source=STATICS, expected=wanted[worst], ours=load[worst] / GRAVITY, tol=0.01, unit="kg")


@pytest.mark.parametrize("name", DEMOS)
def test_the_bare_chassis_is_as_weighed(check, name: str) -> None:
    """Lumps on the rails and axles below the springs: mass, place and height of the whole as stated."""
    frame = ladder(name)
    truck, own = frame.truck, unsprung(frame.truck, frame.running.carriers)
    lumps = chassis_lumps(truck, frame.structure, frame.running.carriers, own)
    axles = [(float(own[i]), frame.running.nodes[f"axle {i + 1}"]) for i in frame.running.standing]
    mass = sum(one.mass for one in lumps) + sum(m for m, _ in axles)
    first = sum(one.mass * one.at[0] for one in lumps) + sum(m * at[0] for m, at in axles)
    high = sum(one.mass * one.at[2] for one in lumps) + sum(m * at[2] for m, at in axles)
    weighed = "as weighed"
    check(f"{name}: bare chassis in the model", source=weighed, expected=truck.axles.kerb_mass, ours=mass, tol=1e-6)
    check(f"{name}: its centre", source=weighed, expected=truck.axles.kerb_x, ours=first / mass, tol=1e-9, unit="m")
    stated = truck.build.chassis.cg_height
    if stated is not None:
        check(f"{name}: height of its centre", source="as stated", expected=float(stated), ours=high / mass, tol=1e-9)


@pytest.mark.parametrize("name", DEMOS)
def test_whatever_lifts_or_twists_the_whole_weight_stands_on_the_ground(check, name: str) -> None:
    frame = ladder(name)
    for one in frame.trials:
        if one.case.jack or one.lost:
            continue
        table = frame.truck.loading.table(frame._states(one.case))
        total = sum(load for _, load in frame.reactions(one))
        off = float(np.abs(total / GRAVITY - one.case.vertical * table.gross).max())
        words = f"{name}, {one.case.key}: weight on the ground less the weight of the vehicle"
        check(words, source="equilibrium", expected=0.0, ours=off, tol=0.05, unit="kg")


@pytest.mark.parametrize("name", DEMOS)
def test_links_that_only_push_never_pull_and_closed_ones_do_not_open(name: str) -> None:
    frame = ladder(name)
    pushes = [i for i, link in enumerate(frame.frame.links) if link.pushes]
    for one in (t for t in frame.trials if not t.lost and not t.case.jack):
        force = frame.link_forces(one)[pushes]
        assert force.max() < 0.05, one.case.key
        stretch = frame.frame.rows[pushes] @ frame.displacements(one)
        would = one.before[pushes] + frame.frame.springs[pushes][:, None] * stretch
        assert would[force > -1e-6].min(initial=0.0) > -0.05, one.case.key


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("end", ["front", "rear"])
def test_on_jacks_the_wheels_of_that_end_carry_nothing(check, name: str, end: str) -> None:
    """What is left steadies an axle that hangs askew: a hundredth of what it carries on the ground."""
    frame = ladder(name)
    loads, standing = dict(frame.reactions(trial(frame, f"jacked-{end}"))), trial(frame, "standing")
    off = frame.running.carriers[0 if end == "front" else -1].axles
    whole = sum(loads[i] for i in off)[0]
    carried = sum(load[0] for i, load in frame.reactions(standing) if i in off)
    what = f"{name}: load of the {end} wheels with that end on jacks, over their load on the ground"
    check(what, source="statics", expected=0.0, ours=whole / carried, tol=1e-4)
    tyres = [frame._tyre(i, side) for i in off for side in ("left", "right")]
    force = frame.link_forces(trial(frame, f"jacked-{end}"))[tyres]
    assert np.abs(force).max() < 0.01 * carried


@pytest.mark.parametrize("name", DEMOS)
def test_shear_is_the_slope_of_the_moment_along_every_stretch(name: str) -> None:
    """Weights hang on the nodes, so between them the shear force is constant: dMy/dx = Vz with V through one point."""
    frame = ladder(name)
    one = trial(frame, "bump")
    forces = frame.section_forces(one)
    for i, stretch in enumerate(frame.structure.stretches):
        run = stretch.end - stretch.start
        slope = (forces[i, 1, RY] - forces[i, 0, RY]) / run
        assert np.allclose(slope, forces[i, 0, W], rtol=1e-5, atol=2.0)
        assert np.allclose(forces[i, 0, W], forces[i, 1, W], rtol=1e-6, atol=0.5)


def test_left_and_right_are_alike_when_everything_is() -> None:
    """With all loads in the middle the right rail mirrors the left in every upright case."""
    plain = "\n".join(line for line in text("quarry-carrier").splitlines() if not line.startswith("y = "))
    frame = Ladder(Truck(read_text(plain.replace('y = { value = "-950 mm", from = "measured" }', ""), name="x").build))
    stresses = Stresses(frame)
    left = [i for i, s in enumerate(frame.structure.stretches) if s.member == "left rail"]
    right = [i for i, s in enumerate(frame.structure.stretches) if s.member == "right rail"]
    for key in ("standing", "bump", "braking"):
        assert np.allclose(stresses.mises[key][left], stresses.mises[key][right], rtol=1e-5, atol=100.0)
    raised = [stresses.mises[f"lift-rear-{side}"][mine] for side, mine in (("left", left), ("right", right))]
    assert np.allclose(*raised, rtol=1e-5, atol=100.0)


def test_twice_the_bump_is_twice_the_force_where_nothing_lifts() -> None:
    """Loads and spring forces grow alike; a mount that has opened keeps open."""
    soft = text("quarry-carrier").replace('bearing = "plastic"', 'bearing = "none"')
    frames = [
        Ladder(Truck(read_text(soft.replace("[order]", f'[states]\nbump = "{g} g"\n\n[order]', 1), name="x").build))
        for g in (1.5, 3.0)
    ]
    forces = [frame.section_forces(trial(frame, "bump"))[:, :, RY, -1] for frame in frames]
    preset = frames[0].section_forces(trial(frames[0], "standing"))[:, :, RY, -1]
    grown = (forces[1] - preset) / np.where(np.abs(forces[0] - preset) > 50.0, forces[0] - preset, np.nan)
    assert np.nanmax(np.abs(grown - 4.0)) < 0.05


def test_holding_the_warping_makes_the_frame_stiffer_in_twist_and_leaves_bending_alone() -> None:
    free, held = ladder("quarry-carrier"), ladder("quarry-carrier", held=True)
    one, other = (f.displacements(trial(f, "diagonal-left"))[:, -1].reshape(-1, FREEDOMS) for f in (free, held))
    number = free.frame.number
    ends = [free.structure.rail_node(s, float(x)) for x in free.structure.rails[[0, -1]] for s in ("left", "right")]

    def twist(moved) -> float:
        z = [moved[number[name], W] for name in ends]
        return abs((z[1] - z[0]) - (z[3] - z[2]))

    assert twist(other) < twist(one)
    bent = [f.section_forces(trial(f, "bump"))[:, :, RY, -1] for f in (free, held)]
    assert np.abs(bent[0] - bent[1]).max() < 0.05 * np.abs(bent[0]).max()
    assert np.abs(held.twist_rates(trial(held, "diagonal-left"))).max() > 0.0
    joints = [held.frame.number[name] for name in held.frame.held]
    assert np.abs(held.displacements(trial(held, "diagonal-left")).reshape(-1, FREEDOMS, 21)[joints, CHI]).max() == 0.0


def test_more_nodes_change_little(check, monkeypatch: pytest.MonkeyPatch) -> None:
    """Weights hang on nodes and the subframe lies on nodes. Twice or three times as many move the worst stress of the
    rails by 1 %, that of a subframe, which is sharp beside its mounts, by 4 %.
    """
    coarse = {name: Stresses(ladder(name)) for name in DEMOS}
    monkeypatch.setattr(stations, "WIDEST", 0.13)
    monkeypatch.setattr(stations, "BESIDE", 0.10)
    for name, before in coarse.items():
        fine = Stresses(Ladder(Truck(read_text(text(name), name="x").build)))
        for member, part in (("rail", 0.01), ("subframe", 0.04)):
            one, other = before.worst(member).value / 1e6, fine.worst(member).value / 1e6
            words = f"{name}: worst stress of the {member}, nodes at most 0.4 and 0.2 m apart against 0.13 and 0.1 m"
            check(words, source="convergence", expected=other, ours=one, tol=part * other, unit="MPa")


def test_the_places_of_the_nodes_are_in_order() -> None:
    frame = ladder("quarry-carrier")
    assert all(b - a > 1e-3 for a, b in pairwise(frame.structure.rails))
    assert frame.structure.rails[0] == pytest.approx(-1.25)
    assert frame.structure.rails[-1] == pytest.approx(6.95)
