"""The bolts of a mount in the rail's web: slip, shear and pull, bearing in plate and rail, preload and proof load."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tunwright.build.fields import slug
from tunwright.build.mounting import Mount
from tunwright.build.mounting_sense import hole
from tunwright.build.shown import show_number as n
from tunwright.checks.fastening.steps import kilonewtons as kn
from tunwright.checks.fastening.working import bolt_steps, slip_steps, strength_steps, tightening_steps
from tunwright.checks.finding import Finding, Rule, Step, not_known, verdict
from tunwright.handbook.bolt_resistance import ONE_ROW
from tunwright.tables.read import shop_values
from tunwright.truck.fastening.joint import Joint, Worst
from tunwright.truck.fastening.securing import Securing

EN = "EN 1993-1-8:2005"
SLIP = Rule(EN, "3.4.1, category B; 3.9", mark="memory")
STRENGTH = Rule(EN, "3.6, Table 3.4", mark="memory")
BEARING = Rule(EN, "3.6, Tables 3.3 and 3.4, 3.6.1 (10)", mark="memory")
PROOF = Rule("ISO 898-1:2013, Table 5; a bolt tightened and pulled stays within its proof load", mark="memory")
FLAT = "Prying and the bending of plate or bracket are not checked here."
BEYOND = "another rule for class 12.9: EN 1993-1-8 ends at 10.9"


class _Asked:
    """What the findings of one joint share."""

    def __init__(self, mount: Mount, joint: Joint, securing: Securing, rests: tuple[str, ...], note: str) -> None:
        self.mount, self.joint, self.securing, self.rests, self.note = mount, joint, securing, rests, note

    def key(self, word: str) -> str:
        return f"fastening-{word}-{slug(self.mount.name)}"

    def found(
        self, word: str, question: str, rule: Rule, worst: Worst, steps: Iterable[Step], note: str = ""
    ) -> Finding:
        state = f"{worst.side} side, bolt {worst.bolt}, {worst.words}"
        notes = " ".join(one for one in (note, self.note) if one)
        working = (*bolt_steps(self.securing, self.mount.name, self.joint, worst), *steps)
        held = verdict(worst.use, 1.0, "at_most")
        return Finding(
            self.key(word), question, state, worst.use, 1.0, "share", "at_most", held, rule, working,
            assumed=self.rests, note=notes,
        )  # fmt: skip


def bolt_findings(
    mount: Mount, index: int, joint: Joint, securing: Securing, rests: tuple[str, ...], note: str
) -> Iterator[Finding]:
    """Findings about the bolts of a mount.

    mount: the mount
    index: its position, from 0
    joint: its bolts, loaded
    securing: the tank on its mounts
    rests: assumed inputs they rest on
    note: a word on the forces
    """
    ask, place = _Asked(mount, joint, securing, rests, note), f"mount[{index + 1}]."
    if joint.missing:
        missing = tuple(one if one.startswith("chassis") else place + one for one in joint.missing)
        yield not_known(ask.key("bolts"), _bears(mount), STRENGTH, "share", missing, limit=1.0)
        return
    yield _slip(ask)
    yield _strength(ask)
    yield _plate(ask, place)
    yield _rail(ask)
    yield _preload(ask)


def _bears(mount: Mount) -> str:
    return f"Do the bolts of {mount.name} bear shear and pull?"


def _slip(ask: _Asked) -> Finding:
    joint, worst = ask.joint, ask.joint.slip()
    question = f"Do the bolts of {ask.mount.name} hold by friction in daily use?"
    hard = joint.slip_when_hard()
    note = f"In the hard cases friction alone is used to {100 * hard:.0f} %"
    note += ": the bolts slip and then bear in their holes." if hard > 1.0 else "."
    return ask.found("slip", question, SLIP, worst, slip_steps(joint, worst), note)


def _strength(ask: _Asked) -> Finding:
    worst = ask.joint.strength()
    if worst is None:
        return not_known(ask.key("bolts"), _bears(ask.mount), STRENGTH, "share", (BEYOND,), limit=1.0)
    return ask.found("bolts", _bears(ask.mount), STRENGTH, worst, strength_steps(ask.joint, worst), FLAT)


def _plate(ask: _Asked, place: str) -> Finding:
    question = f"Does the plate of {ask.mount.name} bear its bolts at the holes?"
    bolts = ask.joint.bolts
    if bolts.plate_strength is None:
        missing = (f"{place}bolts.plate_strength",)
        return not_known(ask.key("plate"), question, BEARING, "share", missing, limit=1.0)
    return _bearing(ask, "plate", question, float(bolts.plate), float(bolts.plate_strength), edges=True, note=FLAT)


def _rail(ask: _Asked) -> Finding:
    question = f"Does the rail's web bear the bolts of {ask.mount.name} at the holes?"
    web = ask.joint.web
    if web.thickness is None or web.tensile is None:
        known = (("rail_thickness", web.thickness), ("yield_strength", web.tensile))
        missing = tuple(f"chassis.frame.{name}" for name, value in known if value is None)
        return not_known(ask.key("rail"), question, BEARING, "share", missing, limit=1.0)
    estimate = shop_values()["tensile_over_yield"]
    note = f"Tensile strength of the rail estimated as {estimate.value:g} times its yield strength: {estimate.source}."
    return _bearing(ask, "rail", question, web.thickness, web.tensile, edges=False, note=note)


def _bearing(
    ask: _Asked, word: str, question: str, thick: float, tensile: float, *, edges: bool, note: str = ""
) -> Finding:
    joint, worst = ask.joint, ask.joint.bearing(thick, tensile, edges=edges)
    bears, holds = joint.one.bearing(thick, tensile, edges=edges), joint.one.punching(thick, tensile)
    size, source = joint.one.tightened.size, "EN 1993-1-8, Tables 3.3 and 3.4"
    values = f"d = {size.key[1:]} mm, d0 = {n(1000 * hole(joint.bolts), 1)} mm, t = {n(1000 * thick, 1)} mm"
    steel = f"fu = {n(tensile / 1e6)} MPa"
    formula = "k1 αb fu d t / γM2, worse direction"
    if 1 in (joint.bolts.columns, joint.bolts.rows):
        formula += f"; one bolt row: at most {ONE_ROW:g} fu d t / γM2"
    steps = (
        Step("bearing resistance", formula, f"{values}, {steel}", kn(bears), f"{source}, 3.6.1 (10)"),
        Step("punching resistance", "0.6 π dm t fu / γM2", f"t = {n(1000 * thick, 1)} mm, {steel}", kn(holds), source),
        Step(
            "used of it", "the greater of shear / bearing, pull / punching",
            f"{kn(worst.shear, 2)} / {kn(bears)}, {kn(worst.pull, 2)} / {kn(holds)}", f"{100 * worst.use:.0f} %",
        ),
    )  # fmt: skip
    return ask.found(word, question, BEARING, worst, steps, note)


def _preload(ask: _Asked) -> Finding:
    question = f"Are the bolts of {ask.mount.name} within their proof load, tightened and pulled?"
    worst, how, share = ask.joint.proof(), ask.joint.one.tightened, ask.joint.share
    if worst is None or share is None:
        return not_known(ask.key("preload"), question, PROOF, "share", ("chassis.frame.rail_thickness",), limit=1.0)
    steps = (
        *tightening_steps(ask.joint),
        Step("part of the pull the bolt feels", "kb / (kb + km)", f"grip {n(1000 * (ask.joint.grip or 0.0), 1)} mm",
             f"{share:.2f}", "Shigley's Mechanical Engineering Design, 9th ed., 8-7"),
        Step("proof load", "As Sp", f"{how.size.key} {how.grade.key}", kn(how.proof), "ISO 898-1"),
        Step("used of it", "(most preload + share × pull) / proof load; pull / proof load once the joint is open",
             f"({kn(how.most)} + {share:.2f} × {kn(worst.pull, 2)}) / {kn(how.proof)}", f"{100 * worst.use:.0f} %"),
    )  # fmt: skip
    return ask.found("preload", question, PROOF, worst, steps)
