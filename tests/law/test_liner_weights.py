"""Reinforcements weigh: by hand, in the axle loads, and in the frame model, which gives the axle loads back exactly."""

from __future__ import annotations

import numpy as np
import pytest

from tunwright.build.problems import BuildProblems
from tunwright.build.reading import read_text
from tunwright.checks.frame.candidate import Candidate
from tunwright.demos import demo_text
from tunwright.tables.reinforcements import reinforcements
from tunwright.truck.ladder.ladder import Ladder
from tunwright.truck.truck import Truck

DEMO = demo_text("ridge-carrier")
HAND = "areas and levers by hand, steel of 7850 kg/m3"
GRAVITY = 9.80665


def truck(liner: str = "", *, radius: str = "0 mm") -> Truck:
    text = DEMO.replace('rail_radius = { value = "10 mm"', f'rail_radius = {{ value = "{radius}"')
    return Truck(read_text(text + (f"\n[[chassis.frame.liner]]\n{liner}\n" if liner else "")).build)


def lump(of: Truck) -> tuple[float, np.ndarray]:
    found = next(one for one in of.weights.lumps if one.key == "liner.1")
    return found.mass.mass, found.mass.centre


def test_a_channel_in_a_square_rail(check) -> None:
    """A rail of 260 x 75 x 7 mm, square corners; in it a channel of 5 mm that reaches out to the rail's edge."""
    mass, centre = lump(truck('from = "0.5 m"\nto = "2.5 m"\nthickness = "5 mm"'))
    area = 2 * 68e-3 * 5e-3 + (246e-3 - 10e-3) * 5e-3
    by_hand = 2 * 2.0 * area * 7850
    check("channel of 5 mm in both rails, 2 m", source=HAND, expected=by_hand, ours=mass, tol=1e-6, unit="kg")
    check("height of its centre", source=HAND, expected=1.06 - 0.13, ours=centre[2], tol=1e-9, unit="m")
    assert centre[0] == pytest.approx(1.5)
    assert centre[1] == 0.0


def test_a_strip_under_the_flange(check) -> None:
    mass, centre = lump(truck('from = "0.5 m"\nto = "2.5 m"\nshape = "strip"\nthickness = "8 mm"'))
    check("strip 75 x 8 mm, 2 m", source=HAND, expected=2 * 2.0 * 75e-3 * 8e-3 * 7850, ours=mass, tol=1e-6, unit="kg")
    check("height of its centre", source=HAND, expected=1.06 - 0.26 - 0.004, ours=centre[2], tol=1e-9, unit="m")


def test_it_loads_the_axles_by_the_lever(check) -> None:
    """One that was weighed with the chassis is in the weighed loads already."""
    bare, keys = truck(), 'from = "0.5 m"\nto = "2.5 m"\nthickness = "5 mm"\n'
    loaded, weighed = truck(keys), truck(keys + "weighed = true")
    mass, _ = lump(loaded)
    change = (loaded.table.axles - bare.table.axles)[0]
    check("on the rear axle", source="m x / 4.6 m", expected=mass * 1.5 / 4.6, ours=change[1], tol=1e-9, unit="kg")
    check("on both", source="m", expected=mass, ours=change.sum(), tol=1e-9, unit="kg")
    assert np.array_equal(weighed.table.axles, bare.table.axles)
    assert not [one for one in weighed.weights.lumps if one.key.startswith("liner")]


@pytest.mark.parametrize("more", ["", "weighed = true"])
@pytest.mark.parametrize("shape", ["channel", "angle", "strip"])
def test_the_frame_gives_the_axle_loads_back(check, shape: str, more: str) -> None:
    """Springs and tyres carry what the axle loads say only if what hangs on the frame weighs the same."""
    lined = truck(f'from = "0.513 m"\nto = "2.497 m"\nshape = "{shape}"\nthickness = "6 mm"\n{more}', radius="10 mm")
    ladder = Ladder(lined)
    trial = next(one for one in ladder.trials if one.case.key == "standing")
    ours = np.array([force for _, force in ladder.reactions(trial)]) / GRAVITY
    net = np.array([s.sort == "even" and s.crew and s.level and not s.brim for s in lined.table.states])
    loads = lined.table.axles[net].T
    fills = np.array([s.fill for s, mine in zip(lined.table.states, net, strict=True) if mine])
    there = [int(np.abs(ladder.fills - fill).argmin()) for fill in fills]
    check(
        f"axle loads with a {shape}{', weighed' if more else ''}", source="lever of all lumps, by the load table",
        expected=0.0, ours=np.abs(ours[:, there] - loads).max(), tol=1e-3, unit="kg",
    )  # fmt: skip
    hung = ladder._loads[:, 2].reshape(-1, 7)[:, 2].sum() + lined.weights.on_tank.mass
    check(
        f"what hangs on the frame with a {shape}{', weighed' if more else ''}", source="gross mass, empty, crew aboard",
        expected=lined.table.gross[net].min(), ours=hung, tol=1e-6, unit="kg",
    )  # fmt: skip


def test_mass_of_a_candidate_is_what_the_truck_gains(check) -> None:
    kinds, base = reinforcements(), truck(radius="10 mm")
    for member in (None, *kinds.members):
        one = Candidate(kinds.liners[3], ((0.53, 2.37),), member)
        after = Truck(one.on(base.build))
        check(
            one.words(base.build), source="masses added, before and after",
            expected=after.weights.added.mass - base.weights.added.mass, ours=one.mass(base.build), tol=1e-6, unit="kg",
        )  # fmt: skip


def test_along_a_rail_that_is_not_known_it_is_refused() -> None:
    text = DEMO.replace('rail_thickness = { value = "7 mm", from = "maker" }\n', "")
    liner = '\n[[chassis.frame.liner]]\nfrom = "0.5 m"\nto = "2.5 m"\nthickness = "5 mm"\n'
    with pytest.raises(BuildProblems, match="rail_thickness: What a reinforcement weighs and carries"):
        read_text(text + liner)
