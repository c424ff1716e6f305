"""What the runs of a flow meter say, in sentences and tables."""

from __future__ import annotations

import math
from collections.abc import Iterator

from scipy.stats import t as student

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.shown import show_number
from tunwright.proof.calibration import BUOYANCY, SURE, Calibration


def factor(value: float, one: Calibration) -> str:
    """A K-factor, or the ratio of litres shown to litres measured, with five figures.

    value: [1/m3], or [-] where only a ratio is known
    one: the meter
    """
    size = value if one.relative else value / 1000.0
    return figures(size) + ("" if one.relative else " pulses/L")


def figures(value: float, many: int = 5) -> str:
    """A number with so many figures.

    value: above 0
    many: figures
    """
    places = max(0, many - 1 - math.floor(math.log10(abs(value)))) if value else 0
    return show_number(value, min(places, 9))


def percent(value: float, places: int = 2) -> str:
    """A share in percent with its sign.

    value: the share [-]
    places: decimals
    """
    text = show_number(100.0 * value, places)
    return f"{'+' if value > 0 and text.strip('0.') else ''}{text} %"


def answer(one: Calibration) -> str:
    """The one thing to be known: what to set in the display.

    one: the meter
    """
    if one.relative:
        off = percent(one.k_factor - 1.0).lstrip("+\u2212")
        word = "too much" if one.k_factor > 1.0 else "too little"
        return f"The display shows {off} {word}: multiply the K-factor set in it by {factor(one.k_factor, one)}."
    millilitres = figures(1e6 / one.k_factor, 4)
    return f"Set in the display: {factor(one.k_factor, one)} (one pulse is {millilitres} mL)."


def sentences(one: Calibration) -> Iterator[str]:
    """Everything else that is to be known.

    one: the meter
    """
    yield how_sure(one)
    if one.found is not None:
        was = "" if one.before is None else f" ({factor(one.before, one)})"
        low, high = min(one.found), max(one.found)
        spread = f"is off by {percent(low)}" if len(one.found) == 1 else f"is off by {percent(low)} to {percent(high)}"
        yield f"As it is set now{was}, the meter {spread}; allowed are {percent(one.limit).lstrip('+')} either way."
    if len(one.runs) > 1:
        low, high = min(one.left), max(one.left)
        yield f"With the new setting the runs lie between {percent(low)} and {percent(high)}."
    yield from _trend(one)
    yield from _strays(one)
    if one.weighed:
        yield (
            "What was weighed became a volume by the density of water at its temperature. The buoyancy of air is "
            f"neglected: the true volume is {show_number(100 * BUOYANCY, 1)} % more."
        )


def how_sure(one: Calibration) -> str:
    """How sure the K-factor is.

    one: the meter
    """
    many = len(one.runs)
    if many < 2:
        return "It comes from one run, which says nothing about the next: make three or more."
    spread = float(student.ppf(0.5 + 0.5 * SURE, many - 1)) * one.error
    return (
        f"It comes from {many} runs by least squares through the origin; standard error {_error(one.error, one)} "
        f"({show_number(100 * one.error / one.k_factor, 3)} %), so that with {100 * SURE:.0f} % it is within "
        f"± {show_number(100 * spread / one.k_factor, 2)} %. The error of the vessel or the scale comes on top."
    )


def _error(value: float, one: Calibration) -> str:
    size = value if one.relative else value / 1000.0
    return "0" if size == 0.0 else figures(size, 2) + ("" if one.relative else " pulses/L")


def _trend(one: Calibration) -> Iterator[str]:
    trend = one.trend
    if trend is None:
        yield (
            "Whether it shows alike at slow and at fast flow is not known: that takes four runs or more with their "
            "flows, two slow and two fast."
        )
        return
    slow, fast = (show_number(LITRES_A_MINUTE * flow) for flow in (trend.slowest, trend.fastest))
    ends = f"at {fast} L/min it shows {percent(trend.difference)} against {slow} L/min"
    if trend.seen:
        yield f"It follows the flow: {ends}, more than chance makes (± {show_number(100 * trend.chance, 2)} %)."
    else:
        yield f"No trend with the flow is seen: {ends}, and chance makes ± {show_number(100 * trend.chance, 2)} %."


def _strays(one: Calibration) -> Iterator[str]:
    if not one.strays:
        return
    names = " and ".join(one.runs[i].name for i in one.strays)
    many = len(one.strays) > 1
    without = "" if one.without is None else f" Without {'them' if many else 'it'}: {factor(one.without, one)}."
    yield (
        f"Run {names} {'stray' if many else 'strays'}: farther from the others than three standard deviations. "
        f"{'They are' if many else 'It is'} counted all the same; look what happened, and make "
        f"{'them' if many else 'it'} again.{without}"
    )


def columns(one: Calibration) -> list[str]:
    """Headings of the table of runs.

    one: the meter
    """
    found = ["as set now"] if one.found is not None else []
    weighed = ["weighed, kg", "water, °C"] if one.weighed else []
    counted = "shown, L" if one.display else "pulses"
    return ["run", counted, *weighed, "measured, L", "flow, L/min", *found, "with the new setting", ""]


def rows(one: Calibration) -> list[list[str]]:
    """The table of runs.

    one: the meter
    """
    made = []
    for i, run in enumerate(one.runs):
        counted = show_number(1000 * run.count, 2) if one.display else show_number(run.count)
        weighed = [_known(run.mass, 2), _known(run.temperature - 273.15, 1)] if one.weighed else []
        found = [percent(one.found[i])] if one.found is not None else []
        told = "strays" if i in one.strays else ""
        flow = _known(LITRES_A_MINUTE * run.flow, 0)
        made.append([run.name, counted, *weighed, show_number(1000 * run.volume, 2), flow, *found,
                     percent(one.left[i]), told])  # fmt: skip
    return made


def _known(value: float, places: int) -> str:
    return show_number(value, places) if math.isfinite(value) else "–"

