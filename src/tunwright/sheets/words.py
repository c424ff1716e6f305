"""The answers of an assessment in plain words, the same on screen and on paper."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from tunwright.build.shown import show, show_number
from tunwright.checks.assess import Assessment
from tunwright.checks.capacity import volumes_litres
from tunwright.checks.finding import Finding
from tunwright.checks.window import Window
from tunwright.sheets.input_words import labels

VERDICTS = {"holds": "✓ holds", "close": "! close", "fails": "✗ fails", "open": "○ open"}
"""Verdicts with a mark, so that colour is never the only signal."""


def mass(value: float, assessment: Assessment) -> str:
    """A mass in the units of the order.

    value: [kg]
    assessment: the assessment
    """
    return show(value, "mass", system=assessment.build.order.units)


def volume(value: float, assessment: Assessment) -> str:
    """A volume in the units of the order.

    value: [m3]
    assessment: the assessment
    """
    return show(value, "volume", system=assessment.build.order.units)


def length(value: float, assessment: Assessment) -> str:
    """A length in the units of the order.

    value: [m]
    assessment: the assessment
    """
    return show(value, "length", system=assessment.build.order.units)


_COUNTS = ("cases", "holes", "rpm", "pockets", "parts", "places", "duties", "runs", "category")
_PLACES = {**dict.fromkeys(_COUNTS, 0), "min": 1}
_HEADS = ("jet-reach", "prime", "npsh", "siphon")
"""What findings begin with whose metres are a height or a way, not a measure of something made."""

_SHOWN = {
    "kg": ("mass", 1.0),
    "L": ("volume", 1e-3),
    "m": ("length", 1.0),
    "MPa": ("stress", 1e6),
    "kN": ("force", 1e3),
    "N": ("force", 1.0),
    "N m": ("torque", 1.0),
    "kW": ("power", 1e3),
    "L/min": ("flow", 1e-3 / 60.0),
    "bar": ("pressure", 1e5),
    "L/m²": ("laid", 1e-3),
}


_SIGNS = {"share": (100.0, " %", 1), "deg": (1.0, "°", 1)}
_US = {"m/s": (1.0 / 0.3048, "ft/s", 1), "kPa": (1000.0 / 6894.757293168, "psi", 3)}
"""Units that no kind of quantity is printed in, with what US orders have in their place: factor, unit, places."""


def figure(value: float | None, unit: str, assessment: Assessment) -> str:
    """A value of a finding with its unit, in the units of the order.

    value: the value, None where it is not known
    unit: kg | L | m | share, or any other, which is printed as it is
    assessment: the assessment
    """
    if value is None or not math.isfinite(value):
        return "not known"
    if unit == "head":
        us = assessment.build.order.units == "us"
        return f"{show_number(value / (0.3048 if us else 1.0), 1)} {'ft' if us else 'm'}"
    if unit in _SHOWN:
        kind, factor = _SHOWN[unit]
        return show(factor * value, kind, system=assessment.build.order.units)
    if unit in _US and assessment.build.order.units == "us":
        factor, other, places = _US[unit]
        return f"{show_number(factor * value, places)} {other}"
    factor, sign, places = _SIGNS.get(unit, (1.0, f" {unit}", _PLACES.get(unit, 2)))
    return f"{show_number(factor * value, places)}{sign}".strip()


def _unit(finding: Finding) -> str:
    """The unit a finding is printed in: its own, or that of a height of water or a way where its metres are one."""
    return "head" if finding.unit == "m" and finding.key.startswith(_HEADS) else finding.unit


def value_of(finding: Finding, assessment: Assessment) -> str:
    """The value of a finding; nothing where it fails without one.

    finding: the finding
    assessment: the assessment
    """
    if finding.value is None and finding.verdict == "fails":
        return ""
    return figure(None if finding.verdict == "open" else finding.value, _unit(finding), assessment)


def limit_words(finding: Finding, assessment: Assessment) -> str:
    """The limit of a finding with its sense.

    finding: the finding
    assessment: the assessment
    """
    sign = "≤" if finding.sense == "at_most" else "≥"
    return f"{sign} {figure(finding.limit, _unit(finding), assessment)}"


def question_of(key: str | None, assessment: Assessment) -> str:
    """What a limit asks, for naming what binds.

    key: key of a finding, None where nothing binds
    assessment: the assessment
    """
    if key is None:
        return "nothing"
    asked = {finding.key: finding.question for finding in assessment.findings}
    return asked.get(key, key).rstrip("?")


def needed_gross(assessment: Assessment) -> float:
    """Gross rating that the whole order would take, standing with the crew aboard [kg].

    assessment: the assessment
    """
    truck, order = assessment.truck, assessment.build.order
    dry = next(
        g for s, g in zip(truck.table.states, truck.table.gross, strict=True) if s.crew and s.level and s.fill == 0.0
    )
    held = (
        float(order.volume)
        if order.volume is not None and order.volume_means == "net"
        else float(truck.volumes.net.sum())
    )
    return float(dry) + held * truck.water.density


def ordered_water(assessment: Assessment) -> float:
    """Net volume that the order means [m3].

    assessment: the assessment
    """
    order, volumes = assessment.build.order, assessment.truck.volumes
    if order.volume is None:
        return float(volumes.net.sum())
    if order.volume_means == "net":
        return float(order.volume)
    whole = {"gross": volumes.gross, "usable": volumes.usable}[order.volume_means]
    return float(order.volume) * float(volumes.net.sum() / np.sum(whole))


def answer(assessment: Assessment) -> str:
    """The plain answer, one or two sentences.

    assessment: the assessment
    """
    if assessment.worst == "fails":
        return _no(assessment)
    if assessment.worst == "open":
        count = assessment.counts["open"]
        several = "s" if count > 1 else ""
        return f"Not answered yet: {count} question{several} cannot be judged until missing data are given."
    near = assessment.counts["close"]
    return "Holds." if not near else f"Holds, {near} close to {'their limits' if near > 1 else 'its limit'}."


def _no(assessment: Assessment) -> str:
    window, order = assessment.window, assessment.build.order
    failing = [finding for finding in assessment.findings if finding.verdict == "fails"]
    if window.empty:
        return f"Does not fit: no position of the tank works, not even empty. {failing[0].question} No."
    net = float(assessment.truck.volumes.net.sum())
    if window.filled == "most" and window.water < net * (1 - 1e-6):
        return _too_much(assessment, window)
    if order.volume is not None and any(finding.key == "capacity" for finding in failing):
        held = volumes_litres(assessment.truck)[order.volume_means] / 1000
        asked = (
            f"{volume(held, assessment)} {order.volume_means} of the {volume(float(order.volume), assessment)} ordered"
        )
        return f"The tank is too small: it holds {asked}."
    count = len(failing) - 1
    others = f", and {count} more fail{'s' if count == 1 else ''}" if count else ""
    return f"Fails as it stands. {failing[0].question.rstrip('?')}? No{others}. See the remedies."


def _too_much(assessment: Assessment, window: Window) -> str:
    """No position carries what the tank holds: the most that can be carried, and what the whole would take."""
    wanted = min(ordered_water(assessment), float(assessment.truck.volumes.net.sum()))
    most, place = volume(math.floor(window.water * 100) / 100, assessment), _place(window, assessment)
    if window.water >= wanted * (1 - 1e-6):
        asked = volume(wanted, assessment)
        return f"Carries the {asked} wanted if filled to {most} at most, with the middle of the tank {place}."
    said = f"of {volume(wanted, assessment)} wanted, at most {most} can be carried, with the middle of the tank {place}"
    gross = needed_gross(assessment)
    if gross > float(assessment.build.chassis.gross_rating):
        would = (
            f"The whole would take a gross rating of at least {mass(math.ceil(gross), assessment)}, and axles to match."
        )
    else:
        would = f"What stops it: {_between(assessment.placing.full(), assessment)}."
    return f"Does not fit as specified: {said}. {would}"


def window_words(assessment: Assessment) -> str:
    """The permitted window in words.

    assessment: the assessment
    """
    if assessment.unknown:
        return f"Not known: axle loads cannot be worked out without {_inputs(assessment, assessment.unknown)}."
    return _window_said(assessment) + _level_only(assessment) + _not_counted(assessment)


def _inputs(assessment: Assessment, paths: Sequence[str]) -> str:
    """Missing inputs in words."""
    return "; ".join(labels(assessment.build, paths))


def _level_only(assessment: Assessment) -> str:
    """The reserve under which window and fill limit stand where grades cannot be judged."""
    if not assessment.no_grades:
        return ""
    return f" Level states only: grades are not judged without {_inputs(assessment, assessment.no_grades)}."


def _not_counted(assessment: Assessment) -> str:
    """Limits that are open and so not in the window and the fill limit."""
    questions = [finding.question.rstrip("?") for finding in assessment.open_limits]
    if not questions or assessment.unknown or assessment.no_grades:
        return ""
    more = f" and {len(questions) - 1} more" if len(questions) > 1 else ""
    return f" Not counted, because it is open: {questions[0]}{more}."


def _window_said(assessment: Assessment) -> str:
    window, full = assessment.window, assessment.placing.full()
    if window.empty:
        return f"No position works, not even with the tank empty: {_between(full, assessment)}."
    if window.filled == "brim":
        filled = f"filled up to the brim ({volume(window.water, assessment)})"
        return f"The middle of the tank may stand {_ends(window, assessment)}, {filled}."
    brim = f"Filled to the brim ({volume(full.water, assessment)}) no position works: {_between(full, assessment)}."
    if window.filled == "net":
        held = volume(window.water, assessment)
        return f"Filled to net ({held}) the middle of the tank may stand {_ends(window, assessment)}. {brim}"
    most, place = volume(math.floor(window.water * 100) / 100, assessment), _place(window, assessment)
    return f"No position works. {brim} The most water that has a position is {most}, with the tank's middle {place}."


def _place(window: Window, assessment: Assessment) -> str:
    """Where the tank stands in a window: a place, or between two where it leaves room."""
    low, high = length(window.low, assessment), length(window.high, assessment)
    if window.high - window.low < 0.002:
        return f"at {low}"
    return f"between {low} and {high}" if math.isfinite(window.high - window.low) else f"{_ends(window, assessment)}"


def _ends(window: Window, assessment: Assessment) -> str:
    low = f"from {length(window.low, assessment)} ({question_of(window.binds_low, assessment)})"
    high = f"to {length(window.high, assessment)} ({question_of(window.binds_high, assessment)})"
    if not math.isfinite(window.low):
        return high.replace("to", "up to", 1)
    return low if not math.isfinite(window.high) else f"{low} {high}"


def _between(window: Window, assessment: Assessment) -> str:
    """Which limits cross where the window is empty."""
    if window.never is not None:
        return f"no position helps with this: {question_of(window.never, assessment)}"
    low, high = length(window.low, assessment), length(window.high, assessment)
    back = f"one limit needs at least {low} ({question_of(window.binds_low, assessment)})"
    return f"{back}, another at most {high} ({question_of(window.binds_high, assessment)})"


def fill_words(assessment: Assessment) -> str:
    """The fill limit in words.

    assessment: the assessment
    """
    if assessment.unknown:
        return f"Not known: axle loads cannot be worked out without {_inputs(assessment, assessment.unknown)}."
    return _fill_said(assessment) + _level_only(assessment) + _not_counted(assessment)


def _fill_said(assessment: Assessment) -> str:
    found = assessment.fill_limit
    if found.binds is None:
        return f"No limit is reached before the tank is full to the brim ({volume(found.water, assessment)})."
    if found.water <= 0:
        return f"A limit is passed already when empty: {question_of(found.binds, assessment)}."
    return f"The first limit is reached at {volume(found.water, assessment)}: {question_of(found.binds, assessment)}."


def volume_words(assessment: Assessment) -> str:
    """The three capacities on one line.

    assessment: the assessment
    """
    litres = volumes_litres(assessment.truck)
    return ", ".join(f"{name} {volume(value / 1000, assessment)}" for name, value in litres.items())
