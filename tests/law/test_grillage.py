"""Laws the frame solver keeps: closed forms of torsion, equilibrium, any reference point, an independent library."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.handbook.beams import CHI, FREEDOMS, RX, RY, BeamSection, U, V, W, torsion_stiffness
from tunwright.handbook.grillage import Beam, Grillage, Link, Mechanism, Touch
from tunwright.handbook.one_sided import Lifted, push_only

VLASOV = "closed form of restrained torsion, G J phi' - E Iw phi''' = T"
UP, RIGHT, LONG = (0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)
RAIL = BeamSection(
    32.14e-4, 2810e-8, 168.2e-8, 7.55e-8, 17.64e-9, centroid=(0.01447, 0.0), shear_centre=(-0.0238, 0.0)
)


def clamp(node: str, at: tuple[float, float, float], *, warping: bool = False) -> list[Link]:
    """Six stiff springs, as a wall holds."""
    x, y, z = at
    shift = [(name, (Touch(node, at, way),)) for name, way in (("x", LONG), ("y", RIGHT), ("z", UP))]
    turn = [
        ("rx", (Touch(node, (x, y, z + 1), RIGHT), Touch(node, at, RIGHT, -1.0))),
        ("ry", (Touch(node, (x, y, z + 1), LONG), Touch(node, at, LONG, -1.0))),
        ("rz", (Touch(node, (x, y + 1, z), LONG), Touch(node, at, LONG, -1.0))),
    ]
    return [Link(f"{node} {name}", touches, 1e14) for name, touches in (*shift, *turn)]


def cantilever(section: BeamSection, length: float, parts: int, *, held: bool = True) -> Grillage:
    nodes = {str(i): (length * i / parts, 0.0, 0.0) for i in range(parts + 1)}
    beams = [Beam(str(i), str(i + 1), section) for i in range(parts)]
    return Grillage(nodes, beams, clamp("0", (0.0, 0.0, 0.0)), held=["0"] if held else [])


def push(frame: Grillage, node: str, way: int, force: float) -> np.ndarray:
    loads = np.zeros((frame.size, 1))
    loads[FREEDOMS * frame.number[node] + way] = force
    return loads


@pytest.mark.parametrize("parts", [1, 3, 10])
def test_a_channel_clamped_at_one_end_twists_as_its_closed_form(check, parts: int) -> None:
    length, torque = 2.5, 1000.0
    lam = math.sqrt(RAIL.shear * RAIL.torsion / RAIL.young / RAIL.warping)
    exact = torque / (RAIL.shear * RAIL.torsion) * (length - math.tanh(lam * length) / lam)
    frame = cantilever(RAIL, length, parts)
    moved = frame.solve(push(frame, str(parts), RX, torque)).reshape(-1, FREEDOMS)
    words = f"twist of a clamped channel 250x80x8 under 1 kN m, {parts} beams"
    check(words, source=VLASOV, expected=exact, ours=moved[-1, RX], tol=1e-6 * exact, unit="rad")
    forces = frame.end_forces(frame.solve(push(frame, str(parts), RX, torque)))
    bimoment = torque * math.tanh(lam * length) / lam
    check(
        f"bimoment at the clamp, {parts} beams",
        source=VLASOV,
        expected=bimoment,
        ours=abs(forces[0, 0, CHI, 0]),
        tol=1e-6 * bimoment,
        unit="N m2",
    )


def test_warping_free_at_both_ends_leaves_saint_venant(check) -> None:
    length, torque = 2.5, 1000.0
    exact = torque * length / (RAIL.shear * RAIL.torsion)
    frame = cantilever(RAIL, length, 4, held=False)
    twist = frame.solve(push(frame, "4", RX, torque))[FREEDOMS * 4 + RX, 0]
    check("twist, warping free at both ends", source="T L / (G J)", expected=exact, ours=twist, tol=1e-6 * exact)


def test_warping_held_at_both_ends(check) -> None:
    length, torque = 1.2, 1000.0
    lam = math.sqrt(RAIL.shear * RAIL.torsion / RAIL.young / RAIL.warping)
    gj = RAIL.shear * RAIL.torsion
    exact = torque / gj * (length - 2 / lam * math.tanh(lam * length / 2))
    stiff = torsion_stiffness(np.array([gj]), np.array([RAIL.young * RAIL.warping]), np.array([length]), ["held"])
    check("twist, warping held at both ends", source=VLASOV, expected=exact, ours=torque / stiff[0, 0, 0], tol=1e-9)


@pytest.mark.parametrize("decay", [1e-4, 0.049, 0.051, 1.0, 30.0, 2000.0])
def test_torsion_is_smooth_from_short_to_long(decay: float) -> None:
    """Twist and warping without strain: no forces; and the exact and the series form meet at their border."""
    ew, length = np.array([1.0]), np.array([1.0])
    k = torsion_stiffness(np.array([decay**2]), ew, length, ["shared"])[0]
    assert np.isfinite(k).all()
    assert np.abs(k @ np.array([1.0, 0.0, 1.0, 0.0])).max() <= 1e-9 * np.abs(k).max()
    near = torsion_stiffness(np.array([decay**2 * (1 + 1e-7)]), ew, length, ["shared"])[0]
    assert np.allclose(near, k, rtol=1e-6)
    assert np.linalg.eigvalsh(k).min() > -1e-9 * np.abs(k).max()


def test_the_reference_point_of_a_section_does_not_matter(check) -> None:
    """A load through the shear centre does not twist; described about the web or about itself it moves the same."""
    length, load = 1.5, 2000.0
    moved = []
    for shift in (0.0, 0.05):
        y = RAIL.centroid[0] + shift
        section = BeamSection(
            RAIL.area, RAIL.iy, RAIL.iz, RAIL.torsion, RAIL.warping,
            centroid=(y, 0.0), shear_centre=(RAIL.shear_centre[0] + shift, 0.0),
        )  # fmt: skip
        frame = cantilever(section, length, 4)
        touch = Touch("4", (length, section.shear_centre[0], 0.0), UP)
        loads = np.zeros((frame.size, 1))
        loads[FREEDOMS * 4 : FREEDOMS * 4 + 6, 0] = load * frame.lever(touch)
        found = frame.solve(loads)[:, 0]
        moved.append((found[FREEDOMS * 4 : FREEDOMS * 4 + 6] @ frame.lever(touch), found[FREEDOMS * 4 + RX]))
    exact = load * length**3 / (3 * RAIL.young * RAIL.iy)
    for where, (deep, twist) in zip(("the web", "50 mm beside it"), moved, strict=True):
        source = "P L3 / (3 E I), no twist through the shear centre"
        check(f"tip of a channel described about {where}", source=source, expected=exact, ours=deep, tol=1e-6 * exact)
        assert abs(twist) < 1e-9


def ladder() -> Grillage:
    """Two rails 0.85 m apart over 7 m with four cross-members, a box below, held by springs at four corners."""
    rail = BeamSection(32e-4, 2800e-8, 170e-8, 8e-8)
    cross = BeamSection(18e-4, 300e-8, 120e-8, 90e-8)
    xs = (0.0, 1.7, 2.4, 4.0, 5.2, 7.0)
    nodes = {f"{side}{i}": (x, y, 0.0) for side, y in (("l", -0.425), ("r", 0.425)) for i, x in enumerate(xs)}
    beams = [Beam(f"{s}{i}", f"{s}{i + 1}", rail) for s in "lr" for i in range(len(xs) - 1)]
    beams += [Beam(f"l{i}", f"r{i}", cross, "free") for i in (0, 2, 3, 5)]
    links = [Link(f"spring {n}", (Touch(n, nodes[n], UP),), 4e5) for n in ("l1", "r1", "l4", "r4")]
    links += [Link("x", (Touch("l1", nodes["l1"], LONG),), 1e9)]
    links += [Link(f"y{n}", (Touch(n, nodes[n], RIGHT),), 1e9) for n in ("l1", "l4")]
    return Grillage(nodes, beams, links)


def test_a_twisted_ladder_agrees_with_an_independent_library(check) -> None:
    """PyNiteFEA has no warping, so ours is taken without."""
    pynite = pytest.importorskip("Pynite")
    frame = ladder()
    model = pynite.FEModel3D()
    model.add_material("steel", 210e9, 81e9, 0.3, 7850.0)
    for name, at in frame.nodes.items():
        model.add_node(name, at[0], at[2], at[1])  # their second axis is ours upwards
    kinds = {beam.section for beam in frame.beams}
    names = {kind: f"s{i}" for i, kind in enumerate(kinds)}
    for kind, name in names.items():
        model.add_section(name, kind.area, kind.iz, kind.iy, kind.torsion)
    for i, beam in enumerate(frame.beams):
        model.add_member(f"m{i}", beam.start, beam.end, "steel", names[beam.section])
    for node, stiff in (("l1", 4e5), ("r1", 4e5), ("l4", 4e5), ("r4", 4e5)):
        model.def_support_spring(node, "DY", stiff)
    model.def_support_spring("l1", "DX", 1e9)
    for node in ("l1", "l4"):
        model.def_support_spring(node, "DZ", 1e9)
    loads = np.zeros((frame.size, 1))
    for node, force in (("l0", -9e3), ("r3", -40e3), ("l5", -12e3), ("r5", 8e3)):
        loads[FREEDOMS * frame.number[node] + W] = force
        model.add_node_load(node, "FY", force)
    loads[FREEDOMS * frame.number["r2"] + V] = 5e3
    model.add_node_load("r2", "FZ", 5e3)
    model.analyze(check_statics=False)
    ours = frame.solve(loads).reshape(-1, FREEDOMS)
    for name in frame.nodes:
        theirs = model.nodes[name].DY["Combo 1"]
        mine = ours[frame.number[name], W]
        check(
            f"ladder under uneven loads: height of {name}",
            source="PyNiteFEA 3, the same grillage",
            expected=theirs * 1e3,
            ours=mine * 1e3,
            tol=1e-3 * np.abs(ours[:, W]).max() * 1e3,
            unit="mm",
        )


def test_forces_and_moments_balance() -> None:
    """Link forces and loads add up to nothing, in force and about any point."""
    frame = ladder()
    rng = np.random.default_rng(3)
    loads = np.zeros((frame.size, 5))
    loads.reshape(len(frame.nodes), FREEDOMS, 5)[:, :6] = rng.normal(size=(len(frame.nodes), 6, 5)) * 1e3
    moved = frame.solve(loads)
    left = (loads - frame.rows.T @ frame.pulls(moved)).reshape(-1, FREEDOMS, 5)
    force = left[:, :3].sum(axis=0)
    moment = left[:, 3:6].sum(axis=0) + np.cross(frame.place[:, None], left[:, :3].transpose(0, 2, 1)).sum(axis=0).T
    assert np.abs(force).max() < 1e-5
    assert np.abs(moment).max() < 1e-5


def test_end_forces_balance_what_loads_a_node() -> None:
    frame = ladder()
    loads = push(frame, "r3", W, -1e4)
    ends = frame.end_forces(frame.solve(loads))
    before, after = ends[7, 1, W, 0], ends[8, 0, W, 0]
    cross = ends[12, 1, W, 0]
    assert math.isclose(before - after + cross, -1e4, rel_tol=1e-6)


def sitting(places: dict[str, float]) -> Grillage:
    """A stiff body on push-only supports of 1 kN/mm, held from sliding."""
    nodes = {"body": (0.0, 0.0, 0.0)}
    at = lambda x: (x, 0.0, 0.0)  # noqa: E731
    links = [Link(name, (Touch("body", at(x), UP, -1.0),), 1e6, pushes=True) for name, x in places.items()]
    links = [Link(one.name, tuple(Touch(t.node, t.point, UP) for t in one.touches), 1e6, pushes=True) for one in links]
    links += [Link(f"hold {n}", t, 1e9) for n, t in (
        ("x", (Touch("body", at(0.0), LONG),)),
        ("y", (Touch("body", at(0.0), RIGHT),)),
        ("y2", (Touch("body", at(1.0), RIGHT),)),
        ("roll", (Touch("body", (0.0, 0.0, 1.0), RIGHT), Touch("body", at(0.0), RIGHT, -1.0))),
    )]  # fmt: skip
    return Grillage(nodes, [], links)


def test_a_body_that_tips_over_one_of_its_supports_leaves_the_others(check) -> None:
    """Supports at 0, 2 and 4 m, 10 kN at 3.8 m: by statics of the two that stay, 9 kN at 4 m and 1 kN at 2 m."""
    frame = sitting({"a": 0.0, "b": 2.0, "c": 4.0})
    loads = np.zeros((frame.size, 1))
    loads[:6, 0] = -10e3 * frame.lever(Touch("body", (3.8, 0.0, 0.0), UP))
    before = np.zeros((len(frame.links), 1))
    _, force = push_only(frame, before, loads)
    for name, mine, exact in zip("abc", -force[:3, 0] / 1e3, (0.0, 1.0, 9.0), strict=True):
        check(f"support {name} of a body that tips", source="statics", expected=exact, ours=mine, tol=1e-6, unit="kN")


def test_many_cases_at_once_are_as_each_alone() -> None:
    frame = sitting({"a": 0.0, "b": 1.0, "c": 2.5, "d": 4.0})
    rng = np.random.default_rng(5)
    loads = np.zeros((frame.size, 40))
    for i, x in enumerate(rng.uniform(0.05, 3.95, 40)):
        loads[:6, i] = -10e3 * frame.lever(Touch("body", (float(x), 0.0, 0.0), UP))
    before = np.zeros((len(frame.links), 40))
    _, together = push_only(frame, before, loads)
    for i in range(40):
        _, alone = push_only(frame, before[:, i : i + 1], loads[:, i : i + 1])
        assert np.allclose(alone[:, 0], together[:, i], atol=1e-3)
    assert together[:4].max() <= 1e-3
    assert np.allclose(together[:4].sum(axis=0), -10e3)


def test_a_body_whose_load_lies_outside_its_supports_is_said_to_fall() -> None:
    frame = sitting({"a": 0.0, "b": 2.0})
    loads = np.zeros((frame.size, 1))
    loads[:6, 0] = -10e3 * frame.lever(Touch("body", (2.5, 0.0, 0.0), UP))
    with pytest.raises(Lifted, match="lift"):
        push_only(frame, np.zeros((len(frame.links), 1)), loads)


def test_what_is_in_a_link_before_counts() -> None:
    """A support pressed with 4 kN before holds a pull of 3 kN without opening, and one of 5 kN opens it."""
    frame = sitting({"a": 0.0, "b": 2.0})
    before = np.zeros((len(frame.links), 2))
    before[:2] = -4e3
    loads = np.zeros((frame.size, 2))
    loads[:6] = np.outer(frame.lever(Touch("body", (1.0, 0.0, 0.0), UP)), [-8e3, -8e3 + 6e3])
    _, force = push_only(frame, before, loads)
    assert np.allclose(force[:2, 0], -4e3)
    assert np.allclose(force[:2, 1], -1e3)


@pytest.mark.parametrize(
    ("gone", "words"),
    [("y", "across the vehicle"), ("x", "along the vehicle"), ("a", "up and down|about the cross axis")],
)
def test_a_mechanism_names_what_is_missing(gone: str, words: str) -> None:
    whole = sitting({"a": 0.0, "b": 2.0})
    links = [one for one in whole.links if one.name not in (gone, f"hold {gone}", f"hold {gone}2", "hold roll" * 0)]
    with pytest.raises(Mechanism, match=words):
        Grillage(whole.nodes, [], links).solve(np.zeros((FREEDOMS, 1)))


def test_bending_about_the_strong_axis_has_the_sign_it_says() -> None:
    """A load down at the tip of a clamped beam: the moment at the clamp presses its lower side, N and Vz as pushed."""
    frame = cantilever(RAIL, 1.0, 1)
    ends = frame.end_forces(frame.solve(push(frame, "1", W, -1e3) + push(frame, "1", U, 2e3)))
    assert math.isclose(ends[0, 0, W, 0], -1e3, rel_tol=1e-6)
    assert math.isclose(ends[0, 0, U, 0], 2e3, rel_tol=1e-6)
    assert math.isclose(ends[0, 0, RY, 0], 1e3, rel_tol=1e-6)
