"""Shear flow, shear centre, torsion and warping of rail sections against printed numbers."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from tunwright.handbook.rail_sections import angle, flat
from tunwright.handbook.thin_section import ThinSection, thin_section

Check = Callable[..., None]
INCH = 0.0254
POPOV = "Popov, Engineering Mechanics of Solids, example {}; read in a public companion that works the book's examples"
TIMOSHENKO = "Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 109, table of k1; from memory"
EN_10365 = "EN 10365:2017, table of UPN; read in a public copy of a steelmaker's table"


def test_popov_boards_as_walls(check: Check) -> None:
    """Two boards of 200 x 50 mm nailed to a tee, V = 3000 N.

    Two walls joined by a link, from the middle of the lying board to the top of the upright one.
    """
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
