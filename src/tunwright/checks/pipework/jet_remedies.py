"""What makes a jet softer, or throws it farther: engine speed, angle, pressure, hands. Engine speeds are solved."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial

from tunwright.build.factors import BAR
from tunwright.build.pipework import Duty, Spray
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Remedy, verdict
from tunwright.checks.pipework.changed_duty import engine_speed, with_engine
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.pipe_network import NoFlow
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.jets import USUAL, Jet, bore, holder, jet_at, jet_in
from tunwright.truck.pipework.plumbing import Plumbing

Thrown = tuple[Jet, DutyState, Worked]
"""A jet, in which state of which duty."""

_MOST = 62  # pressures are tried in steps of 0.1 bar, up to the 6.2 bar the air's share was measured at
_TENTH = 0.1 * BAR


def softer(plumbing: Plumbing, thrown: Sequence[Thrown], limit: float) -> Remedy:
    """What lets a jet push with no more than a limit.

    plumbing: the pipework
    thrown: the jet at every filling of every duty it works in
    limit: greatest reaction [N]
    """
    spray = thrown[0][0].spray
    hard = [row for row in thrown if row[0].reaction > limit]
    words = _turned(plumbing, hard, lambda jet: _within(jet.reaction, limit), faster=False)
    if not words:
        jet = max(hard, key=lambda row: row[0].reaction)[0]
        bars = math.floor(jet.pressure * limit / jet.reaction / _TENTH)  # both laws go with the pressure
        has = f"it has {n(jet.pressure / BAR, 2)} bar"
        words = f"let no more than {n(0.1 * bars, 1)} bar stand before its nozzle ({has})"
        words = words if bars else "take a smaller nozzle"
    most = max(jet.reaction for jet, _, _ in thrown)
    if holder(spray) == "one person" and most <= shop_value("jet_two_persons"):
        words += ", or let two persons hold it"
    return Remedy(words)


def farther(plumbing: Plumbing, thrown: Sequence[Thrown], wanted: float) -> Remedy:
    """What makes a jet reach as far as is wanted.

    plumbing: the pipework
    thrown: the jet at every filling of every duty that counts
    wanted: distance [m]
    """
    jet = min(thrown, key=lambda row: row[0].reach)[0]
    short = [row for row in thrown if row[0].reach < wanted]
    flat = [jet_at(plumbing, one.spray, one.pressure, USUAL) for one, _, _ in thrown]
    if all(_far(one.reach, wanted) for one in flat):
        return Remedy(f"point it {math.degrees(USUAL):.0f}° over the horizontal: it then reaches {_least(flat)} m")
    words = _turned(plumbing, short, lambda one: _far(one.reach, wanted), faster=True)
    if words:
        return Remedy(words)
    for tenths in range(math.ceil(jet.pressure / _TENTH), _MOST + 1):
        more = jet_at(plumbing, jet.spray, tenths * _TENTH)
        if _far(more.reach, wanted):
            has = f"it has {n(jet.pressure / BAR, 2)} bar"
            return Remedy(f"{n(0.1 * tenths, 1)} bar before its nozzle would do ({n(more.reaction)} N); {has}")
    width = f"{n(1000 * bore(plumbing, jet.spray), 1)} mm"
    return Remedy(f"come nearer, or take a larger nozzle: out of {width} no pressure up to 6.2 bar throws so far")


def _within(value: float, limit: float) -> bool:
    return verdict(value, limit, "at_most") != "fails"


def _far(value: float, wanted: float) -> bool:
    return verdict(value, wanted, "at_least") != "fails"


def _least(jets: Sequence[Jet]) -> str:
    """The shortest reach, rounded down [m]."""
    return n(math.floor(10 * min(one.reach for one in jets)) / 10, 1)


def _turned(plumbing: Plumbing, rows: Sequence[Thrown], good: Callable[[Jet], bool], *, faster: bool) -> str:
    """Engine speeds at which a jet is good at all fillings of all its duties; nothing where one of them has none."""
    said = []
    for one in dict.fromkeys(row[2] for row in rows):
        jets = partial(_jets, plumbing, one, rows[0][0].spray)
        rpm = engine_speed(plumbing, one.duty, partial(_all, jets, good), faster=faster)
        if rpm is None:
            return ""
        there = jets(with_engine(one.duty, rpm))
        bound, push = "or more" if faster else "at most", max(jet.reaction for jet in there)
        said.append(f"{n(rpm)} rpm {bound} when it is asked to {one.duty.name} ({n(push)} N, {_least(there)} m)")
    return f"run the engine at {', and at '.join(said)}"


def _all(jets: Callable[[Duty], list[Jet]], good: Callable[[Jet], bool], duty: Duty) -> bool:
    found = jets(duty)
    return bool(found) and all(map(good, found))


def _jets(plumbing: Plumbing, one: Worked, spray: Spray, duty: Duty) -> list[Jet]:
    """The jet at every filling of a duty turned at another engine speed; none where no flow is found."""
    try:
        states = [DutyState(plumbing, duty, state.fill, state) for state in one.states]
    except NoFlow:
        return []
    return [jet for state in states if (jet := jet_in(state, spray)) is not None]
