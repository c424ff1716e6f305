"""How a bolt is tightened: the torque, and the range of preload that friction leaves."""

from __future__ import annotations

from dataclasses import dataclass

from tunwright.build.mounting import BoltSet
from tunwright.build.mounting_sense import hole
from tunwright.handbook import bolt_torque
from tunwright.handbook.bolt import proof_load
from tunwright.tables.bolts import BoltClass, BoltSize, Friction, bolt_classes, bolt_friction, bolt_sizes
from tunwright.tables.read import shop_value


@dataclass(frozen=True)
class Tightening:
    """One bolt of a set, tightened with a torque wrench.

    size, grade, friction: rows of the tables
    torque: of the last pass, on whole steps of the wrench [N m]
    first: of the first pass [N m]
    most: preload at the least friction [N]
    least: preload at the greatest friction [N]
    settled: the least preload after settling [N]
    proof: proof load [N]
    """

    size: BoltSize
    grade: BoltClass
    friction: Friction
    torque: float
    first: float
    most: float
    least: float
    settled: float
    proof: float


def tightening(bolts: BoltSet) -> Tightening:
    """Torque and preload of a set of bolts.

    The torque is the one at which the bolt uses the shop's share of its yield strength if friction is as low as it can
    be; with the highest friction the same torque gives less preload.

    bolts: the bolts
    """
    size, grade, friction = bolt_sizes()[bolts.size], bolt_classes()[bolts.grade], bolt_friction()[bolts.finish]
    thread = {"diameter": size.diameter, "pitch": size.pitch}
    rubs = {"rubbing_diameter": bolt_torque.bearing_diameter(face=size.face, hole=hole(bolts)), **thread}
    low = {"thread_friction": friction.least, "head_friction": friction.least}
    high = {"thread_friction": friction.most, "head_friction": friction.most}
    greatest = bolt_torque.assembly_preload(
        **thread,
        yield_strength=grade.yield_strength(size.diameter),
        thread_friction=friction.least,
        utilisation=shop_value("bolt_yield_share"),
    )
    torque = stepped(bolt_torque.torque(preload=greatest, **low, **rubs))
    least = bolt_torque.preload(torque=torque, **high, **rubs)
    return Tightening(
        size,
        grade,
        friction,
        torque,
        stepped(shop_value("first_pass") * torque),
        bolt_torque.preload(torque=torque, **low, **rubs),
        least,
        (1 - shop_value("preload_loss")) * least,
        proof_load(area=size.stress_area, proof_stress=grade.proof_stress(size.diameter)),
    )


def stepped(torque: float) -> float:
    """A torque on whole steps of a wrench, rounded down: 5 N m from 50 N m on, 1 N m below [N m].

    torque: [N m]
    """
    step = 5.0 if torque >= 50.0 else 1.0
    return step * (torque * (1 + 1e-12) // step)
