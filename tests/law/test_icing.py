"""Standing water in a cold pipe: closed forms against integration, the balance of heat, limits, and insulation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from tunwright.handbook.icing import (
    FREEZING,
    ICE_CONDUCTIVITY,
    LATENT_HEAT,
    WATER_DENSITY,
    WATER_HEAT,
    air_film,
    air_properties,
    cooling_time,
    cross_flow_nusselt,
    freezing_time,
    heat_capacity_per_metre,
    heat_loss_per_metre,
    resistance_per_metre,
    tracing_power,
)

PIPE = {"bore": 0.0809, "wall": 0.004, "wall_conductivity": 50.0, "film": 30.0}
AIR = 258.15


def pipe(**more: float) -> dict[str, float]:
    return {"air": AIR, "resistance": float(resistance_per_metre(**{**PIPE, **more}))}


def test_cooling_against_integration(check) -> None:
    capacity = float(heat_capacity_per_metre(bore=PIPE["bore"], wall_mass=8.4))
    assert capacity == pytest.approx(WATER_DENSITY * math.pi / 4 * PIPE["bore"] ** 2 * WATER_HEAT + 8.4 * 470)
    cold = pipe(insulation=0.02)

    def rate(_: float, water: np.ndarray) -> np.ndarray:
        return -(water - cold["air"]) / (cold["resistance"] * capacity)

    def at_zero(_: float, water: np.ndarray) -> float:
        return water[0] - FREEZING

    at_zero.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(rate, (0, 1e6), [285.15], events=at_zero, rtol=1e-11, atol=1e-9)
    ours = cooling_time(start=285.15, heat_capacity=capacity, **cold)
    check("time from 12 C to 0 C", source="scipy.integrate.solve_ivp of the balance", expected=run.t_events[0][0],
          ours=ours, tol=1e-4, unit="s")


@pytest.mark.parametrize("part", [0.05, 0.5, 0.98])
def test_freezing_against_integration(check, part: float) -> None:
    """The part that is ice over time, with the layer on the wall in the way."""
    cold = pipe()
    heat = WATER_DENSITY * math.pi / 4 * PIPE["bore"] ** 2 * LATENT_HEAT

    def rate(_: float, ice: np.ndarray) -> np.ndarray:
        free = 0.5 * PIPE["bore"] * np.sqrt(1 - ice)
        layer = np.log(0.5 * PIPE["bore"] / free) / (2 * math.pi * ICE_CONDUCTIVITY)
        return (FREEZING - AIR) / (cold["resistance"] + layer) / heat

    ours = float(freezing_time(part=part, bore=PIPE["bore"], **cold))
    run = solve_ivp(rate, (0, ours), [0.0], rtol=1e-11, atol=1e-13)
    check(f"part frozen when {part:g} should be", source="scipy.integrate.solve_ivp of the balance", ours=part,
          expected=run.y[0, -1], tol=1e-8)


def test_heat_balance(check) -> None:
    """Heat lost while cooling is what the water held; heat lost while freezing at 0 C is the heat of fusion."""
    capacity = float(heat_capacity_per_metre(bore=PIPE["bore"]))
    cold = pipe(insulation=0.03)
    water = np.linspace(283.15, FREEZING, 2001)
    times = np.array([0.0, *(cooling_time(start=283.15, end=end, heat_capacity=capacity, **cold) for end in water[1:])])
    lost = np.trapezoid(heat_loss_per_metre(water=water, **cold), times)
    check("heat lost from 10 C to 0 C", source="heat capacity times 10 K", expected=capacity * 10, ours=lost, tol=1,
          unit="J/m")
    seconds = freezing_time(part=0.3, bore=PIPE["bore"], ice_layer=False, **cold)
    lost = seconds * heat_loss_per_metre(water=FREEZING, **cold)
    fusion = 0.3 * LATENT_HEAT * WATER_DENSITY * math.pi / 4 * PIPE["bore"] ** 2
    check("heat lost while 30 % freezes", source="heat of fusion of 30 % of the water", expected=fusion, ours=lost,
          tol=1e-3, unit="J/m")


def test_resistances_against_conduction(check) -> None:
    """Heat flow of 1 W/m through each shell, integrated along the radius."""
    inner, outer, shell = 0.04045, 0.04445, 0.06945
    drop = quad(lambda r: 1 / (2 * math.pi * r * 50.0), inner, outer)[0]
    drop += quad(lambda r: 1 / (2 * math.pi * r * 0.04), outer, shell)[0] + 1 / (2 * math.pi * shell * 30.0)
    check("resistance of an insulated pipe", source="conduction integrated along the radius", expected=drop, tol=1e-10,
          ours=pipe(insulation=0.025)["resistance"], unit="m K/W")


def test_more_insulation_is_never_worse_on_a_wide_pipe() -> None:
    thickness = np.linspace(0, 0.1, 101)
    resistance = resistance_per_metre(**PIPE, insulation=thickness)
    assert (np.diff(resistance) > 0).all()
    assert (np.diff(cooling_time(start=283.15, air=AIR, resistance=resistance, heat_capacity=2e4)) > 0).all()
    assert (np.diff(freezing_time(part=0.2, bore=0.0809, air=AIR, resistance=resistance)) > 0).all()
    assert (np.diff(tracing_power(hold=278.15, air=AIR, resistance=resistance)) < 0).all()


def test_critical_radius(check) -> None:
    """On a thin pipe in still air the first insulation lets more heat out, up to a radius of conductivity over film."""
    thickness = np.linspace(0, 0.02, 20001)
    resistance = resistance_per_metre(bore=0.004, wall=0.001, wall_conductivity=50.0, film=5.0, insulation=thickness,
                                      insulation_conductivity=0.04)
    check("radius of the least resistance", source="closed form, conductivity over film", expected=0.04 / 5 * 1e3,
          ours=(0.003 + thickness[resistance.argmin()]) * 1e3, tol=0.001, unit="mm")


def test_limits() -> None:
    cold = pipe()
    assert np.isinf(cooling_time(start=283.15, air=[FREEZING, 280.0], resistance=1.0, heat_capacity=2e4)).all()
    assert np.isinf(freezing_time(part=0.1, bore=0.08, air=[FREEZING, 280.0], resistance=1.0)).all()
    assert freezing_time(part=0.0, bore=0.08, **cold) == 0
    assert cooling_time(start=FREEZING + 1e-9, heat_capacity=2e4, **cold) < 1e-5
    assert tracing_power(hold=278.15, air=285.0, resistance=1.0) == 0


def test_ice_slows_the_freezing_less_the_better_the_pipe_is_insulated() -> None:
    given = {"part": 1.0, "bore": 0.08, "air": AIR, "resistance": np.array([0.05, 0.5, 5.0, 5e6])}
    ratio = freezing_time(**given) / freezing_time(**given, ice_layer=False)
    assert (np.diff(ratio) < 0).all()
    assert ratio[-1] == pytest.approx(1.0, abs=1e-7)


def test_tracing_holds_the_temperature() -> None:
    cold = pipe(insulation=0.02)
    power = tracing_power(hold=278.15, reserve=0.2, **cold)
    assert power == pytest.approx(1.2 * heat_loss_per_metre(water=278.15, **cold))
    assert heat_loss_per_metre(water=AIR + power * cold["resistance"], **cold) == pytest.approx(power)


def test_twice_as_cold_freezes_in_half_the_time() -> None:
    times = freezing_time(part=0.4, bore=0.08, air=[FREEZING - 7, FREEZING - 14], resistance=0.2)
    assert times[0] == pytest.approx(2 * times[1], rel=1e-12)


def test_film_grows_with_wind_and_shrinks_with_diameter() -> None:
    films = air_film(wind=np.array([[1.0], [5.0], [20.0]]), diameter=[0.03, 0.09, 0.2], air=AIR, surface=FREEZING)
    assert films.shape == (3, 3)
    assert (np.diff(films, axis=0) > 0).all()
    assert (np.diff(films, axis=1) < 0).all()


def test_film_against_another_correlation(check) -> None:
    """Hilpert's power laws, as most textbooks print them; both follow measurements that scatter by 25 %."""
    worst = 0.0
    for low, high, factor, power in ((40, 4e3, 0.683, 0.466), (4e3, 4e4, 0.193, 0.618), (4e4, 4e5, 0.027, 0.805)):
        reynolds = np.geomspace(low, high, 50)
        ratio = cross_flow_nusselt(reynolds=reynolds, prandtl=0.71) / (factor * reynolds**power * 0.71 ** (1 / 3))
        worst = max(worst, np.abs(ratio - 1).max())
    check("Nusselt number over Hilpert's, Re 40 to 400 000, greatest difference", source="Hilpert, 1933; from memory",
          expected=0, ours=worst, tol=0.25)


@pytest.mark.parametrize(("call", "words"), [
    (lambda: air_properties(-10.0), "263.15 K"),
    (lambda: air_film(wind=0.0, diameter=0.1, air=AIR, surface=FREEZING), "5 m/s"),
    (lambda: air_film(wind=1e-5, diameter=0.1, air=AIR, surface=FREEZING), "Hand in a film"),
    (lambda: cross_flow_nusselt(reynolds=math.nan, prandtl=0.7), "Hand in a film"),
    (lambda: resistance_per_metre(**{**PIPE, "wall": -0.001}), "0.004 m"),
    (lambda: resistance_per_metre(**{**PIPE, "film": 0.0}), "30 W"),
    (lambda: heat_capacity_per_metre(bore=0.08, wall_mass=-1.0), "8.6 kg/m"),
    (lambda: cooling_time(start=270.0, heat_capacity=2e4, **pipe()), "283.15 K"),
    (lambda: freezing_time(part=1.1, bore=0.08, **pipe()), "0 to 1"),
    (lambda: freezing_time(part=0.1, bore=0.08, air=-10.0, resistance=1.0), "263.15 K"),
    (lambda: tracing_power(hold=278.15, reserve=20.0, **pipe()), "0.2"),
])
def test_what_cannot_be_is_refused(call, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        call()
