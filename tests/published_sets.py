"""Buyers' published requirement sets on invented chassis of their class.

Sources of the sets: A1 US General Services Administration, commercial item description A-A-59241 (1998), Types I to IV;
A2 Delhi Fire Service, water bowser; A3 water tender; A4 small water tender. A5, a semitrailer, states no size and is
left out. The documents state volumes, gross ratings and plates; the chassis under them are invented, their masses
inside the usual ranges of their class (rough ranges, common practice, no source) and fixed before the result was seen.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Axle:
    """One axle: place [m], kerb load [kg], rating [kg]."""

    at: float
    kerb: float
    rating: float
    steered: bool = False
    lift: bool = False


@dataclass(frozen=True)
class Carrier:
    """One set: litres wanted, gross rating [kg], axles, tank and gear."""

    name: str
    litres: float
    gross: float
    axles: tuple[Axle, ...]
    wide: float
    tall: float
    long: float
    middle: float
    bottom: float
    shell: str
    cg: float
    gear: tuple[tuple[str, float, float, float], ...]
    crew: int = 2
    more: str = ""


def text(c: Carrier) -> str:
    """The build file of a set."""
    axles = "".join(
        f'[[chassis.axle]]\nname = "axle {i + 1}"\nat = "{a.at} m"\nkerb_load = "{a.kerb} kg"\n'
        f'rating = "{a.rating} kg"\n'
        f"steered = {str(a.steered).lower()}\ndriven = {str(not a.steered).lower()}\ntyres = {2 if a.steered else 4}\n"
        f'track = "{2.0 if a.steered else 1.83} m"\n'
        for i, a in enumerate(c.axles)
    )
    rear = [f'"axle {i + 1}"' for i, a in enumerate(c.axles) if not a.steered]
    group = (
        f'[[chassis.group]]\nname = "rear"\naxles = [{", ".join(rear)}]\nsharing = "equal"\n' if len(rear) > 1 else ""
    )
    gear = "".join(
        f'[[item]]\nname = "{name}"\nmass = "{mass} kg"\nat = "{x} m"\nheight = "{z} m"\non = "frame"\n'
        for name, mass, x, z in c.gear
    )
    crew = "".join(f'[[crew]]\nname = "person {i + 1}"\nat = "0.3 m"\n' for i in range(c.crew))
    baffles = "".join(f'[[tank.baffle]]\nat = "{x:.2f} m"\nopen = "25 %"\n' for x in (c.long / 3, 2 * c.long / 3))
    return f"""format = 1
[order]
title = "{c.name}"
volume = "{c.litres} L"
volume_means = "net"
rules = ["ratings-only"]
[chassis]
gross_rating = "{c.gross} kg"
cg_height = "{c.cg} m"
cab = {{ back = "0.55 m", front = "-1.3 m", roof = "2.7 m" }}
{axles}{group}[tank]
middle = "{c.middle} m"
length = "{c.long} m"
bottom = "{c.bottom} m"
shell = "{c.shell}"
section = {{ shape = "rectangle", width = "{c.wide} m", height = "{c.tall} m", corner_radius = "0.2 m" }}
{baffles}[subframe]
from = "{c.middle - c.long / 2:.2f} m"
to = "{c.middle + c.long / 2:.2f} m"
height = "120 mm"
{crew}{gear}{c.more}"""


SPRAY = (("pump, valves and spray bar", 350.0), ("guards, lights, ladder", 230.0))


def _gear(rear: float) -> tuple[tuple[str, float, float, float], ...]:
    return tuple((name, mass, rear if i == 0 else rear - 1.5, 0.9) for i, (name, mass) in enumerate(SPRAY))


SETS = (
    Carrier(
        "A1 Type I",
        3785,
        7258,
        (Axle(0, 1800, 3100, steered=True), Axle(3.4, 1000, 5200)),
        1.8,
        0.9,
        2.55,
        2.75,
        1.0,
        "3 mm",
        0.80,
        _gear(4.2),
    ),
    Carrier(
        "A1 Type II",
        7571,
        12701,
        (Axle(0, 2650, 4900, steered=True), Axle(4.3, 1550, 8600)),
        2.2,
        1.15,
        3.2,
        3.4,
        1.1,
        "4 mm",
        0.95,
        _gear(5.3),
    ),
    Carrier(
        "A1 Type III",
        7571,
        16783,
        (Axle(0, 4300, 6400, steered=True), Axle(3.7, 1800, 6500), Axle(5.0, 1800, 6500)),
        2.2,
        1.15,
        3.2,
        3.9,
        1.15,
        "4 mm",
        1.0,
        _gear(6.0),
    ),
    Carrier(
        "A1 Type IV",
        7571,
        20865,
        (Axle(0, 4600, 7300, steered=True), Axle(3.7, 2200, 7300), Axle(5.0, 2200, 7300)),
        2.2,
        1.15,
        3.2,
        3.9,
        1.25,
        "4 mm",
        1.1,
        _gear(6.0),
    ),
    Carrier(
        "A2 bowser",
        12000,
        25000,
        (Axle(0, 4000, 7000, steered=True), Axle(4.8, 1700, 10000), Axle(6.15, 1300, 10000)),
        2.3,
        1.25,
        4.55,
        4.4,
        1.15,
        "5 mm",
        1.0,
        _gear(7.0),
    ),
    Carrier(
        "A3 tender",
        5000,
        16000,
        (Axle(0, 3200, 6500, steered=True), Axle(4.225, 1800, 10500)),
        2.1,
        1.0,
        2.55,
        3.5,
        1.1,
        "3 mm",
        0.95,
        (*_gear(5.3), ("lockers and pump panel", 900.0, 4.6, 1.3)),
        crew=6,
    ),
    Carrier(
        "A4 small tender",
        3000,
        7500,
        (Axle(0, 1750, 3100, steered=True), Axle(3.4, 950, 5400)),
        1.8,
        0.85,
        2.15,
        2.8,
        0.95,
        "3 mm",
        0.80,
        (*_gear(4.2), ("foam, 300 L in its tank", 350.0, 3.4, 1.2)),
        crew=2,
    ),
)
