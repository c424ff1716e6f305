"""Jets: how hard they push back, how far they reach, and what keeps the vehicle from being pushed over."""

from __future__ import annotations

import math
from dataclasses import dataclass

from tunwright.build.pipework import Spray
from tunwright.handbook import nozzle
from tunwright.handbook.gravity import GRAVITY
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing
from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck

USUAL = math.radians(30.0)
"""Angle of a jet over the horizontal where none is stated [rad]: with air it reaches about as far as at any."""

_POSSIBLE = 1.005  # a flow this much over what the bore passes is rounding, not a slip [-]


@dataclass(frozen=True, eq=False)
class Jet:
    """One jet of a spray at a pressure.

    spray: the monitor or hose reel
    pressure: before its nozzle [Pa]
    flow: of each, where several are alike [m3/s]
    speed: of the water [m/s]
    reaction: force it pushes back with [N]
    angle: over the horizontal [rad]
    above: height of the nozzle over the ground [m]
    share: what the air leaves of its distance [-]
    reach: distance along level ground, with that share [m]
    free: the same without air, which no jet gets beyond [m]
    top: height over the ground it rises to at most, without air [m]
    """

    spray: Spray
    pressure: float
    flow: float
    speed: float
    reaction: float
    angle: float
    above: float
    share: float
    reach: float
    free: float
    top: float


def is_jet(spray: Spray) -> bool:
    """Whether it throws a jet.

    spray: the spray
    """
    return spray.kind in ("monitor", "hose reel")


def holder(spray: Spray) -> str:
    """What holds a jet: as stated, else the mount of a monitor and one person at a hose reel.

    spray: the monitor or hose reel
    """
    return spray.held or ("mount" if spray.kind == "monitor" else "one person")


def too_much(spray: Spray, density: float) -> float | None:
    """What its bore passes at most at the stated pressure [m3/s], where the stated flow is more; else None.

    spray: the monitor or hose reel
    density: of the water [kg/m3]
    """
    if spray.bore is None:
        return None
    at = {"pressure": float(spray.pressure), "density": density}
    most = nozzle.flow(diameter=float(spray.bore), coefficient=1.0, **at)
    return most if float(spray.flow) > _POSSIBLE * most else None


def jet_at(plumbing: Plumbing, spray: Spray, pressure: float, angle: float | None = None) -> Jet:
    """A jet at a pressure.

    Without a bore it pushes back with the momentum of its flow and flies like one out of a bore that just passes it.

    plumbing: the pipework
    spray: the monitor or hose reel
    pressure: before its nozzle [Pa]
    angle: over the horizontal [rad]; as stated, else the usual one, where left out
    """
    water = {"pressure": pressure, "density": plumbing.liquid.density}
    flow = float(spray.flow) * math.sqrt(pressure / float(spray.pressure))
    reaction = nozzle.fog_reaction(flow=flow, **water)
    if spray.bore is not None:  # more than the momentum of its flow unless flow and bore do not fit together
        reaction = max(reaction, nozzle.reaction(diameter=float(spray.bore), pressure=pressure))
    stated = USUAL if spray.angle is None else float(spray.angle)
    way = {"angle": stated if angle is None else angle, "above": max(0.0, plumbing.height(spray.on))}
    share = nozzle.air_share(**water, diameter=bore(plumbing, spray), halved_at=shop_value("jet_air"))
    free = nozzle.reach(**water, **way, allowance=1.0)
    return Jet(
        spray, pressure, flow, math.sqrt(2 * pressure / plumbing.liquid.density), reaction, **way, share=share,
        reach=share * free.distance, free=free.distance, top=free.height,
    )  # fmt: skip


def bore(plumbing: Plumbing, spray: Spray) -> float:
    """Bore of a jet's nozzle [m]: as stated, else the one that just passes its flow at its pressure.

    plumbing: the pipework
    spray: the monitor or hose reel
    """
    if spray.bore is not None:
        return float(spray.bore)
    return math.sqrt(4 * float(spray.flow) / (math.pi * math.sqrt(2 * float(spray.pressure) / plumbing.liquid.density)))


def jet_in(state: DutyState, spray: Spray) -> Jet | None:
    """A jet in a duty at a filling, None where it does not work.

    A valve of its own that is part open takes its pressure off; what is left is told by the flow.

    state: the duty at a filling
    spray: the monitor or hose reel
    """
    flow = state.to_sprays.get(spray.name)
    if flow is None:
        return None
    return jet_at(state.plumbing, spray, float(spray.pressure) * (flow / (spray.count * float(spray.flow))) ** 2)


@dataclass(frozen=True)
class Righting:
    """What keeps the empty vehicle on its wheels.

    mass: of the vehicle, tank dry and nobody aboard [kg]
    track: narrowest track [m]
    off: its centre of gravity off the middle [m]
    moment: weight times what is left of half the track [N m]
    """

    mass: float
    track: float
    off: float

    @property
    def moment(self) -> float:
        """Weight times half the track less what its centre of gravity is off the middle [N m]."""
        return self.mass * GRAVITY * (0.5 * self.track - self.off)


def righting(truck: Truck) -> Righting | tuple[str, ...]:
    """What keeps the empty vehicle on its wheels; paths of what is missing for it.

    truck: the truck
    """
    tracks = {f"chassis.axle[{i + 1}].track": axle.track for i, axle in enumerate(truck.axles.axle)}
    missing = tuple(path for path, track in tracks.items() if track is None)
    dry = LoadState("even", 0.0, (0.0,) * len(truck.solid.compartments), crew=False)
    if missing:
        return missing
    table, narrowest = truck.loading.table([dry]), min(float(track or 0.0) for track in tracks.values())
    return Righting(float(table.gross[0]), narrowest, abs(float(table.centre[0, 1])))
