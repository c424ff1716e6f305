"""Steps of the workings of bolts: from the tank to one bolt, from friction to preload, what a bolt bears."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from tunwright.build.shown import show_number as n
from tunwright.checks.fastening.steps import force_steps
from tunwright.checks.fastening.steps import kilonewtons as kn
from tunwright.checks.finding import Step
from tunwright.handbook.bolt_resistance import GAMMA_M2
from tunwright.tables.bolts import slip_factors
from tunwright.tables.read import shop_values
from tunwright.truck.fastening.joint import Joint, Worst
from tunwright.truck.fastening.pattern import places, wrenches
from tunwright.truck.fastening.resist import slip_gamma
from tunwright.truck.fastening.securing import Securing

GROUP = "elastic bolt group: Shigley's Mechanical Engineering Design, 9th ed., 8-12"
PIVOT = "statics of a stiff plate on a stiff web: it turns about its edge, bolts only pull"


def bolt_steps(securing: Securing, name: str, joint: Joint, worst: Worst) -> Iterator[Step]:
    """From the tank to one bolt.

    securing: the tank on its mounts
    name: of the mount
    joint: its bolts, loaded
    worst: the bolt
    """
    yield from force_steps(securing, name, worst.side, worst.words, worst.force)
    at = places(joint.bolts, joint.drop)
    (arm_x, arm_y), deep = at[worst.bolt - 1] - at.mean(axis=0), -float(at[:, 1].mean())
    spread = float(((at - at.mean(axis=0)) ** 2).sum())
    along, up = wrenches(np.array([worst.force]), worst.side, 0.0)[0, :2]
    twist, count = -deep * along, len(at)
    sizes = f"{count} bolts, their middle {n(1000 * deep)} mm below the upper flange"
    yield Step(
        "twist of the group", "force along × depth of its middle",
        f"{kn(abs(along), 2)} × {n(deep, 3)} m; {sizes}", f"{n(abs(twist) / 1000, 2)} kN m", GROUP,
    )  # fmt: skip
    turned = (0.0, 0.0) if spread == 0.0 else (-twist * arm_y / spread, twist * arm_x / spread)
    yield Step(
        "shear of the bolt", "√ of both (force / number + twist × r / Σr²)²",
        f"along {_sum(along / count, turned[0])}, up {_sum(up / count, turned[1])}; Σr² = {n(1e6 * spread)} mm²",
        kn(worst.shear, 2), GROUP,
    )  # fmt: skip
    arms = f"{kn(worst.force[1], 2)} across × {n(deep, 3)} m; along and up × {n(1000 * (joint.reach or 0.0))} mm"
    yield Step("pull of the bolt", "force out of the web and its moments", arms, kn(worst.pull, 2), PIVOT)


def _sum(one: float, other: float) -> str:
    """Two forces added, in print [N]."""
    sign = "+" if other >= 0 else "−"
    return f"{n(one / 1000, 2)} {sign} {n(abs(other) / 1000, 2)} kN"


def slip_steps(joint: Joint, worst: Worst) -> Iterator[Step]:
    """Friction against shear.

    joint: the bolts
    worst: the bolt
    """
    yield from tightening_steps(joint)
    bears = float(joint.one.slip(worst.pull))
    surface, left = slip_factors()[joint.bolts.surface], kn(joint.one.tightened.settled, 2)
    yield Step(
        "held by friction", "μ (Fp − 0.8 Ft) / γM3",
        f"{surface.value:g} ({surface.meaning}) × ({left} − 0.8 × {kn(worst.pull, 2)}) / {slip_gamma(daily=True):g}",
        kn(bears, 2), f"EN 1993-1-8, 3.9; μ: {surface.source}",
    )  # fmt: skip
    yield Step("used of it", "shear / held", f"{kn(worst.shear, 2)} / {kn(bears, 2)}", f"{100 * worst.use:.0f} %")


def tightening_steps(joint: Joint) -> Iterator[Step]:
    """From friction to torque and preload.

    joint: the bolts
    """
    how, loss, share = joint.one.tightened, shop_values()["preload_loss"], shop_values()["bolt_yield_share"].value
    yield Step(
        "torque", "so that the bolt uses its share of yield at the least friction",
        f"{how.size.key} {how.grade.key}, μ = {how.friction.least:g}, {share:g} of yield",
        f"{n(how.torque)} N m", f"VDI 2230; μ: {how.friction.source}",
    )  # fmt: skip
    yield Step(
        "preload at that torque", "friction at its most, at its least",
        f"μ = {how.friction.most:g}, {how.friction.least:g}", f"{kn(how.least)}, {kn(how.most)}", "VDI 2230",
    )  # fmt: skip
    values = f"(1 − {loss.value:g}) × {kn(how.least)}"
    yield Step("least preload, settled", "(1 − loss) × Fp", values, kn(how.settled), loss.source)


def strength_steps(joint: Joint, worst: Worst) -> Iterator[Step]:
    """Shear, pull and both together.

    joint: the bolts
    worst: the bolt
    """
    how, bears, pulls = joint.one.tightened, joint.one.shear or np.nan, joint.one.tension or np.nan
    area, fub = f"As = {n(1e6 * how.size.stress_area, 1)} mm²", f"fub = {n(how.grade.nominal_tensile / 1e6)} MPa"
    factor = bears * GAMMA_M2 / (how.grade.nominal_tensile * how.size.stress_area)
    source = "EN 1993-1-8, Table 3.4"
    values = f"αv = {factor:g}, {fub}, {area}"
    yield Step("shear resistance", "αv fub As / γM2, thread in the plane", values, kn(bears, 2), source)
    yield Step("tension resistance", "0.9 fub As / γM2", f"{fub}, {area}", kn(pulls, 2), source)
    shear, pull = worst.shear / bears, worst.pull / pulls
    yield Step("shear alone", "Fv / Fv,Rd", f"{kn(worst.shear, 2)} / {kn(bears, 2)}", f"{100 * shear:.0f} %", source)
    yield Step("pull alone", "Ft / Ft,Rd", f"{kn(worst.pull, 2)} / {kn(pulls, 2)}", f"{100 * pull:.0f} %", source)
    yield Step(
        "both together", "Fv / Fv,Rd + Ft / (1.4 Ft,Rd)", f"{shear:.3f} + {pull:.3f} / 1.4",
        f"{100 * (shear + pull / 1.4):.0f} %", source,
    )  # fmt: skip
