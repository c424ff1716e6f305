"""The emergency stop as a list: what is shut one after the other, what works it, and what is left after each step."""

from __future__ import annotations

from collections.abc import Sequence

from tunwright.build.kind import System
from tunwright.checks.pipework.emergency_chain import ENGINE, Chain, chains, resting, worked_by, worst
from tunwright.checks.pipework.worked import Worked, at
from tunwright.sheets.pipework.listing import Column, Listing, Value, said
from tunwright.sheets.pipework.lists import own_valves
from tunwright.truck.pipework.plumbing import Plumbing

_WORKS = {"key": "its stop", "itself": "itself; nobody can shut it"}


def emergency_list(plumbing: Plumbing, duties: Sequence[Worked], system: System) -> Listing:
    """The emergency chain step by step, with what is left of the worst duty and then of each; no rows without a chain.

    plumbing: the pipework
    duties: the duties
    system: "metric" or "us"
    """
    steps, plumbing = plumbing.work.emergency, resting(plumbing)
    found = chains(plumbing, [one for one in duties if one.over is not None], steps) if steps else []
    each = [worst([one for one in found if one.worked is duty]) for duty in dict.fromkeys(one.worked for one in found)]
    columns = (
        Column("step", "step"), Column("what", "what"), Column("works", "worked by"),
        Column("flow", "flow left", "flow"), Column("pressure", "pressure", "pressure"), Column("where", "at"),
        *(Column(f"flow_{one.worked.slug}", one.worked.duty.name, "flow") for one in each),
    )  # fmt: skip
    one = worst(found) if found else None
    rows = [
        [*_row(plumbing, i, name, one), *(chain.stages[i].flow for chain in each)]
        for i, name in enumerate(steps, start=1)
    ]
    return Listing("emergency", "Emergency stop", columns, rows, _foot(one, system, stated=bool(steps)))


def _row(plumbing: Plumbing, i: int, name: str, one: Chain | None) -> list[Value]:
    works = worked_by(plumbing, name)
    start: list[Value] = [i, _label(plumbing, name), _WORKS.get(works, works)]
    if one is None:
        return [*start, None, None, ""]
    stage = one.stages[i]
    return [*start, stage.flow, stage.pressure, stage.where]


def _label(plumbing: Plumbing, name: str) -> str:
    """What is done, with what a valve is for."""
    if name == ENGINE:
        return "stop the engine"
    purposes = {one.name: one.purpose for one in plumbing.work.valve}
    serves = {one.valve: one.name for one in plumbing.work.spray}
    purpose = serves.get(name) if name in own_valves(plumbing) else purposes.get(name)
    return f"shut {name} ({purpose})" if purpose else f"shut {name}"


def _foot(one: Chain | None, system: System, *, stated: bool) -> str:
    if not stated:
        return "No emergency chain is stated: give the build pipework.emergency, engine and valves in their order."
    worst_of = ""
    if one is not None:
        before = said(one.stages[0].flow, "flow", system)
        worst_of = f"Reckoned for the worst duty: {at(one.worked, one.begin)}, {before} before the first step. "
    return (
        f"{worst_of}Water that stands in the pipes runs out all the same, and pressure may stay shut in. What is "
        "worked by hand is not reached while standing off. Try the whole chain before the vehicle is handed over. "
        "People first: whoever is in danger leaves, and shuts nothing."
    )
