"""What to mind at the pump and the pipes. Common practice, no source, but for the figures."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.kind import System
from tunwright.build.shown import show
from tunwright.build.typed import capital
from tunwright.checks.pipework.pressure import highest
from tunwright.sheets.pipework.listing import said
from tunwright.truck.pipework.plumbing import Plumbing

FIRST = (
    "Local codes, the makers' instructions and licensed practice come before this sheet. It is an aid for a competent "
    "person, never an approval."
)
ISOLATE = (
    "Before any work on the pump, its shaft, a valve or a pipe: engine off, key out, drive of the pump disengaged, air "
    "and current of the valves cut off, pressure let out, wheels chocked, a sign on the steering wheel."
)
SHAFT = "Nobody near a turning shaft without its guard. Loose clothes, straps and hoses stay away from it."
SUCTION = (
    "Never shut the suction while the pump turns, never let it run dry: it breaks within minutes. Hands, clothes and "
    "children stay away from an open suction. Vents of the tank stay free: a pump that empties a tank without air "
    "sucks it in."
)
FILLING = (
    "Fill only with leave of the owner of the water, hoses in good order and locked. Stay beside it; stop before it "
    "overflows. Never close the air gap at the mouth by a hose put deeper: dirty water could be sucked back."
)
OPEN_WATER = (
    "Water out of a pond or river is not for drinking. Stand on firm ground: banks give way under a full truck."
)
JET = "Never point a jet at people, at traffic or at power lines. Hold or lock it before the water comes."
ROAD = "A wet road is slippery: slow down, no heavy water on bends and crossings, sprays shut before a stop."


def cautions(plumbing: Plumbing, system: System) -> Iterator[tuple[str, str]]:
    """What a caution is about, and the caution.

    plumbing: the pipework
    system: "metric" or "us"
    """
    kinds = {one.kind for one in plumbing.work.duty}
    yield "First of all", FIRST
    if plumbing.work.pump is not None:
        yield "Isolate the drive", ISOLATE
        yield "Shaft", SHAFT
    yield "Pressure", " ".join(_pressure(plumbing, system))
    if plumbing.work.pump is not None:
        yield "Suction", SUCTION
    if kinds & {"fill", "draw"}:
        yield "Filling", FILLING
    if "draw" in kinds:
        yield "Open water", OPEN_WATER
    if kinds & {"monitor", "reel"}:
        yield "Jet", JET
    if "spray" in kinds:
        yield "Road", ROAD


def _pressure(plumbing: Plumbing, system: System) -> Iterator[str]:
    """How high the pressure may rise, and what to do about it."""
    pump, (most, where) = plumbing.work.pump, highest(plumbing)
    if most > 0.0:
        yield f"With everything shut up to {said(most, 'pressure', system)} stand in the pipes: {where}."
    for one in plumbing.work.relief:
        opens = show(float(one.opens), "pressure", system=system)
        yield f"{capital(one.name)} opens at {opens}; never block or reset it."
    if pump is not None:
        yield "Do not let the pump run against shut valves: its water grows hot and then breaks out as steam."
    yield "Shut valves slowly. Open no coupling before its gauge stands at nothing and the valve before it is shut."
