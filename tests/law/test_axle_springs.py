"""Three and more supports: equal springs, a stiff one in the middle, tyres in series with springs, in closed form."""

from __future__ import annotations

import numpy as np
import pytest

from tunwright.handbook.axle_statics import StiffnessMissing, Support, SupportError, sharing

EQUAL = "equal springs under a stiff beam, R = P/n + P (x - xm)(xi - xm) / sum (xj - xm)^2"
STIFF = "a beam pivoting on its middle support, held by two springs"
SERIES = "springs in series, 1/k = 1/k1 + 1/k2"
CENTRE = "sharing-weighted centre of the group"

EIGHT_WHEELER = """
format = 1
[order]
title = "two steered axles and a pair of driven ones"
[chassis]
gross_rating = "32 t"
cg_height = "1.0 m"
[[chassis.axle]]
name = "steer 1"
at = "0 m"
kerb_load = "3600 kg"
rating = "8 t"
steered = true
spring_rate = "300 N/mm"
tyre_rate = "900 N/mm"
[[chassis.axle]]
name = "steer 2"
at = "1.8 m"
kerb_load = "3200 kg"
rating = "8 t"
steered = true
spring_rate = "250 N/mm"
[[chassis.axle]]
name = "drive 1"
at = "5.0 m"
rating = "10 t"
driven = true
tyres = 4
tyre_rate = "900 N/mm"
[[chassis.axle]]
name = "drive 2"
at = "6.4 m"
rating = "10 t"
driven = true
tyres = 4
tyre_rate = "900 N/mm"
[[chassis.group]]
name = "drive"
axles = ["drive 1", "drive 2"]
sharing = ["60 %", "40 %"]
spring_rate = "1200 N/mm"
kerb_load = "4200 kg"
[tank]
middle = "4 m"
length = "4 m"
bottom = "1.2 m"
shell = "4 mm"
dry_mass = "1000 kg"
[tank.section]
shape = "rectangle"
width = "2 m"
height = "1 m"
"""


def springs(*rates: float, at: tuple[float, ...]) -> list[Support]:
    return [Support((i,), (1.0,), (x,), k) for i, (k, x) in enumerate(zip(rates, at, strict=True))]


@pytest.mark.parametrize("at", [(0.0, 4.0, 5.4), (0.0, 1.8, 5.0), (0.0, 1.5, 4.5, 5.9, 7.3)])
def test_equal_springs(check, at: tuple[float, ...]) -> None:
    axles, places = sharing(springs(*[7e5] * len(at), at=at), len(at)), np.array(at)
    off = places - places.mean()
    for x in (-0.5, 2.2, 6.0):
        closed = 1000.0 * (1 / len(at) + (x - places.mean()) * off / np.sum(off**2))
        worst = np.abs(axles.of_force(1000.0, x) - closed).max()
        check(
            f"1000 N at {x:g} m on equal springs at {', '.join(f'{p:g}' for p in at)} m",
            source=EQUAL,
            expected=0.0,
            ours=worst,
            tol=1e-9,
            unit="N",
        )


def test_three_in_a_row(check) -> None:
    """Evenly spaced: a load over the first presses 5/6, 1/3 and -1/6 of itself; over the middle a third each."""
    axles = sharing(springs(1e6, 1e6, 1e6, at=(0.0, 2.0, 4.0)), 3)
    for x, parts in ((0.0, (5 / 6, 1 / 3, -1 / 6)), (2.0, (1 / 3,) * 3)):
        for name, ours, part in zip(("first", "second", "third"), axles.of_force(1.0, x), parts, strict=True):
            check(f"load at {x:g} m of three in a row: {name}", source=EQUAL, expected=part, ours=ours, tol=1e-12)


def test_stiff_middle_support(check) -> None:
    """Ten million times stiffer, the middle one is a pivot: a load over it is all its own."""
    k, at, mid = (6e5, 9e5), (0.0, 6.0), 2.5
    axles = sharing(springs(k[0], 1e7 * k[0], k[1], at=(at[0], mid, at[1])), 3)
    for x in (2.5, 0.5, 5.0):
        turn = (x - mid) / (k[0] * (at[0] - mid) ** 2 + k[1] * (at[1] - mid) ** 2)
        outer = [k[0] * (at[0] - mid) * turn, k[1] * (at[1] - mid) * turn]
        closed = np.array([outer[0], 1 - sum(outer), outer[1]])
        worst = np.abs(axles.of_force(1.0, x) - closed).max()
        check(f"unit load at {x:g} m, very stiff support at 2.5 m", source=STIFF, expected=0.0, ours=worst, tol=1e-5)


def test_very_soft_support_carries_nothing(check) -> None:
    """The softest of three drops out and the other two are plain statics."""
    axles = sharing(springs(8e5, 1e-2, 8e5, at=(0.0, 1.8, 5.0)), 3)
    worst = np.abs(axles.of_force(1.0, 2.0) - np.array([0.6, 0.0, 0.4])).max()
    check("unit load, middle support very soft", source="statics on two supports", expected=0.0, ours=worst, tol=1e-6)


def test_a_group_acts_at_its_weighted_centre(check) -> None:
    """A load there does not reach the other axle; the group shares it as told."""
    group = Support((1, 2), (0.6, 0.4), (4.0, 5.4))
    check("group of 60 and 40 %: centre", source=CENTRE, expected=4.56, ours=group.centre, tol=1e-12, unit="m")
    loads = sharing([Support((0,), (1.0,), (0.0,)), group], 3).of_force(1000.0, group.centre)
    for name, part, ours in zip(("front", "first", "second"), (0.0, 600.0, 400.0), loads, strict=True):
        check(
            f"1000 N over the group's centre: {name} axle", source=CENTRE, expected=part, ours=ours, tol=1e-9, unit="N"
        )


def test_rates_of_axles_and_groups(check, truck_of) -> None:
    """Both sides together; tyres in series where their rate is known."""
    ours = [support.rate for support in truck_of(EIGHT_WHEELER).axles.supports(())]
    closed = [1 / (1 / 600e3 + 1 / 1800e3), 500e3, 1 / (1 / 2400e3 + 1 / 7200e3)]
    for name, one, two in zip(
        ("axle with tyres", "axle, tyres not known", "group with tyres"), ours, closed, strict=True
    ):
        check(f"vertical rate of an {name}", source=SERIES, expected=two, ours=one, tol=1e-6 * two, unit="N/m")


def test_eight_wheeler_by_hand(check, truck_of) -> None:
    """Tank and water on three supports, against the two equations of the stiff frame solved here."""
    truck = truck_of(EIGHT_WHEELER)
    k, x = np.array([450e3, 500e3, 1800e3]), np.array([0.0, 1.8, 5.0 * 0.6 + 6.4 * 0.4])
    net = float(truck.volumes.net.sum()) * 1000
    full = next(i for i, s in enumerate(truck.table.states) if s.level and s.fill == 1.0 and s.crew)
    force = np.array([1000.0 + net, (1000.0 + net) * 4.0])
    sink, turn = np.linalg.solve([[k.sum(), k @ x], [k @ x, k @ x**2]], force)
    added = k * (sink + turn * x)
    exact = np.array([3600 + added[0], 3200 + added[1], 2520 + 0.6 * added[2], 1680 + 0.4 * added[2]])
    for axle, ours, hand in zip(truck.axles.axle, truck.table.axles[full], exact, strict=True):
        check(
            f"eight-wheeler full, {axle.name}",
            source="stiff frame on springs, by hand",
            expected=hand,
            ours=ours,
            tol=0.5,
            unit="kg",
        )


def test_without_spring_rates_nothing_is_shared() -> None:
    supports = [
        Support((0,), (1.0,), (0.0,), 5e5),
        Support((1,), (1.0,), (1.8,)),
        Support((2, 3), (0.5, 0.5), (5.0, 6.4)),
    ]
    with pytest.raises(StiffnessMissing) as found:
        sharing(supports, 4)
    assert found.value.which == (1, 2, 3)


@pytest.mark.parametrize("supports", [[], springs(1e6, at=(0.0,)), springs(1e6, 1e6, at=(2.0, 2.0))])
def test_what_would_tip_over_is_refused(supports: list[Support]) -> None:
    with pytest.raises(SupportError, match="tip over"):
        sharing(supports, 2)
