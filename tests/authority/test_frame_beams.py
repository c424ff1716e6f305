"""Beams of textbooks, each made of our beams and links."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

from tunwright.handbook.beams import FREEDOMS, RY, BeamSection, W
from tunwright.handbook.grillage import Beam, Grillage, Link, Touch

BORESI = "Boresi/Schmidt, Advanced Mechanics of Materials, 6th ed., example 10.1, p. 366"
AISC = "AISC Steel Construction Manual, table 3-23; from memory, recomputed by hand"
YOUNG = 200e9
UP, RIGHT, LONG = (0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)


def section(inertia: float, young: float = YOUNG) -> BeamSection:
    return BeamSection(area=5e-3, iy=inertia, iz=inertia, torsion=1e-6, young=young, shear=young / 2.6)


def beam_on(places: np.ndarray, springs: dict[float, float], inertia: float) -> Grillage:
    """A beam along x through places; springs hold it upwards at some, and nothing else resists but what must."""
    nodes = {f"{x:.4f}": (float(x), 0.0, 0.0) for x in places}
    names = list(nodes)
    beams = [Beam(a, b, section(inertia)) for a, b in pairwise(names)]
    links = [Link(f"at {x:g}", (Touch(f"{x:.4f}", (x, 0.0, 0.0), UP),), k) for x, k in springs.items()]
    first = names[0]
    here = nodes[first]
    links += [
        Link("along", (Touch(first, here, LONG),), 1e12),
        Link("across", (Touch(first, here, RIGHT),), 1e12),
        Link("across far", (Touch(names[-1], nodes[names[-1]], RIGHT),), 1e12),
        Link("turn", (Touch(first, (here[0], here[1], here[2] + 1), RIGHT), Touch(first, here, RIGHT, -1.0)), 1e12),
    ]
    return Grillage(nodes, beams, links)


def evenly(frame: Grillage, load: float, start: float, end: float) -> np.ndarray:
    """Equivalent end forces of an even load [N/m] downwards between two places, exact for a beam without shear."""
    forces = np.zeros((frame.size, 1))
    for (a, b), length in zip(
        [(frame.number[m.start], frame.number[m.end]) for m in frame.beams], frame.length, strict=True
    ):
        if start - 1e-9 <= frame.place[a, 0] and frame.place[b, 0] <= end + 1e-9:
            forces[[FREEDOMS * a + W, FREEDOMS * b + W]] -= load * length / 2
            forces[FREEDOMS * a + RY] += load * length**2 / 12
            forces[FREEDOMS * b + RY] -= load * length**2 / 12
    return forces


def test_a_beam_over_its_support(check) -> None:
    places = np.linspace(0.0, 8.0, 33)
    frame = beam_on(places, {0.0: 1e13, 6.0: 1e13}, 4e-5)
    moved = frame.solve(evenly(frame, 10e3, 0.0, 8.0))
    pulls = frame.pulls(moved)[:2, 0]
    moments = frame.end_forces(moved)[:, 1, RY, 0]
    at_support = abs(moments[23]) + 10e3 * 0.25**2 / 12  # and the moment at the ends of the loaded piece itself
    what = "beam over 6 m with 2 m overhang under 10 kN/m"
    case = f"{AISC}, case 24"
    check(f"{what}: near reaction", source=case, expected=26.67, ours=-pulls[0] / 1e3, tol=0.005, unit="kN")
    check(f"{what}: far reaction", source=case, expected=53.33, ours=-pulls[1] / 1e3, tol=0.005, unit="kN")
    check(f"{what}: moment over the support", source=case, expected=20.0, ours=at_support / 1e3, tol=0.05)


def test_two_equal_spans(check) -> None:
    frame = beam_on(np.linspace(0.0, 8.0, 17), {0.0: 1e13, 4.0: 1e13, 8.0: 1e13}, 4e-5)
    moved = frame.solve(evenly(frame, 1e3, 0.0, 8.0))
    pulls = -frame.pulls(moved)[:3, 0] / 4e3
    case = f"{AISC}, two equal spans, by the three-moment equation"
    for name, mine, exact in (("end", pulls[0], 3 / 8), ("middle", pulls[1], 10 / 8)):
        check(f"{name} reaction of two equal spans over w l", source=case, expected=exact, ours=mine, tol=1e-6)
    moment = (abs(frame.end_forces(moved)[7, 1, RY, 0]) + 1e3 * 0.5**2 / 12) / (1e3 * 16)
    check("moment over the middle support over w l2", source=case, expected=1 / 8, ours=moment, tol=1e-6)


def rail_on_earth(loads: dict[float, float]) -> tuple[Grillage, np.ndarray]:
    """184 mm rail, E 200 GPa, I 36.9e6 mm4, on ballast of 14 N/mm2: springs every 25 mm by the wheels, then wider."""
    near, far = np.arange(-2.5, 2.5125, 0.025), np.arange(2.6, 9.05, 0.1)
    places = np.round(np.concatenate([-far[::-1], near, far]), 4) + 0.0
    bears = np.gradient(places) * 14.0e6
    frame = beam_on(places, dict(zip(places.tolist(), bears.tolist(), strict=True)), 36.9e-6)
    forces = np.zeros((frame.size, 1))
    for x, load in loads.items():
        forces[FREEDOMS * frame.number[f"{x:.4f}"] + W, 0] -= load
    return frame, forces


def test_a_rail_on_ballast(check) -> None:
    frame, forces = rail_on_earth({0.0: 170e3})
    moved = frame.solve(forces)
    deep = -moved.reshape(-1, FREEDOMS)[:, W].min() * 1e3
    moment = np.abs(frame.end_forces(moved)[:, :, RY, 0]).max() / 1e3
    check("rail on ballast under one wheel: deflection", source=BORESI, expected=5.04, ours=deep, tol=0.005, unit="mm")
    check("the same: moment", source=BORESI, expected=51.21, ours=moment, tol=0.006, unit="kN m")
    stress = moment * 1e3 * 99.1e-3 / 36.9e-6 / 1e6
    check("the same: stress", source=BORESI, expected=137.5, ours=stress, tol=0.05, unit="MPa")


def test_a_rail_under_three_wheels(check) -> None:
    frame, forces = rail_on_earth({-1.7: 170e3, 0.0: 170e3, 1.7: 170e3})
    moved = frame.solve(forces)
    deep = -moved.reshape(-1, FREEDOMS)[:, W].min() * 1e3
    check("rail on ballast under three wheels: deflection", source=BORESI, expected=7.86, ours=deep, tol=0.005)
    at = frame.number["1.7000"]
    moment = abs(frame.end_forces(moved)[at - 1, 1, RY, 0]) / 1e3
    check("the same: moment under an outer wheel", source=BORESI, expected=37.02, ours=moment, tol=0.02, unit="kN m")
    assert math.isclose(forces.sum(), -510e3)
