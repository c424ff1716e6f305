"""Clamps round rail and subframe: friction, pull of the legs, preload and proof load."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.fields import slug
from tunwright.build.mounting import Mount
from tunwright.build.shown import show_number as n
from tunwright.checks.fastening_steps import force_steps
from tunwright.checks.fastening_steps import kilonewtons as kn
from tunwright.checks.finding import Finding, Rule, Step, verdict
from tunwright.tables.bolts import slip_factors
from tunwright.truck.fastening.clamp import Clamp
from tunwright.truck.fastening.joint import Worst
from tunwright.truck.fastening.resist import SLIP_GAMMA
from tunwright.truck.fastening.securing import Securing

FRICTION = Rule("statics of friction; partial factor of EN 1993-1-8, 2.2", mark="derived")
PULL = Rule("EN 1993-1-8:2005", "Table 3.4", mark="memory")
PROOF = Rule("ISO 898-1:2013, Table 5; a leg tightened and pulled stays within its proof load", mark="memory")


def clamp_findings(
    mount: Mount, clamp: Clamp, securing: Securing, rests: tuple[str, ...], note: str
) -> Iterator[Finding]:
    """Findings about the clamps of a mount.

    mount: the mount
    clamp: its clamps, loaded
    securing: the tank on its mounts
    rests: assumed inputs they rest on
    note: a word on the forces
    """
    how, name = clamp.one.tightened, mount.name
    surface, slips, pulls, proof = slip_factors()[clamp.bolts.surface], clamp.slip(), clamp.strength(), clamp.proof()
    hold = clamp.hold(slips.force[2])
    asked: tuple[tuple[str, str, Rule, Worst, tuple[Step, ...]], ...] = (
        ("slip", f"Does friction hold the clamps of {name}, in the hard cases too?", FRICTION, slips, (
            Step("pressed together", "legs × least preload, settled", f"{clamp.legs} × {kn(how.settled)}",
                 kn(clamp.pressed)),
            Step("held by friction", "μ (pressed − lift) / γM3",
                 f"{surface.value:g} ({surface.meaning}), γM3 = {SLIP_GAMMA:g}", kn(hold), surface.source),
            Step("used of it", "level force / held", f"{kn(slips.shear)} / {kn(hold)}", f"{100 * slips.use:.0f} %"),
        )),
        ("bolts", f"Do the legs of {name} bear the pull?", PULL, pulls, (
            Step("pull of a leg", "lift / legs", f"{kn(max(pulls.force[2], 0.0))} / {clamp.legs}", kn(pulls.pull, 2)),
            Step("used of its resistance", "Ft / (0.9 fub As / γM2)",
                 f"{kn(pulls.pull, 2)} / {kn(clamp.one.tension)}", f"{100 * pulls.use:.0f} %",
                 "EN 1993-1-8, Table 3.4"),
        )),
        ("preload", f"Are the legs of {name} within their proof load, tightened and pulled?", PROOF, proof, (
            Step("torque", "friction at its least", f"{how.size.key} {how.grade.key}, μ = {how.friction.least:g}",
                 f"{n(how.torque)} N m", f"VDI 2230; μ: {how.friction.source}"),
            Step("used of the proof load", "(most preload + pull) / proof load",
                 f"({kn(how.most)} + {kn(proof.pull, 2)}) / {kn(how.proof)}", f"{100 * proof.use:.0f} %", "ISO 898-1"),
        )),
    )  # fmt: skip
    for word, question, rule, worst, steps in asked:
        forced = force_steps(securing, name, worst.side, worst.words, worst.force)
        yield Finding(
            f"fastening-{word}-{slug(name)}", question, f"{worst.side} side, {worst.words}", worst.use, 1.0, "share",
            "at_most", verdict(worst.use, 1.0, "at_most"), rule, (*forced, *steps), assumed=rests, note=note,
        )  # fmt: skip
