"""What the runs of a flow meter say of it: as it is set, as it is to be set, and over the flow."""

from __future__ import annotations

import math
from collections.abc import Iterator

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.shown import show_number as n
from tunwright.build.typed import capital
from tunwright.checks.finding import Finding, Remedy, Rule, Step, not_known, shop_rule, verdict
from tunwright.proof.calibration import SURE, Calibration

_FOUND, _LEFT = "meter-as-found", "meter-as-set"


def calibration_findings(one: Calibration) -> tuple[Finding, ...]:
    """Findings about a meter.

    one: the meter as its runs show it
    """
    rule = shop_rule("meter_deviation")
    return (*_as_found(one, rule), _as_set(one, rule), *_over_flow(one, rule))


def _as_found(one: Calibration, rule: Rule) -> Iterator[Finding]:
    """Whether the display, as it is set, shows what flows."""
    if one.found is None or one.worst_found is None:
        return
    worst = max(range(len(one.found)), key=lambda i: abs((one.found or ())[i]))
    judged = verdict(one.worst_found, one.limit, "at_most")
    yield Finding(
        _FOUND, "Does the meter show what flows, as it is set now?", f"run {one.runs[worst].name}", one.worst_found,
        one.limit, "share", "at_most", judged, rule, working=_steps(one, one.found),
        remedy=Remedy("set the new K-factor and make the runs again") if judged == "fails" else None,
    )  # fmt: skip


def _as_set(one: Calibration, rule: Rule) -> Finding:
    """Whether one K-factor does for all runs."""
    question = "Does one K-factor do for all runs?"
    if len(one.runs) < 2:
        note = "One run says nothing about the next: make three or more, at slow, middle and fast flow."
        return not_known(_LEFT, question, rule, "share", ("a second run",), limit=one.limit, note=note)
    worst = max(range(len(one.left)), key=lambda i: abs(one.left[i]))
    judged = verdict(one.worst_left, one.limit, "at_most")
    words = "look at the runs that are farthest off, at air in the water and at the straight pipe before the meter"
    return Finding(
        _LEFT, question, f"run {one.runs[worst].name}", one.worst_left, one.limit, "share", "at_most", judged, rule,
        working=_steps(one, one.left), remedy=Remedy(words) if judged == "fails" else None,
    )  # fmt: skip


def _steps(one: Calibration, each: tuple[float, ...]) -> tuple[Step, ...]:
    """Every run with its deviation."""
    rows = zip(one.runs, each, strict=True)
    return tuple(
        Step(f"run {run.name}", "N / (K V) - 1", f"{n(1000 * run.volume, 2)} L", f"{n(100 * off, 2)} %")
        for run, off in rows
    )


def _over_flow(one: Calibration, rule: Rule) -> Iterator[Finding]:
    """Whether it shows more, or less, at fast than at slow flow."""
    trend = one.trend
    if trend is None:
        return
    value, judged = abs(trend.difference), verdict(abs(trend.difference), one.limit, "at_most")
    ends = f"{n(LITRES_A_MINUTE * trend.slowest)} and {n(LITRES_A_MINUTE * trend.fastest)} L/min"
    word = "more" if trend.difference > 0 else "less"
    told = f"it shows {word} at fast flow than at slow" if trend.seen else "no more than the runs scatter"
    step = Step(f"chance alone makes, {100 * SURE:.0f} % sure", "t s √(2 / n)", ends, f"{n(100 * trend.chance, 2)} %")
    remedy = Remedy("set it by runs at the flow it works at, or take a meter of a smaller bore for slow flow")
    yield Finding(
        "meter-over-flow", "Does the meter show alike at slow and at fast flow?", ends, value, one.limit, "share",
        "at_most", judged if trend.seen or math.isnan(value) else "holds", rule, working=(step,),
        note=f"{capital(told)}.", remedy=remedy if judged == "fails" and trend.seen else None,
    )  # fmt: skip
