"""Thin-walled sections against what must hold for any: equilibrium, symmetry, closed forms."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from tunwright.handbook.rail_sections import (
    AngleLiner,
    ChannelLiner,
    StripLiner,
    angle,
    box,
    channel,
    channel_with_liner,
    flat,
)
from tunwright.handbook.thin_section import ThinSection, mirrored, thin_section

Floats = NDArray[np.float64]
Check = Callable[..., None]
EQUILIBRIUM = "equilibrium: stresses and flows add up to the forces they come from"
RAIL = {"height": 0.25, "flange": 0.08, "thickness": 0.008, "inner_radius": 0.012}
FORCES = {"Vy": 7.0e3, "Vz": -31.0e3, "T": 0.0, "Tw": 420.0}


def tree(seed: int, count: int = 9) -> ThinSection:
    """Walls of any length, direction and thickness that branch at random, and do not close."""
    rng = np.random.default_rng(seed)
    walls = [(int(rng.integers(0, i)), i) for i in range(1, count)]
    points = np.zeros((count, 2))
    for a, b in walls:
        points[b] = points[a] + rng.uniform(-0.1, 0.1, 2)
    return thin_section(points, walls, rng.uniform(0.002, 0.012, count - 1))


def cells() -> ThinSection:
    """Two unlike cells, a fin, and a wall that hangs on."""
    points = [[0, 0], [0.12, 0], [0.2, 0.01], [0.21, 0.1], [0.11, 0.13], [0, 0.1], [-0.05, 0.14], [0.26, -0.03]]
    walls = [(0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (5, 0), (1, 4), (5, 6), (2, 7)]
    return thin_section(points, walls, np.array([4, 6, 5, 3, 8, 5, 4, 6, 3]) * 1e-3)


SECTIONS: dict[str, Callable[[], ThinSection]] = {
    "pressed channel": lambda: channel(**RAIL),
    "square channel": lambda: channel(height=0.25, flange=0.08, thickness=0.008),
    "angle": lambda: angle(height=0.1, width=0.06, thickness=0.008, inner_radius=0.008),
    "box": lambda: box(height=0.2, width=0.1, thickness=0.006, inner_radius=0.009),
    "two cells and fins": cells,
    "tree 1": lambda: tree(1),
    "tree 2": lambda: tree(2),
    "inner channel": lambda: channel_with_liner(
        **RAIL, liner=ChannelLiner(thickness=0.006, flange=0.06, inner_radius=0.01)
    ),
    "outer channel, rows": lambda: channel_with_liner(
        **RAIL,
        liner=ChannelLiner(thickness=0.006, flange=0.086, inner_radius=0.02, outside=True),
        rows=(-0.06, 0.06),
    ),
    "angle in the rail": lambda: channel_with_liner(
        **RAIL, liner=AngleLiner(thickness=0.006, upright=0.15, flange=0.065, inner_radius=0.006)
    ),
    "strip under the rail": lambda: channel_with_liner(
        **RAIL, liner=StripLiner(thickness=0.01, width=0.06, from_back=0.02), rows=(0.05,)
    ),
}


@pytest.fixture(params=SECTIONS, ids=lambda name: name.replace(" ", "-"))
def case(request: pytest.FixtureRequest) -> tuple[str, ThinSection]:
    return request.param, SECTIONS[request.param]()


def integral(section: ThinSection, *fields: Floats) -> float:
    """Of a product of fields at the fibres: Simpson along and across every wall, exact to the third degree."""
    wall, along = section.points[section.segments], np.array([1, 4, 1]) / 6
    area = np.hypot(*(wall[:, 1] - wall[:, 0]).T) * section.thickness
    product = np.ones((len(area), 3, 3))
    for one in fields:
        face = one.reshape(-1, 3, 2)
        product = product * np.stack([face[..., 0], face.mean(axis=-1), face[..., 1]], axis=-1)
    return float(np.einsum("mij,i,j,m->", product, along, along, area))


def resultants(section: ThinSection, flow: Floats, links: Floats) -> Floats:
    """Vy, Vz and the torque about the shear centre of a flow, links with it."""
    pairs = np.concatenate([section.segments, section.links])
    mean = np.concatenate([flow @ np.array([1, 4, 1]) / 6, links])
    first, last = (section.points[pairs[:, i]] - section.shear_centre for i in (0, 1))
    return np.array([*(mean @ (last - first)), mean @ (first[:, 0] * last[:, 1] - first[:, 1] * last[:, 0])])


def test_normal_stresses_return_their_forces(case: tuple[str, ThinSection], check: Check) -> None:
    name, section = case
    y, z = (section.fibres - section.centroid).T
    w = section.normal_stress(B=1.0) * section.Iw
    sizes = np.array([1.0, np.abs(z).max(), np.abs(y).max(), np.abs(w).max()])
    for i, force in enumerate(("N", "My", "Mz", "B")):
        stress = section.normal_stress(**{force: 1.0}) * sizes[i]  # so that every force stands for about one newton
        back = np.array([integral(section, stress, *more) for more in ((), (z,), (-y,), (w,))]) / sizes
        off = float(np.abs(back - np.eye(4)[i]).max())
        check(
            f"{name}: N, My, Mz, B of the stress under {force} = 1",
            source=EQUILIBRIUM,
            expected=0.0,
            ours=off,
            tol=1e-9,
        )


def test_moments_of_area_from_the_fibres(case: tuple[str, ThinSection], check: Check) -> None:
    name, section = case
    y, z = (section.fibres - section.centroid).T
    law = "integral over every wall by Simpson's rule"
    for what, fields, ours in (
        ("Iy", (z, z), section.Iy),
        ("Iz", (y, y), section.Iz),
        ("Iyz", (y, z), section.Iyz),
        ("A", (), section.area),
    ):
        expected = integral(section, *fields)
        scale = 1.0 if what == "A" else section.Iz
        check(
            f"{name}: {what}",
            source=law,
            expected=expected,
            ours=ours,
            tol=1e-12 * scale,
            unit="m2" if not fields else "m4",
        )


def midline_rate(section: ThinSection, **forces: float) -> Floats:
    """ds/dx on the midline at start, middle and end of every wall (m, 3): dMy/dx = Vz, dMz/dx = -Vy, dB/dx = Tw."""
    Vy, Vz, Tw = (forces.get(name, 0.0) for name in ("Vy", "Vz", "Tw"))
    return section.normal_stress(My=Vz, Mz=-Vy, B=Tw).reshape(-1, 3, 2).mean(axis=-1)


def test_shear_flow_balances_the_stress(case: tuple[str, ThinSection], check: Check) -> None:
    """Its force is the midline's int y ds/dx dA and int z ds/dx dA; under Vy and Vz it has no torque about the shear
    centre.
    """
    name, section = case
    wall, along = section.points[section.segments], np.array([1, 4, 1]) / 6
    area = np.hypot(*(wall[:, 1] - wall[:, 0]).T) * section.thickness
    places = np.stack([wall[:, 0], wall.mean(axis=1), wall[:, 1]], axis=1) - section.centroid
    for force in ("Vy", "Vz", "Tw"):
        ours = resultants(section, section.shear_flow(**{force: 1.0}), section.link_flow(**{force: 1.0}))
        expected = np.einsum("m,s,ms,msi->i", area, along, midline_rate(section, **{force: 1.0}), places)
        size = max(1.0, float(np.abs(section.shear_flow(**{force: 1.0})).max()) * 0.2)
        off = float(np.abs(ours[:2] - expected).max()) / size
        check(f"{name}: force of the flow under {force}", source=EQUILIBRIUM, expected=0.0, ours=off, tol=1e-9)
        if force != "Tw":
            what = f"{name}: torque of the flow under {force} about the shear centre"
            check(what, source=EQUILIBRIUM, expected=0.0, ours=ours[2] / size, tol=1e-9, unit="m")


def test_flow_of_a_very_thin_section_returns_its_force(case: tuple[str, ThinSection], check: Check) -> None:
    """With walls ten thousand times thinner nothing is carried across them: force and torque come back whole."""
    name, section = case
    thin = thin_section(section.points, section.segments, section.thickness / 1e4, section.links)
    for i, force in enumerate(("Vy", "Vz", "Tw")):
        ours = resultants(thin, thin.shear_flow(**{force: 1.0}), thin.link_flow(**{force: 1.0}))
        off = float(np.abs(ours - np.eye(3)[i]).max())
        what = f"{name}, very thin: Vy, Vz, torque of the flow under {force} = 1"
        check(what, source=EQUILIBRIUM, expected=0.0, ours=off, tol=2e-5)


def test_what_walls_carry_across_their_thickness(check: Check) -> None:
    """What the flow of a channel of 8 mm does not return: 0.6 % of Vy in the web, 0.02 % of Vz in the flanges, 0.5 % of
    Tw in all walls.
    """
    b, h, t = 0.076, 0.242, 0.008
    section = thin_channel(b, h, t)
    e = 3 * b**2 / (6 * b + h)
    across = t**3 / 12 * np.array([h / section.Iz, 2 * b / section.Iy, 0.0])
    across[2] = t**3 / 12 * (2 * ((b + e) ** 3 - e**3) / 3 + h**3 / 12) / section.Iw
    for i, force in enumerate(("Vy", "Vz", "Tw")):
        back = resultants(section, section.shear_flow(**{force: 1.0}), np.zeros(0))[i]
        what = f"channel 76 x 242 x 8 mm: share of {force} carried across the walls"
        check(what, source="sum of t^3 / 12 over the walls; closed form", expected=across[i], ours=1.0 - back, tol=1e-5)


def test_flow_gathers_nowhere(case: tuple[str, ThinSection], check: Check) -> None:
    name, section = case
    worst = 0.0
    for force, size in FORCES.items():
        flow, links = section.shear_flow(**{force: size}), section.link_flow(**{force: size})
        into = np.zeros(len(section.points))
        np.add.at(into, section.segments[:, 0], -flow[:, 0])
        np.add.at(into, section.segments[:, 1], flow[:, 2])
        np.add.at(into, section.links[:, 0], -links)
        np.add.at(into, section.links[:, 1], links)
        worst = max(worst, float(np.abs(into).max() / (np.abs(flow).max() + 1.0)))
    check(f"{name}: flow into every point", source=EQUILIBRIUM, expected=0.0, ours=worst, tol=1e-9)


def test_flow_grows_as_the_stress_does(case: tuple[str, ThinSection], check: Check) -> None:
    name, section = case
    wall = section.points[section.segments]
    area = np.hypot(*(wall[:, 1] - wall[:, 0]).T) * section.thickness
    flow = section.shear_flow(**FORCES)
    given = -area * (midline_rate(section, **FORCES) @ np.array([1, 4, 1]) / 6)
    off = float(np.abs(flow[:, 2] - flow[:, 0] - given).max() / np.abs(given).max())
    check(f"{name}: growth of the flow", source="dq/ds + t ds/dx = 0", expected=0.0, ours=off, tol=1e-9)


def turned(section: ThinSection, by: float) -> ThinSection:
    c, s = np.cos(by), np.sin(by)
    points = section.points @ np.array([[c, s], [-s, c]]) + (0.3, -0.7)
    return thin_section(points, section.segments, section.thickness, section.links)


@pytest.mark.parametrize("degrees", [17, 90, 203])
def test_turning_and_moving_changes_nothing(case: tuple[str, ThinSection], check: Check, degrees: int) -> None:
    name, section = case
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    other = turned(section, np.radians(degrees))
    law = "a section turned and moved is the same section"
    for what in ("area", "J", "Iw"):
        ratio = getattr(other, what) / getattr(section, what)
        check(
            f"{name}, turned by {degrees} degrees: {what} over what it was",
            source=law,
            expected=1.0,
            ours=ratio,
            tol=1e-7,
        )
    about = np.array([[section.Iz, section.Iyz], [section.Iyz, section.Iy]])
    turn = np.array([[c, -s], [s, c]])
    expected = turn @ about @ turn.T
    ours = np.array([[other.Iz, other.Iyz], [other.Iyz, other.Iy]])
    assert ours == pytest.approx(expected, abs=1e-9 * section.Iy)
    arm = turn @ np.subtract(section.shear_centre, section.centroid)
    assert np.subtract(other.shear_centre, other.centroid) == pytest.approx(arm, abs=1e-9)
    assert other.omega == pytest.approx(section.omega, abs=1e-9 * np.abs(section.omega).max() + 1e-12)


def test_mirrored(case: tuple[str, ThinSection]) -> None:
    _, left = case
    right = mirrored(left)
    for what in ("area", "Iy", "Iz", "J", "Iw"):
        assert getattr(right, what) == pytest.approx(getattr(left, what), rel=1e-9)
    assert right.Iyz == pytest.approx(-left.Iyz, abs=1e-12 * left.Iy)
    assert right.centroid == pytest.approx((-left.centroid[0], left.centroid[1]), abs=1e-12)
    assert right.shear_centre == pytest.approx((-left.shear_centre[0], left.shear_centre[1]), abs=1e-9)
    assert (right.left, right.right) == pytest.approx((left.right, left.left), abs=1e-12)
    assert right.omega == pytest.approx(-left.omega, abs=1e-9 * np.abs(left.omega).max() + 1e-12)
    assert right.shear_flow(Vz=1.0) == pytest.approx(
        left.shear_flow(Vz=1.0), abs=1e-9 * np.abs(left.unit_flow[1]).max()
    )


def test_a_wall_cut_in_two_changes_nothing(case: tuple[str, ThinSection], check: Check) -> None:
    name, section = case
    a, b = section.segments.T
    middles = len(section.points) + np.arange(len(a))
    halves = np.concatenate([np.stack([a, middles], 1), np.stack([middles, b], 1)])
    points = np.concatenate([section.points, 0.5 * (section.points[a] + section.points[b])])
    fine = thin_section(points, halves, np.tile(section.thickness, 2), section.links)
    for what in ("area", "Iy", "Iz", "J", "Iw"):
        ratio = getattr(fine, what) / getattr(section, what)
        law = "walls cut in two are the same walls"
        check(f"{name}, walls halved: {what} over what it was", source=law, expected=1.0, ours=ratio, tol=1e-9)
    assert fine.shear_centre == pytest.approx(section.shear_centre, abs=1e-10)
    ours = fine.shear_flow(Vz=1.0)[: len(a), 2]
    assert ours == pytest.approx(section.shear_flow(Vz=1.0)[:, 1], abs=1e-9 * np.abs(ours).max())


def test_arrays_and_numbers(case: tuple[str, ThinSection]) -> None:
    _, section = case
    N, My, B = np.array([1e4, 0.0, -2e4]), np.array([0.0, 5e3, 1e3]), np.array([3.0, 4.0, 0.0])
    stress = section.normal_stress(N=N, My=My, B=B)
    assert stress.shape == (3, len(section.fibres))
    for i in range(3):
        assert stress[i] == pytest.approx(section.normal_stress(N=N[i], My=My[i], B=B[i]), abs=1e-3)
    assert section.shear_flow(Vz=N).shape == (3, len(section.segments), 3)
    assert section.link_flow(Vz=N).shape == (3, len(section.links))
    shear = section.shear_stress(Vz=N, T=My)
    assert shear.shape == stress.shape
    assert shear[1] == pytest.approx(section.shear_stress(T=5e3))


def thin_channel(b: float, h: float, t: float) -> ThinSection:
    return thin_section([[b, 0], [0, 0], [0, h], [b, h]], [(0, 1), (1, 2), (2, 3)], t)


@pytest.mark.parametrize(("b", "h"), [(0.076, 0.242), (0.05, 0.05), (0.1, 0.3), (0.2, 0.1)])
def test_channel_of_no_thickness(check: Check, b: float, h: float) -> None:
    """t = 1e-6 m, so that its square is nothing beside b^2."""
    t, case = 1e-6, f"channel {1e3 * b:g} x {1e3 * h:g} mm between midlines"
    section = thin_channel(b, h, t)
    closed = t * b**3 * h**2 / 12 * (3 * b + 2 * h) / (6 * b + h)
    source = "Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., appendix, table A-3; from memory"
    check(f"{case}: Iw over the closed form", source=source, expected=1.0, ours=section.Iw / closed, tol=1e-8)
    e = 3 * b**2 / (6 * b + h)
    ours = -section.shear_centre[0]
    check(f"{case}: shear centre, 3 b^2 / (6 b + h)", source=source, expected=e, ours=ours, tol=1e-12, unit="m")
    tip, corner = (b - e) * h / 2, e * h / 2
    assert np.abs(section.omega) == pytest.approx([tip, corner, corner, tip], rel=1e-8)
    web = section.shear_flow(Vz=1.0)[1]
    Iy = t * h**2 / 2 * (b + h / 6)
    law = "q = V S / I"
    check(f"{case}: flow at the corner", source=law, expected=t * b * h / 2 / Iy, ours=web[0], tol=1e-7, unit="1/m")
    expected = (t * b * h / 2 + t * h**2 / 8) / Iy
    check(f"{case}: flow at half the height", source=law, expected=expected, ours=web[1], tol=1e-7, unit="1/m")


def test_signs_of_a_left_rail() -> None:
    """Hogging pulls at the top; Mz pulls on the left; flow under an upward force runs up the web, outwards above."""
    rail = channel(**RAIL)
    top, leftmost = rail.fibres[:, 1].argmax(), rail.fibres[:, 0].argmin()
    assert rail.normal_stress(My=1.0)[top] == pytest.approx(1 / rail.moduli[0])
    assert rail.normal_stress(Mz=1.0)[leftmost] == pytest.approx(1 / rail.moduli[2])
    assert rail.shear_centre[0] < 0.0 < rail.centroid[0]
    web = int(np.argmin(np.abs(rail.points[rail.segments].mean(axis=1) - (0.004, 0.0)).sum(axis=1)))
    assert rail.points[rail.segments[web, 1], 1] > rail.points[rail.segments[web, 0], 1]
    assert rail.shear_flow(Vz=1.0)[web].min() > 0.0


def test_symmetric_i_section(check: Check) -> None:
    h, b, tf, tw = 0.3, 0.15, 1.5e-6, 1e-6
    points = [[-b / 2, 0], [0, 0], [b / 2, 0], [0, h], [-b / 2, h], [b / 2, h]]
    section = thin_section(points, [(0, 1), (1, 2), (1, 3), (4, 3), (3, 5)], [tf, tf, tw, tf, tf])
    ratio = section.Iw / (section.Iz * h**2 / 4)
    check("I-section: Iw over Iz h^2 / 4", source="Vlasov; closed form", expected=1.0, ours=ratio, tol=1e-8)
    assert section.shear_centre == pytest.approx((0.0, h / 2), abs=1e-12)


def test_angle_and_cross_have_their_shear_centre_where_the_walls_meet() -> None:
    """All flow passes through one point, so the force does."""
    leaning = thin_section([[0.1, 0.02], [0, 0], [0.03, 0.15]], [(0, 1), (1, 2)], [0.004, 0.007])
    assert leaning.shear_centre == pytest.approx((0.0, 0.0), abs=1e-12)
    cross = thin_section(
        [[0, 0], [0.1, 0], [0, 0.2], [-0.05, 0.02], [0.02, -0.1]], [(0, i) for i in range(1, 5)], 0.005
    )
    assert cross.shear_centre == pytest.approx((0.0, 0.0), abs=1e-12)


def test_bredt_box(check: Check) -> None:
    h, b, t1, t2 = 0.2, 0.1, 0.003, 0.005
    section = thin_section([[0, 0], [b, 0], [b, h], [0, h]], [(0, 1), (1, 2), (2, 3), (3, 0)], [t1, t2, t1, t2])
    closed = 4 * (b * h) ** 2 / (2 * b / t1 + 2 * h / t2) + 2 * (b * t1**3 + h * t2**3) / 3
    check(
        "box: J, 4 A^2 / sum(L / t) + sum L t^3 / 3",
        source="Bredt; closed form",
        expected=closed,
        ours=section.J,
        tol=1e-16,
    )
    flow = section.shear_flow(T=1e3) * section.J / (section.J - 2 * (b * t1**3 + h * t2**3) / 3)
    assert flow == pytest.approx(np.full((4, 3), 1e3 / (2 * b * h)), rel=1e-12)
    warp = b * h / 8 * (b / t1 - h / t2) / (b / t1 + h / t2) * 2
    what = "box: sectorial coordinate at the corners"
    law = "w = (a b / 4) (b / t_b - h / t_h) / (b / t_b + h / t_h), Vlasov; closed form"
    check(what, source=law, expected=abs(warp), ours=np.abs(section.omega).max(), tol=2e-6, unit="m2")


def test_two_cells_by_hand(check: Check) -> None:
    """Two cells side by side: the two flows from two equations, each cell twists as the section does."""
    (b1, b2, h), t = (0.1, 0.06, 0.08), 0.002
    points = [[0, 0], [b1, 0], [b1 + b2, 0], [b1 + b2, h], [b1, h], [0, h]]
    walls = [(0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (5, 0), (1, 4)]
    section = thin_section(points, walls, t)
    around = np.array([[2 * b1 + 2 * h, -h], [-h, 2 * b2 + 2 * h]]) / t
    areas = np.array([b1 * h, b2 * h])
    q = np.linalg.solve(around, 2 * areas)
    closed = 2 * q @ areas + (2 * b1 + 2 * b2 + 3 * h) * t**3 / 3
    check(
        "two cells: J",
        source="Bredt for two cells, solved by hand",
        expected=closed,
        ours=section.J,
        tol=1e-16,
        unit="m4",
    )
    flow = section.shear_flow(T=1.0)[:, 0] * section.J
    assert flow[[0, 2, 6]] == pytest.approx([q[0], q[1], q[0] - q[1]], rel=1e-12)


def test_walls_joined_along_their_edges_are_one_wall(check: Check) -> None:
    t1, t2, b = 0.008, 0.006, 0.1
    points = [[0, 0], [b, 0], [0, (t1 + t2) / 2], [b, (t1 + t2) / 2]]
    both = thin_section(points, [(0, 1), (2, 3)], [t1, t2], [(0, 2), (1, 3)])
    whole = flat(height=t1 + t2, width=b)
    law = "two flats that do not slip are one of both thicknesses"
    for what in ("area", "Iy", "Iz", "J", "Iw"):
        ratio = getattr(both, what) / getattr(whole, what)
        check(f"two flats in one: {what}", source=law, expected=1.0, ours=ratio, tol=1e-9)
    loose = thin_section(
        [*points, [b / 2, 0], [b / 2, 0.007]], [(0, 4), (4, 1), (2, 5), (5, 3)], [t1, t1, t2, t2], [(4, 5)]
    )
    alone = flat(height=t1, width=b).J + flat(height=t2, width=b).J
    check(
        "two flats on one row: J is the sum of both",
        source="closed form",
        expected=alone,
        ours=loose.J,
        tol=1e-15,
        unit="m4",
    )


def test_a_row_carries_what_the_liner_gains(check: Check) -> None:
    """The force of the liner changes along the beam by the flow in its one row."""
    section = SECTIONS["strip under the rail"]()
    strip = section.thickness == 0.01
    per_wall = np.zeros_like(section.fibres[:, 0]).reshape(-1, 6)
    per_wall[strip] = 1.0
    gained = integral(section, section.normal_stress(My=1.0), per_wall.ravel())
    (row,) = section.link_flow(Vz=1.0)
    check(
        "flow in a row under a strip", source=EQUILIBRIUM, expected=gained, ours=row, tol=1e-9 * abs(gained), unit="1/m"
    )


def test_parallel_axes(check: Check) -> None:
    """Rail and strip taken apart and put together again by Steiner's theorem."""
    rail, section = channel(**RAIL), SECTIONS["strip under the rail"]()
    strip = flat(height=0.01, width=0.06)
    place = np.array([0.05, -0.13])
    centre = (rail.area * np.array(rail.centroid) + strip.area * place) / (rail.area + strip.area)
    law = "parallel axes (Steiner)"
    arms = [(rail, np.array(rail.centroid) - centre), (strip, place - centre)]
    for what, i, j in (("Iy", 1, 1), ("Iz", 0, 0), ("Iyz", 0, 1)):
        expected = sum(getattr(part, what) + part.area * arm[i] * arm[j] for part, arm in arms)
        check(
            f"rail and strip: {what}", source=law, expected=expected, ours=getattr(section, what), tol=1e-15, unit="m4"
        )
    assert section.centroid == pytest.approx(centre, abs=1e-12)


def test_skin_stress_of_torsion() -> None:
    """T t / J on both faces, opposite; anticlockwise from behind: down on the left face of an upright wall."""
    rail = channel(**RAIL)
    shear = rail.shear_stress(T=100.0).reshape(-1, 2)
    assert shear[:, 1] == pytest.approx(np.full(len(shear), 100.0 * 0.008 / rail.J), rel=1e-9)
    assert shear[:, 0] == pytest.approx(-shear[:, 1], rel=1e-9)
    web = int(np.argmin(np.abs(rail.points[rail.segments].mean(axis=1) - (0.004, 0.0)).sum(axis=1)))
    assert rail.fibres.reshape(-1, 3, 2, 2)[web, 1, :, 0] == pytest.approx([0.0, 0.008], abs=1e-12)


@pytest.mark.parametrize(
    "liner",
    [
        AngleLiner(thickness=0.006, upright=0.15, flange=0.065, inner_radius=0.006),
        StripLiner(thickness=0.01, width=0.08),
    ],
)
def test_a_liner_on_the_upper_flange_is_the_lower_one_upside_down(liner: AngleLiner | StripLiner) -> None:
    low = channel_with_liner(**RAIL, liner=liner)
    top = channel_with_liner(**RAIL, liner=replace(liner, at="top"))
    assert low.centroid[1] < 0.0
    assert top.centroid == pytest.approx((low.centroid[0], -low.centroid[1]), abs=1e-12)
    assert top.shear_centre == pytest.approx((low.shear_centre[0], -low.shear_centre[1]), abs=1e-9)
    assert (top.Iy, top.Iyz, top.J, top.Iw) == pytest.approx((low.Iy, -low.Iyz, low.J, low.Iw), rel=1e-9)
