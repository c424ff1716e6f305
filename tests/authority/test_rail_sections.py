"""Shear flow, shear centre, torsion and warping of rail sections, and members that slip, against printed numbers."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from tunwright.handbook.rail_sections import angle, flat
from tunwright.handbook.thin_section import ThinSection, thin_section
from tunwright.handbook.two_layer_beam import (
    LOOSE,
    TIGHT,
    Member,
    TwoLayerBeam,
    gamma_give,
    pitch,
    uniform_load,
)

Check = Callable[..., None]
INCH = 0.0254
POPOV = "Popov, Engineering Mechanics of Solids, example {}; read in a public companion that works the book's examples"
TIMOSHENKO = "Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 109, table of k1; from memory"
EN_10365 = "EN 10365:2017, table of UPN; read in a public copy of a steelmaker's table"
NEWMARK = "Newmark's closed form for a simple beam under a uniform load, worked by hand; derived, not published"
EN_1995 = "EN 1995-1-1:2004 Annex B, worked by hand; derived, not published"


def test_popov_boards_nailed_to_a_tee(check: Check) -> None:
    """Two boards of 200 x 50 mm, one upright under one lying; V = 3000 N, a nail carries 700 N."""
    web = Member(E=10e9, A=0.01, Iy=0.05 * 0.2**3 / 12, above=0.1, below=0.1)
    flange = Member(E=10e9, A=0.01, Iy=0.2 * 0.05**3 / 12, above=0.025, below=0.025)
    tee = TwoLayerBeam(lower=web, upper=flange)
    source = POPOV.format("7.1, p. 365")
    second_moment, flow = tee.stiffness(TIGHT) / 10e9, float(tee.flow(TIGHT, Vz=3000.0))
    check("T of two boards, I", source=source, expected=113.5e6, ours=second_moment * 1e12, tol=0.05e6, unit="mm4")
    check("T of two boards, shear flow", source=source, expected=16.5, ours=flow / 1e3, tol=0.05, unit="N/mm")
    apart = pitch(capacity=700.0, flow=flow)
    check("T of two boards, pitch of nails", source=source, expected=42, ours=apart * 1e3, tol=0.5, unit="mm")


def test_popov_boards_as_walls(check: Check) -> None:
    """The same as two walls joined by a link, from the middle of the lying board to the top of the upright one."""
    points = [[0, 0], [0, 0.2], [-0.1, 0.225], [0, 0.225], [0.1, 0.225]]
    section = thin_section(points, [(0, 1), (2, 3), (3, 4)], 0.05, [(1, 3)])
    source = POPOV.format("7.1, p. 365")
    check("T of two walls, I", source=source, expected=113.5e6, ours=section.Iy * 1e12, tol=0.05e6, unit="mm4")
    flow = abs(float(section.link_flow(Vz=3000.0)[0]))
    check("T of two walls, flow in the link", source=source, expected=16.5, ours=flow / 1e3, tol=0.05, unit="N/mm")


def test_popov_shear_centre_of_a_channel(check: Check) -> None:
    """10 in between the flanges' midlines, flanges 5 in from the web's midline, 0.1 in thick."""
    points = INCH * np.array([[5, -5], [0, -5], [0, 5], [5, 5]])
    section = thin_section(points, [(0, 1), (1, 2), (2, 3)], 0.1 * INCH)
    outside = -section.shear_centre[0] / INCH
    source = POPOV.format("7.6, p. 376")
    check("shear centre from the web's midline", source=source, expected=1.875, ours=outside, tol=0.0005, unit="in")
    check("same from the web's face", source=source, expected=1.825, ours=outside - 0.05, tol=0.0005, unit="in")


@pytest.mark.parametrize(("slender", "k1"), [(3, 0.263), (4, 0.281), (5, 0.291), (10, 0.312)])
def test_torsion_of_a_rectangle(check: Check, slender: int, k1: float) -> None:
    section = flat(height=0.01 * slender, width=0.01)
    ours = section.J / (slender * 0.01**4)
    check(f"rectangle {slender} : 1 in torsion, J / (b t^3)", source=TIMOSHENKO, expected=k1, ours=ours, tol=0.0005)


def tapered(h: float, b: float, web: float, flange: float, pieces: int = 24) -> ThinSection:
    """A channel whose flanges fall by 8 % towards the tip, their thickness stated at b / 2; no fillets [mm]."""
    y = np.linspace(web / 2, b, pieces + 1)
    between = flange + 0.08 * (b / 2 - (y[1:] + y[:-1]) / 2)
    upper = np.stack([y, h / 2 - (flange + 0.08 * (b / 2 - y)) / 2], axis=1)
    points = 1e-3 * np.concatenate([upper[::-1] * (1, -1), upper])
    walls = [(i, i + 1) for i in range(len(points) - 1)]
    return thin_section(points, walls, 1e-3 * np.concatenate([between[::-1], [web], between]))


@pytest.mark.parametrize(
    ("name", "size", "Iw"),
    [
        ("UPN 200", (200, 75, 8.5, 11.5), 9.07),
        ("UPN 240", (240, 85, 9.5, 13), 22.1),
        ("UPN 300", (300, 100, 10, 16), 69.1),
    ],
)
def test_warping_of_tapered_channels(check: Check, name: str, size: tuple[float, ...], Iw: float) -> None:
    """Iw, which the flanges' midlines make; 2 %, the claim of a midline without fillets and toe radii. Area, Iy, J and
    the shear centre hang on the fillets (1.3 % of the area, 8 % of J) and are not compared.
    """
    ours = tapered(*size).Iw * 1e9
    check(f"{name}, warping constant", source=EN_10365, expected=Iw, ours=ours, tol=0.02 * Iw, unit="1e3 cm6")


def test_warping_of_an_angle(check: Check) -> None:
    """The midline of an angle does not warp; what there is comes of the thickness."""
    section = angle(height=0.105, width=0.085, thickness=0.01)
    closed = 0.01**3 * (0.1**3 + 0.08**3) / 36
    source = "Iw = t^3 (b1^3 + b2^3) / 36, Bleich, Buckling Strength of Metal Structures, 1952; from memory"
    check("angle, Iw over the closed form", source=source, expected=1.0, ours=section.Iw / closed, tol=0.01)


def test_two_members_that_slip(check: Check) -> None:
    """Two bars of 80 x 100 mm one on the other, E = 200 GPa, simple span of 4 m, 10 N/mm, joint 100 N/mm2."""
    bar = Member(E=200e9, A=0.008, Iy=0.08 * 0.1**3 / 12, above=0.05, below=0.05)
    both = TwoLayerBeam(lower=bar, upper=bar)
    exact = uniform_load(both, k=100e6, span=4.0, load=10e3, x=2.0)
    by_give = {"no joint": LOOSE, "no slip": TIGHT, "gamma method": gamma_give(k=100e6, length=4.0)}
    ours = {name: 5 * 10e3 * 4.0**4 / (384 * both.stiffness(give)) for name, give in by_give.items()}
    hand = "5 q l^4 / (384 EI), worked by hand"
    for name, expected, source in (
        ("no joint", 12.5, hand),
        ("no slip", 3.125, hand),
        ("gamma method", 8.303, EN_1995),
    ):
        what = f"two bars, deflection, {name}"
        check(what, source=source, expected=expected, ours=ours[name] * 1e3, tol=0.0005, unit="mm")
    what = "two bars, deflection, slip worked exactly"
    check(what, source=NEWMARK, expected=8.290, ours=exact.deflection * 1e3, tol=0.0005, unit="mm")
