"""The diagrams of the frame are true: what is drawn is what the model says, and shear is the moment's slope."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from framed import KNOWN, groups, known, line_of
from tunwright.handbook.beams import FREEDOMS, RY, U, W
from tunwright.sheets.frame.chosen import Shown, members, peak, standing_trials, worst
from tunwright.sheets.frame.diagrams import frame_diagrams, frame_envelope
from tunwright.sheets.frame.oblique import REACH, Moved, bent_alone, seen
from tunwright.sheets.frame.quantities import QUANTITIES
from tunwright.sheets.frame.twisted import twisted_frame, worst_twist
from tunwright.truck.ladder.ladder import Ladder

Check = Callable[..., None]


def drawn(entities: list, quantity: str, of: str, scale: float, factor: float) -> tuple[np.ndarray, np.ndarray]:
    """Places [m] and values [SI] read off a diagram by its own zero and scale."""
    (group,) = [
        one
        for one in groups(entities, "diagram")
        if one.data["quantity"] == quantity and one.data["of"] == of.replace(" ", "-")
    ]
    points = line_of(group)
    values = (points[:, 1] - float(group.data["zero"])) / (scale / 1000.0) * float(group.data["per-mm"]) * factor
    return points[:, 0], values


@pytest.mark.parametrize("name", KNOWN)
@pytest.mark.parametrize("scale", [25.0, 50.0])
def test_a_diagram_shows_what_the_model_says(name: str, scale: float, check: Check) -> None:
    assessment = known(name)
    state = worst(assessment.framework, static=False)
    assert state is not None
    entities = frame_diagrams(assessment, scale=scale)
    system = assessment.build.order.units
    off = 0.0
    for member in members(state.stresses):
        x, forces, stress = state.stresses.along(member, state.trial, state.fill)
        wanted = {"moment": forces[:, RY], "shear": forces[:, W], "stress": stress}
        for quantity in QUANTITIES:
            places, values = drawn(entities, quantity.key, member, scale, quantity.units[system][0])
            assert places == pytest.approx(x)
            most = float(np.abs(wanted[quantity.key]).max())
            off = max(off, float(np.abs(values - wanted[quantity.key]).max()) / most)
    what = f"diagrams of {name} at 1:{scale:g}, greatest difference"
    check(what, source="frame model", expected=0.0, ours=off, tol=1e-4)


@pytest.mark.parametrize("name", KNOWN)
def test_shear_is_the_slope_of_the_moment(name: str, check: Check) -> None:
    framework, off = known(name).framework, 0.0
    for stresses in (framework.stresses, framework.held):
        for trial in stresses.ladder.trials:
            forces = stresses.forces[trial.case.key]
            length = np.array([one.end - one.start for one in stresses.stretches])[:, None]
            slope = (forces[:, 1, RY] - forces[:, 0, RY]) / length
            size = max(1.0, float(np.abs(forces[:, :, W]).max()))
            for end in (0, 1):
                off = max(off, float(np.abs(slope - forces[:, end, W]).max()) / size)
    source = "equilibrium of a piece without load: dMy/dx = Vz"
    check(f"{name}, all cases and fills, share of the greatest shear", source=source, expected=0.0, ours=off, tol=1e-6)


@pytest.mark.parametrize("name", KNOWN)
def test_the_envelope_holds_every_case_and_touches_one(name: str) -> None:
    assessment, scale = known(name), 50.0
    framework, system = assessment.framework, assessment.build.order.units
    entities = frame_envelope(assessment, scale=scale)
    both = (framework.stresses, framework.held)
    for kind, of in (("rail", "rails"), ("subframe", "subframe")):
        for key, row, quantity in (("moment", RY, QUANTITIES[0]), ("shear", W, QUANTITIES[1])):
            edges = [
                line_of(one)
                for one in groups(entities, "diagram")
                if (one.data["quantity"], one.data["of"]) == (key, of)
            ]
            assert len(edges) == 2
            group = next(one for one in groups(entities, "diagram") if one.data["quantity"] == key)
            factor = float(group.data["per-mm"]) * quantity.units[system][0] / (scale / 1000.0)
            upper, lower = ((edge[:, 1] - float(group.data["zero"])) * factor for edge in edges)
            every = [
                stresses.along(member, trial, fill)[1][:, row]
                for stresses in both
                for trial in standing_trials(framework)
                for member in members(stresses, kind)
                for fill in range(len(stresses.ladder.fills))
            ]
            size = float(np.abs(every).max())
            assert upper == pytest.approx(np.max(every, axis=0), abs=1e-4 * size)
            assert lower == pytest.approx(np.min(every, axis=0), abs=1e-4 * size)


@pytest.mark.parametrize(("static", "key"), [(True, "frame-rail-rest"), (False, "frame-rail")])
@pytest.mark.parametrize("name", KNOWN)
def test_the_worst_place_named_is_that_of_the_finding(name: str, static: bool, key: str, check: Check) -> None:
    assessment = known(name)
    state = worst(assessment.framework, static=static)
    assert state is not None
    found, finding = peak(state, "rail"), assessment.finding(key)
    assert found is not None
    assert finding.value is not None
    check(f"{name}, {key}, worst drawn", source="the finding", expected=finding.value, ours=found.value / 1e6, tol=1e-6)
    assert f"{found.member} at {found.x:.2f} m, {state.trial.case.words}" in finding.state


def test_a_chosen_case_and_fill_is_drawn() -> None:
    assessment = known("quarry-carrier")
    stresses = assessment.framework.held
    (braking,) = (trial for trial in stresses.ladder.trials if trial.case.key == "braking")
    half = int(np.abs(stresses.ladder.fills - 0.5).argmin())
    state = Shown(stresses, braking, half, held=True)
    x, forces, _ = state.stresses.along("left rail", state.trial, state.fill)
    places, values = drawn(frame_diagrams(assessment, shown=state, scale=40.0), "moment", "left rail", 40.0, 1e3)
    assert places == pytest.approx(x)
    assert values == pytest.approx(forces[:, RY], abs=0.5)


# the twisted frame


@pytest.fixture(scope="module", params=KNOWN)
def twist(request: pytest.FixtureRequest) -> tuple[str, Shown]:
    return request.param, worst_twist(known(request.param))


def moves_of(state: Shown) -> np.ndarray:
    return state.stresses.ladder.displacements(state.trial)[:, state.fill]


def stiff_part(ladder: Ladder, moves: np.ndarray) -> np.ndarray:
    """How the rails move as one stiff body: means of moves, and turns by a fit about their middle."""
    rails = [name for name in ladder.frame.nodes if " rail at" in name]
    at = np.array([ladder.frame.nodes[name] for name in rails])
    own = np.array([moves.reshape(-1, FREEDOMS)[ladder.frame.number[name], U : W + 1] for name in rails])
    arms = at - at.mean(axis=0)
    inertia = np.sum([np.dot(a, a) * np.eye(3) - np.outer(a, a) for a in arms], axis=0)
    turns = np.linalg.solve(inertia, np.cross(arms, own - own.mean(axis=0)).sum(axis=0))
    return np.concatenate([own.mean(axis=0), turns])


def test_what_is_drawn_bent_is_free_of_any_stiff_motion(twist: tuple[str, Shown]) -> None:
    _, state = twist
    ladder, moves = state.stresses.ladder, moves_of(state)
    bent, _ = bent_alone(ladder, moves)
    assert stiff_part(ladder, bent) == pytest.approx(np.zeros(6), abs=1e-9)
    assert stiff_part(ladder, moves) != pytest.approx(np.zeros(6), abs=1e-4)
    stiff = (moves - bent).reshape(-1, FREEDOMS)
    turns = stiff[:, 3:6]
    assert turns == pytest.approx(np.tile(turns[0], (len(turns), 1)), abs=1e-12)


def test_the_frame_is_drawn_so_many_times_as_bent_as_it_is(twist: tuple[str, Shown]) -> None:
    name, state = twist
    entities = twisted_frame(known(name), shown=state, scale=25.0)
    (group,) = groups(entities, "twisted")
    factor = float(group.data["factor"])
    assert str(int(factor)).rstrip("0") in ("1", "2", "5")
    ladder = state.stresses.ladder
    bent, _ = bent_alone(ladder, moves_of(state))
    assert Moved.fitting(ladder, bent) == factor
    own, nodes, number = bent.reshape(-1, FREEDOMS), ladder.frame.nodes, ladder.frame.number
    rails = [one for one in nodes if one.startswith("right rail at")]
    half = 0.5 * float(known(name).build.chassis.frame.rail_height or 0.0)
    wanted = []
    for one in rails:
        turned = np.cross(own[number[one], 3:6], (0.0, 0.0, half))
        at = np.add(nodes[one], (0.0, 0.0, half))
        wanted.append(seen(at + factor * (own[number[one], U : W + 1] + turned)))
    points = np.array(group.entities[0].points)  # type: ignore[union-attr]
    assert points[: len(rails)] == pytest.approx(np.array(wanted))
    assert float(np.abs(own[[number[one] for one in rails], U : W + 1]).max()) * factor <= REACH


def test_lifted_springs_are_marked_and_no_others(twist: tuple[str, Shown]) -> None:
    name, state = twist
    ladder = state.stresses.ladder
    force = ladder.link_forces(state.trial)[:, state.fill]
    gaps = ladder.frame.rows @ moves_of(state)
    lifted = {
        tuple(link.name.rsplit(", ", 2)[:2])
        for i, link in enumerate(ladder.frame.links)
        if link.name.endswith(", seat") and force[i] >= 0.0 and gaps[i] > 1e-4
    }
    drawing = twisted_frame(known(name), shown=state)
    marked = {(one.data["mount"], one.data["side"]) for one in groups(drawing, "lifted")}
    assert marked == lifted
