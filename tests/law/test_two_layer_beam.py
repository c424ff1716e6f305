"""Two members that slip on each other: against the sine series, the text of EN 1995-1-1, and one piece of steel."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from tunwright.handbook.rail_sections import channel
from tunwright.handbook.thin_section import thin_section
from tunwright.handbook.two_layer_beam import (
    LOOSE,
    TIGHT,
    Member,
    TwoLayerBeam,
    gamma_give,
    member,
    pitch,
    uniform_load,
)

Check = Callable[..., None]
STEEL, SPAN, LOAD = 210e9, 5.0, 9e3
RAIL = channel(height=0.25, flange=0.08, thickness=0.008, inner_radius=0.012)
SUBFRAME = channel(height=0.12, flange=0.06, thickness=0.006, inner_radius=0.006)
BEAMS = {
    "rail and subframe": TwoLayerBeam(lower=member(RAIL, E=STEEL), upper=member(SUBFRAME, E=STEEL)),
    "rail, rubber and subframe": TwoLayerBeam(lower=member(RAIL, E=STEEL), upper=member(SUBFRAME, E=STEEL), gap=0.015),
    "rail and aluminium": TwoLayerBeam(
        lower=member(RAIL, E=STEEL), upper=Member(E=70e9, A=0.004, Iy=1.1e-5, above=0.09, below=0.07), gap=0.01
    ),
}
JOINTS = [1e6, 3e7, 4e8, 2e10]


@pytest.fixture(params=BEAMS, ids=lambda name: name.replace(" ", "-"))
def case(request: pytest.FixtureRequest) -> tuple[str, TwoLayerBeam]:
    return request.param, BEAMS[request.param]


@pytest.mark.parametrize("k", JOINTS)
def test_newmark_against_the_sine_series(case: tuple[str, TwoLayerBeam], check: Check, k: float) -> None:
    """Under a half sine the gamma method is exact, and a uniform load is a series of sines, q_n = 4 q / (n pi)."""
    name, beam = case
    n = np.arange(1, 4001, 2)
    parts = 4 * LOAD / (n * np.pi)
    waves = (SPAN / (n * np.pi)) ** 2
    stiff = np.array([beam.stiffness(gamma_give(k=k, length=SPAN / i)) for i in n])
    x = 0.3 * SPAN
    exact = uniform_load(beam, k=k, span=SPAN, load=LOAD, x=x)
    law = "sine series of 2000 terms"
    expected = float(np.sum(parts * waves**2 / stiff * np.sin(n * np.pi / 2)))
    what = f"{name}, joint {k:g} N/m2: deflection"
    check(what, source=law, expected=expected, ours=exact.deflection, tol=1e-9 * expected, unit="m")
    together = np.array([beam.together(gamma_give(k=k, length=SPAN / i)) for i in n])
    handed = -np.sum(parts * waves * np.sin(n * np.pi * x / SPAN) * beam.distance * together / stiff)
    what = f"{name}, joint {k:g} N/m2: force handed over at 0.3 l"
    check(what, source=law, expected=handed, ours=exact.handed, tol=1e-5 * abs(handed), unit="N")


@pytest.mark.parametrize("k", JOINTS)
def test_newmark_keeps_its_own_equation(case: tuple[str, TwoLayerBeam], check: Check, k: float) -> None:
    """Slip is -flow / k, d(slip)/dx = r M / EI0 - X (1/EA + r^2 / EI0); flow = dX/dx; no force at the ends."""
    name, beam = case
    x, step = np.linspace(0.0, SPAN, 11), 1e-4
    solved = uniform_load(beam, k=k, span=SPAN, load=LOAD, x=x)
    near = [uniform_load(beam, k=k, span=SPAN, load=LOAD, x=x[1:-1] + side) for side in (-step, step)]
    slope = (near[1].handed - near[0].handed) / (2 * step)
    off = float(np.abs(slope - solved.flow[1:-1]).max() / np.abs(solved.flow).max())
    law = "differential equation of the joint"
    check(f"{name}, joint {k:g} N/m2: flow against dX/dx", source=law, expected=0.0, ours=off, tol=1e-5)
    r, EI0, moment = beam.distance, beam.apart, -LOAD * x * (SPAN - x) / 2
    right = k * (r * moment / EI0 - solved.handed * (1 / beam.together(TIGHT) + r**2 / EI0))
    bend = (near[1].flow - near[0].flow) / (2 * step)
    off = float(np.abs(bend + right[1:-1]).max() / np.abs(k * r * moment / EI0).max())
    check(f"{name}, joint {k:g} N/m2: slip against strain", source=law, expected=0.0, ours=off, tol=1e-5)
    assert solved.handed[[0, -1]] == pytest.approx(0.0, abs=1e-9 * np.abs(solved.handed).max())
    assert solved.flow[0] < 0.0 < solved.flow[-1]


@pytest.mark.parametrize("k", JOINTS)
def test_gamma_method_as_the_standard_writes_it(case: tuple[str, TwoLayerBeam], check: Check, k: float) -> None:
    """(B.1) to (B.10) with the lower member as 1, then with the upper one; the standard takes gamma of 1 and leaves the
    other at 1.
    """
    name, beam = case
    give, moment, shear = gamma_give(k=k, length=SPAN), -40e3, 25e3
    source = "EN 1995-1-1:2004 Annex B (B.1) to (B.10), as written there; from memory"
    for first, second, which in ((beam.lower, beam.upper, "lower"), (beam.upper, beam.lower, "upper")):
        gamma = 1 / (1 + np.pi**2 * first.E * first.A / (k * SPAN**2))
        a2 = gamma * first.E * first.A * beam.distance / (gamma * first.E * first.A + second.E * second.A)
        a1 = beam.distance - a2
        EI = sum(m.E * m.Iy + g * m.E * m.A * a**2 for m, g, a in ((first, gamma, a1), (second, 1.0, a2)))
        what = f"{name}, joint {k:g} N/m2, {which} member as 1"
        check(f"{what}: EI", source=source, expected=EI, ours=beam.stiffness(give), tol=1e-9 * EI, unit="N m2")
        middle = gamma * first.E * a1 * moment / EI * (-1 if which == "lower" else 1)
        shares = beam.shares(give, My=moment)
        force = shares.N_lower if which == "lower" else shares.N_upper
        check(f"{what}: mean stress", source=source, expected=middle, ours=force / first.A, tol=1e-9 * abs(middle))
        flow = gamma * first.E * first.A * a1 * shear / EI
        check(
            f"{what}: flow", source=source, expected=flow, ours=beam.flow(give, Vz=shear), tol=1e-9 * flow, unit="N/m"
        )


@pytest.mark.parametrize("k", JOINTS)
def test_stiffness_lies_between_loose_and_tight(case: tuple[str, TwoLayerBeam], k: float) -> None:
    _, beam = case
    gamma = beam.stiffness(gamma_give(k=k, length=SPAN))
    newmark = uniform_load(beam, k=k, span=SPAN, load=LOAD, x=0.0).stiffness
    assert beam.stiffness(LOOSE) < min(gamma, newmark) <= max(gamma, newmark) < beam.stiffness(TIGHT)
    assert gamma == pytest.approx(newmark, rel=0.01)
    assert gamma_give(k=0.0, length=SPAN) == LOOSE


@pytest.mark.parametrize("give", [LOOSE, 1e-9, 3e-8, TIGHT])
def test_shares_add_up(case: tuple[str, TwoLayerBeam], check: Check, give: float) -> None:
    """M1 + M2 and the couple of what was handed over are the moment; N adds up to what was put in."""
    name, beam = case
    My, low, up = np.array([30e3, -12e3, 0.0]), np.array([0.0, 40e3, -7e3]), np.array([15e3, 0.0, 9e3])
    shares = beam.shares(give, My=My, N_lower=low, N_upper=up)
    moment = shares.M_lower + shares.M_upper + beam.distance * (shares.N_upper - up)
    off = float(np.abs(moment - My).max() / 30e3 + np.abs(shares.N_lower + shares.N_upper - low - up).max() / 40e3)
    check(f"{name}, give {give:g} 1/N: forces of both", source="equilibrium", expected=0.0, ours=off, tol=1e-12)
    ratio = beam.upper.E * beam.upper.Iy / (beam.lower.E * beam.lower.Iy)
    assert shares.M_upper == pytest.approx(ratio * shares.M_lower)
    assert shares.stress.shape == (3, 4)


def test_tight_is_one_piece(check: Check) -> None:
    """Rail and subframe, their centroids above each other, as one section with a link: the same EI, flow and stress,
    also for a force put into the rail.
    """
    beam = BEAMS["rail and subframe"]
    up = RAIL.above + RAIL.centroid[1] + SUBFRAME.below - SUBFRAME.centroid[1]
    points = np.concatenate([RAIL.points, np.add(SUBFRAME.points, (RAIL.centroid[0] - SUBFRAME.centroid[0], up))])
    walls = np.concatenate([RAIL.segments, SUBFRAME.segments + len(RAIL.points)])
    joint = (int(np.argmax(RAIL.points @ (1, 1))), len(RAIL.points) + int(np.argmax(SUBFRAME.points @ (1, -1))))
    whole = thin_section(points, walls, np.concatenate([RAIL.thickness, SUBFRAME.thickness]), [joint])
    law = "two members that do not slip are one section"
    check(
        "rail and subframe, EI",
        source=law,
        expected=STEEL * whole.Iy,
        ours=beam.stiffness(TIGHT),
        tol=1e-3,
        unit="N m2",
    )
    upright = abs(float(whole.link_flow(Vz=1e3)[0]))
    flow = float(beam.flow(TIGHT, Vz=1e3))
    check("rail and subframe, flow", source=law, expected=upright, ours=flow, tol=1e-9 * flow, unit="N/m")
    low, force = RAIL.centroid[1] - whole.centroid[1], 50e3
    My = -20e3
    ours = beam.shares(TIGHT, My=My, N_lower=force).stress
    z = np.array([whole.above, up - SUBFRAME.below + SUBFRAME.centroid[1] - whole.centroid[1]])
    z = np.append(z, [z[1], -whole.below])
    expected = force / whole.area + (My + force * low) * z / whole.Iy
    for i, where in enumerate(("top of the subframe", "its bottom", "top of the rail", "bottom of the rail")):
        what = f"rail and subframe, stress at the {where}"
        check(what, source=law, expected=expected[i], ours=ours[i], tol=1e-6 * abs(expected).max(), unit="Pa")


def test_loose_shares_by_stiffness() -> None:
    """Without a joint moments part as EI does, and an axial force stays where it was put."""
    beam = BEAMS["rail and subframe"]
    shares = beam.shares(LOOSE, My=10e3, N_lower=5e3)
    assert shares.M_lower == pytest.approx(10e3 * RAIL.Iy / (RAIL.Iy + SUBFRAME.Iy))
    assert (shares.N_lower, shares.N_upper) == (5e3, 0.0)
    assert shares.stress[0] == pytest.approx(shares.M_upper * SUBFRAME.above / SUBFRAME.Iy)
    assert beam.flow(LOOSE, Vz=1e3) == 0.0
    assert pitch(capacity=1.0, flow=0.0) == np.inf


def test_upside_down(case: tuple[str, TwoLayerBeam]) -> None:
    _, beam = case
    low, up = beam.lower, beam.upper
    over = [Member(E=m.E, A=m.A, Iy=m.Iy, above=m.below, below=m.above) for m in (low, up)]
    other = TwoLayerBeam(lower=over[1], upper=over[0], gap=beam.gap)
    give = gamma_give(k=1e8, length=SPAN)
    one, two = beam.shares(give, My=9e3, N_lower=4e3), other.shares(give, My=-9e3, N_upper=4e3)
    assert two.stress == pytest.approx(one.stress[::-1], rel=1e-12)
