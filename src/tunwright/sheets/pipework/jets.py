"""Jets in each duty: flow, pressure, push, how far and how high, and who holds them."""

from __future__ import annotations

from collections.abc import Sequence

from tunwright.build.kind import System
from tunwright.build.pipework import Spray
from tunwright.checks.pipework.worked import Worked
from tunwright.sheets.pipework.listing import Column, Listing, Value, said
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.jets import Jet, holder, is_jet, jet_in
from tunwright.truck.pipework.plumbing import Plumbing

_FLIGHT = (
    "Flow, push and reach are those of one jet, at the filling with the greatest pressure. Reach is free flight less "
    "what the air takes, in still air, from a good nozzle; wind, a worn nozzle and a spray pattern shorten it. "
    "Greatest height is that of free flight without air at this angle; pointed steeper it rises higher."
)
_MIND = (
    "A jet throws people over and carries current: never at people, at traffic or near power lines. Stand firm, hold "
    "or lock it before the water comes, open and shut slowly, never let go of a nozzle that runs. The practice of the "
    "local fire service and the makers' instructions come before this list."
)


def jet_list(plumbing: Plumbing, duties: Sequence[Worked], system: System) -> Listing:
    """Every monitor and hose reel in every duty it works in.

    plumbing: the pipework
    duties: the duties
    system: "metric" or "us"
    """
    columns = (
        Column("jet", "jet"), Column("duty", "duty"), Column("count", "how many"), Column("flow", "flow", "flow"),
        Column("pressure", "pressure before it", "pressure"), Column("speed", "speed", "velocity"),
        Column("push", "push", "force"), Column("reach", "reach", "head"), Column("top", "greatest height", "head"),
        Column("held", "held by"),
    )  # fmt: skip
    rows = [
        _row(jet, one)
        for spray in plumbing.work.spray
        if is_jet(spray)
        for one in duties
        if (jet := max(_jets(one, spray), key=lambda each: each.pressure, default=None)) is not None
    ]
    one, two = (said(shop_value(key), "force", system) for key in ("jet_one_person", "jet_two_persons"))
    hold = f"One trained person holds up to {one}, two up to {two}."
    return Listing("jets", "Jets", columns, rows, f"{_FLIGHT} {hold} {_MIND}")


def _jets(one: Worked, spray: Spray) -> list[Jet]:
    """The jet at every filling of a duty in which it works."""
    return [jet for state in one.states if (jet := jet_in(state, spray)) is not None]


def _row(jet: Jet, one: Worked) -> list[Value]:
    spray = jet.spray
    held = {"mount": "its mount"}.get(holder(spray), holder(spray))
    found: list[Value] = [spray.name, one.duty.name, spray.count, jet.flow, jet.pressure, jet.speed]
    return [*found, jet.reaction, jet.reach, jet.top, held]
