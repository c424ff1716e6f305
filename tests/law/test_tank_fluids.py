"""Lying round tanks with every kind of head against an independent library of tank geometry."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from fluids.geometry import TANK

from tunwright.handbook.bodies import Body, Cap, Run
from tunwright.handbook.heads import Head, conical, dish, ellipsoidal, flat, torispherical
from tunwright.handbook.inertia import sheet_moments
from tunwright.handbook.liquid import wet_moments, wet_volume
from tunwright.handbook.outline import ellipse

FLUIDS = "fluids 1.3, fluids.geometry.TANK"
D, L = 1.9, 4.7


def both(kind: str, **measures: float) -> dict[str, Any]:
    """The library's names for two equal heads."""
    sides = {f"{side}_{key}": value for side in ("sideA", "sideB") for key, value in measures.items()}
    return {"sideA": kind, "sideB": kind, **sides}


HEADS: dict[str, tuple[Head, dict[str, Any]]] = {
    "flat": (flat(), {}),
    "2:1 ellipsoidal": (ellipsoidal(radius=D / 2), both("ellipsoidal", a=D / 4)),
    "ellipsoidal, 0.7 m deep": (ellipsoidal(radius=D / 2, depth=0.7), both("ellipsoidal", a=0.7)),
    "conical, 0.5 m deep": (conical(depth=0.5), both("conical", a=0.5)),
    "torispherical, crown D, knuckle 6 % D": (
        torispherical(radius=D / 2, crown=D, knuckle=0.06 * D),
        both("torispherical", f=1.0, k=0.06),
    ),
    "torispherical, crown 0.8 D, knuckle 15 % D": (
        torispherical(radius=D / 2, crown=0.8 * D, knuckle=0.15 * D),
        both("torispherical", f=0.8, k=0.15),
    ),
    "dish, 0.3 m deep": (dish(area=np.pi * D * D / 4, depth=0.3), both("spherical", a=0.3)),
}


def tank(head: Head) -> list[Body]:
    section = ellipse(width=D, height=D)
    caps = [Cap(section, head, at, way, (0.0, D / 2)) for at, way in ((0.0, -1.0), (L, 1.0))]
    return [Run(section, 0.0, L), *(caps if head.arcs else [])]


@pytest.mark.parametrize("name", HEADS)
def test_volume_at_many_levels(check, name: str) -> None:
    head, keys = HEADS[name]
    library = TANK(D=D, L=L, horizontal=True, **keys)
    levels = np.linspace(0.05, 1.0, 39) * D
    theirs = np.array([library.V_from_h(h) for h in levels])
    ours = wet_volume(tank(head), c=levels, a=np.zeros(39))[0]
    worst = np.abs(ours / theirs - 1).max()
    check(f"heads {name}: worst volume at 39 levels, of the volume", source=FLUIDS, expected=0.0, ours=worst, tol=1e-6)
    whole = wet_moments(tank(head), c=np.array([9.0]), a=np.zeros(1))[0, 0]
    check(
        f"heads {name}: whole volume", source=FLUIDS, expected=library.V_total, ours=whole, tol=1e-6 * whole, unit="m3"
    )


@pytest.mark.parametrize("name", HEADS)
def test_surface_is_the_slope_of_the_volume(check, name: str) -> None:
    """Area of the water's surface against the library's volumes 0.2 mm above and below."""
    head, keys = HEADS[name]
    library = TANK(D=D, L=L, horizontal=True, **keys)
    levels = np.linspace(0.1, 0.9, 17) * D
    theirs = np.array([library.V_from_h(h + 1e-4) - library.V_from_h(h - 1e-4) for h in levels]) / 2e-4
    ours = wet_volume(tank(head), c=levels, a=np.zeros(17))[1]
    worst = np.abs(ours / theirs - 1).max()
    check(
        f"heads {name}: worst area of the surface at 17 levels, of the area",
        source=FLUIDS,
        expected=0.0,
        ours=worst,
        tol=2e-4,
    )


@pytest.mark.parametrize("name", [n for n in HEADS if n != "flat"])
def test_area_of_a_head(check, name: str) -> None:
    """Flat cells, taken to infinitely fine ones: the error falls with their square."""
    head, keys = HEADS[name]

    def area(points: int) -> float:
        distance, scale = head.meridian(points=points)
        turn = np.linspace(0.0, np.pi / 2, points)
        x = np.broadcast_to(distance[:, None], (len(distance), points))
        r = D / 2 * scale[:, None]
        return 4 * float(sheet_moments(np.stack([x, r * np.cos(turn), r * np.sin(turn)], axis=-1))[0])

    ours = (4 * area(201) - area(101)) / 3
    theirs = TANK(D=D, L=L, horizontal=True, **keys).A_sideA
    check(f"heads {name}: area of one head", source=FLUIDS, expected=theirs, ours=ours, tol=1e-6 * theirs, unit="m2")


def test_tank_of_two_different_heads(check) -> None:
    front, rear = HEADS["2:1 ellipsoidal"], HEADS["conical, 0.5 m deep"]
    section, middle = ellipse(width=D, height=D), (0.0, D / 2)
    mixed: list[Body] = [
        Run(section, 0.0, L),
        Cap(section, front[0], 0.0, -1.0, middle),
        Cap(section, rear[0], L, 1.0, middle),
    ]
    library = TANK(D=D, L=L, horizontal=True, sideA="ellipsoidal", sideA_a=D / 4, sideB="conical", sideB_a=0.5)
    ours = wet_volume(mixed, c=np.array([0.7]), a=np.zeros(1))[0][0]
    theirs = library.V_from_h(0.7)
    check(
        "ellipsoidal front, conical rear: volume to 0.7 m",
        source=FLUIDS,
        expected=theirs,
        ours=ours,
        tol=1e-6 * theirs,
        unit="m3",
    )
