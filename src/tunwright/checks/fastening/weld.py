"""The welds of a bracket's plate by both methods of EN 1993-1-8."""

from __future__ import annotations

from tunwright.build.fields import slug
from tunwright.build.mounting import Mount, Weld
from tunwright.build.shown import show_number as n
from tunwright.checks.fastening.steps import force_steps
from tunwright.checks.finding import Finding, Rule, Step, not_known, verdict
from tunwright.handbook.fillet_weld import CORRELATION, GAMMA_M2
from tunwright.tables.read import materials
from tunwright.truck.fastening import weld
from tunwright.truck.fastening.securing import Securing
from tunwright.truck.fastening.sides import Side

RULE = Rule("EN 1993-1-8:2005", "4.5.3.2 directional method; 4.11 long laps", mark="memory")


def weld_finding(
    mount: Mount, one: Weld, index: int, sides: tuple[Side, ...], securing: Securing, rests: tuple[str, ...], note: str
) -> Finding:
    """The finding about the welds of a mount.

    mount: the mount
    one: its weld
    index: its position, from 0
    sides: forces on both sides
    securing: the tank on its mounts
    rests: assumed inputs it rests on
    note: a word on the forces
    """
    key, question = f"fastening-weld-{slug(mount.name)}", f"Do the welds of {mount.name} bear the force on them?"
    height = weld.rise(securing.truck.build, one)
    if height is None:
        return not_known(key, question, RULE, "share", (f"mount[{index + 1}].weld.rise",), limit=1.0)
    thick = weld.plate(mount)
    found = weld.worst(one, thick, sides, height)
    state = f"{found.side} side, {found.words}"
    forced = force_steps(securing, mount.name, found.side, found.words, found.force)
    steps = (*forced, *_steps(one, thick, height, found))
    held = verdict(found.directional, 1.0, "at_most")
    return Finding(
        key, question, state, found.directional, 1.0, "share", "at_most", held, RULE, steps, assumed=rests, note=note
    )


def _steps(one: Weld, thick: float, height: float, found: weld.WeldWorst) -> tuple[Step, ...]:
    area, steel = float(weld.group(one, height).area.sum()), materials()[one.steel]
    run, throat = f"{n(1000 * float(one.length))}", f"{n(1000 * float(one.throat), 1)}"
    fu = f"fu = {n(steel.tensile_strength(thick) / 1e6)} MPa ({one.steel})"
    arms = f"× {n(1000 * height)} mm; welds {n(1000 * float(one.apart))} mm apart, {one.way}"
    along, across, _ = (abs(f) * height / 1000 for f in found.force)
    lines = "welds as lines: Shigley's Mechanical Engineering Design, 9th ed., 9-3 to 9-5"
    safe = "EN 1993-1-8, 4.5.3.3: on the safe side, either method will do"
    over = " / βLw" if weld.lap_factor(one) < 1.0 else ""
    return (
        Step("throat area", "2 (l − 2 a) a", f"2 × ({run} − 2 × {throat}) × {throat} mm", f"{n(1e6 * area)} mm²",
             "EN 1993-1-8, 4.5.1"),
        Step("moments about the welds' middle", "force along and across × rise", arms,
             f"{n(along, 2)}, {n(across, 2)} kN m", lines),
        *_long_lap(one),
        Step("directional method", f"√(σ² + 3 (τ² + τ²)) βw γM2 / fu{over}, σ γM2 / (0.9 fu){over}",
             f"{fu}, βw = {CORRELATION[one.steel]:g}, γM2 = {GAMMA_M2:g}", f"{100 * found.directional:.0f} %",
             f"EN 1993-1-8, 4.5.3.2; fu: {steel.source}"),
        Step("simplified method", f"Fw / (a fu / (√3 βw γM2)){over}",
             f"{n(weld.strength(one, thick) / 1e6, 1)} MPa on the throat", f"{100 * found.simplified:.0f} %", safe),
    )  # fmt: skip


def _long_lap(one: Weld) -> tuple[Step, ...]:
    """What is left where the lap is longer than 150 throats: the ends of a long weld carry more than its middle."""
    left = weld.lap_factor(one)
    if left >= 1.0:
        return ()
    values = f"1.2 − 0.2 × {n(1000 * weld.lap(one))} / (150 × {n(1000 * float(one.throat), 1)})"
    source = "EN 1993-1-8, 4.11 (from memory), the longer way of the lap"
    return (Step("long lap, βLw", "1.2 − 0.2 L / (150 a)", values, f"{left:.3f}", source),)
