"""Bolt groups against textbook examples: a bracket in its plane, one that tips, a round base that tips."""

from __future__ import annotations

import math

import numpy as np

from tunwright.handbook.bolt_group import bolt_force_sizes, bolt_forces, bolt_group

SHIGLEY = "Shigley's Mechanical Engineering Design, Example 8-7: 4 x M16 at 120 x 150 mm, 16 kN at 425 mm; from memory"
BHANDARI = "Bhandari, Design of Machine Elements, Example {} (companion's result)"


def test_eccentric_shear(check) -> None:
    group = bolt_group([(-0.075, -0.06), (-0.075, 0.06), (0.075, 0.06), (0.075, -0.06)])
    shear, _ = bolt_force_sizes(bolt_forces(group, (0, -16e3, 0, 0, 0, -16e3 * 0.425)))
    check("bolts beside the load", source=SHIGLEY, expected=21.0, ours=shear[0].max() / 1000, tol=0.05, unit="kN")
    check("bolts away from the load", source=SHIGLEY, expected=14.8, ours=shear[0].min() / 1000, tol=0.05, unit="kN")


def test_wall_bracket_that_tips_about_its_lower_edge(check) -> None:
    """The core area is what 76 N/mm2 of shear asks for: sqrt((T/2)^2 + V^2) / 76."""
    group = bolt_group([(x, y) for x in (-0.05, 0.05) for y in (0.025, 0.150)])
    outline = [(-0.1, 0), (0.1, 0), (0.1, 0.2), (-0.1, 0.2)]
    forces = bolt_forces(group, (0, -25e3, 0, 25e3 * 0.1, 0, 0), turning="pivot", outline=outline)
    shear, pull = bolt_force_sizes(forces)
    area = np.sqrt((pull / 2) ** 2 + shear**2).max() / 76
    check("core area, bracket with 25 kN at 100 mm", source=BHANDARI.format("7.5"), expected=98.022213, ours=area,
          tol=5e-7, unit="mm2")


def test_round_base_that_tips(check) -> None:
    """A tangent of the flange is the pivot; a square of the flange's width has the same edge."""
    turn = 2 * math.pi * np.arange(16) / 16
    group = bolt_group(np.column_stack([np.cos(turn), np.sin(turn)]))
    square = 1.125 * np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
    forces = bolt_forces(group, (0, 0, -50e3, 0, 7.5 * 50e3, 0), turning="pivot", outline=square)
    check("core area, pillar with 50 kN at 7.5 m", source=BHANDARI.format("7.12"), expected=319.690265,
          ours=forces[0, :, 2].max() / 75, tol=5e-7, unit="mm2")
