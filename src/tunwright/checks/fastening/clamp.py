"""Clamps round rail and subframe: friction, pull of the legs, preload and proof load."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.fields import slug
from tunwright.build.mounting import Mount
from tunwright.build.shown import show_number as n
from tunwright.checks.fastening.bolts import BEYOND
from tunwright.checks.fastening.steps import force_steps
from tunwright.checks.fastening.steps import kilonewtons as kn
from tunwright.checks.finding import Finding, Rule, Step, not_known, verdict
from tunwright.tables.bolts import slip_factors
from tunwright.truck.fastening.clamp import Clamp
from tunwright.truck.fastening.joint import Worst
from tunwright.truck.fastening.resist import slip_gamma
from tunwright.truck.fastening.securing import Securing

FRICTION = Rule("statics of friction; partial factor of EN 1993-1-8, 2.2", mark="derived")
PULL = Rule("EN 1993-1-8:2005", "Table 3.4", mark="memory")
PROOF = Rule("ISO 898-1:2013, Table 5; a leg tightened and pulled stays within its proof load", mark="memory")


class _Asked:
    """What the findings of one mount's clamps share."""

    def __init__(self, mount: Mount, clamp: Clamp, securing: Securing, rests: tuple[str, ...], note: str) -> None:
        self.mount, self.clamp, self.securing, self.rests, self.note = mount, clamp, securing, rests, note

    def key(self, word: str) -> str:
        return f"fastening-{word}-{slug(self.mount.name)}"

    def found(self, word: str, question: str, rule: Rule, worst: Worst, *steps: Step) -> Finding:
        forced = force_steps(self.securing, self.mount.name, worst.side, worst.words, worst.force)
        return Finding(
            self.key(word), question, f"{worst.side} side, {worst.words}", worst.use, 1.0, "share", "at_most",
            verdict(worst.use, 1.0, "at_most"), rule, (*forced, *steps), assumed=self.rests, note=self.note,
        )  # fmt: skip


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
    ask = _Asked(mount, clamp, securing, rests, note)
    yield _slip(ask)
    yield _pull(ask)
    yield _preload(ask)


def _slip(ask: _Asked) -> Finding:
    clamp, worst = ask.clamp, ask.clamp.slip()
    how, surface, up = clamp.one.tightened, slip_factors()[clamp.bolts.surface], worst.force[2]
    hold, lift, weight = clamp.hold(up, daily=worst.daily), max(up, 0.0), max(-up, 0.0)
    return ask.found(
        "slip", f"Does friction hold the clamps of {ask.mount.name}, in the hard cases too?", FRICTION, worst,
        Step("pressed together", "legs × least preload, settled", f"{clamp.legs} × {kn(how.settled)}",
             kn(clamp.pressed)),
        Step("held by friction", "μ (pressed + weight − lift) / γM3",
             f"{surface.value:g} ({surface.meaning}) × ({kn(clamp.pressed)} + {kn(weight)} − {kn(lift)}) / "
             f"{slip_gamma(daily=worst.daily):g}", kn(hold), f"EN 1993-1-8, 2.2; μ: {surface.source}"),
        Step("used of it", "level force / held", f"{kn(worst.shear)} / {kn(hold)}", f"{100 * worst.use:.0f} %"),
    )  # fmt: skip


def _pull(ask: _Asked) -> Finding:
    question, clamp, worst = f"Do the legs of {ask.mount.name} bear the pull?", ask.clamp, ask.clamp.strength()
    if worst is None or clamp.one.tension is None:
        return not_known(ask.key("bolts"), question, PULL, "share", (BEYOND,), limit=1.0)
    lift = max(worst.force[2], 0.0)
    return ask.found(
        "bolts", question, PULL, worst,
        Step("pull of a leg", "lift / legs", f"{kn(lift)} / {clamp.legs}", kn(worst.pull, 2)),
        Step("used of its resistance", "Ft / (0.9 fub As / γM2)", f"{kn(worst.pull, 2)} / {kn(clamp.one.tension)}",
             f"{100 * worst.use:.0f} %", "EN 1993-1-8, Table 3.4"),
    )  # fmt: skip


def _preload(ask: _Asked) -> Finding:
    how, worst = ask.clamp.one.tightened, ask.clamp.proof()
    return ask.found(
        "preload", f"Are the legs of {ask.mount.name} within their proof load, tightened and pulled?", PROOF, worst,
        Step("torque", "friction at its least", f"{how.size.key} {how.grade.key}, μ = {how.friction.least:g}",
             f"{n(how.torque)} N m", f"VDI 2230; μ: {how.friction.source}"),
        Step("used of the proof load", "(most preload + pull) / proof load",
             f"({kn(how.most)} + {kn(worst.pull, 2)}) / {kn(how.proof)}", f"{100 * worst.use:.0f} %", "ISO 898-1"),
    )  # fmt: skip
