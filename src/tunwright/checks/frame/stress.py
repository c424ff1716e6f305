"""Stress along the rails and the subframe against a share of yield."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from tunwright.build.shown import show_number as n
from tunwright.build.typed import listed
from tunwright.checks.finding import Finding, Rule, Step, verdict
from tunwright.handbook.beams import CHI, FREEDOMS, RX, RY, RZ, U, V, W
from tunwright.tables.read import materials, shop_value, shop_values
from tunwright.truck.ladder.ladder import Ladder, Trial
from tunwright.truck.ladder.stress import Stresses, Worst
from tunwright.truck.ladder.structure import SIDES

Floats = NDArray[np.float64]
MPA = 1e6
BEAMS = "Euler-Bernoulli bending and Vlasov torsion of the ladder frame"


def stress_findings(free: Stresses, held: Stresses, assumed: Sequence[str]) -> Iterator[Finding]:
    """Findings about the stress in rails and subframe.

    free: stresses with the rails free to warp
    held: stresses with warping held at the cross-members
    assumed: paths of the assumed inputs
    """
    build = free.ladder.truck.build
    limit = build.chassis.frame.yield_strength
    own = None if limit is None else float(limit)
    missing = () if limit is not None else ("chassis.frame.yield_strength",)
    rests = tuple(path for path in assumed if path.startswith(("chassis.frame", "chassis.axle")))
    for static, key, question in (
        (True, "frame-rail-rest", "Do the rails bear the vehicle at rest?"),
        (False, "frame-rail", f"Do the rails bear {_tried(free)}?"),
    ):
        yield _finding(key, question, free, held, "rail", static, own, missing, rests)
    if build.subframe is not None:
        strength = materials()[build.subframe.material].yield_strength(float(build.subframe.thickness))
        question = f"Does the subframe bear {_tried(free)}?"
        yield _finding("frame-subframe", question, free, held, "subframe", None, strength, (), rests)
    yield _sag(free, rests)


def _tried(free: Stresses) -> str:
    """What is tried besides standing, in words."""
    kinds = {trial.case.kind for trial in free.ladder.trials}
    words = {"bump": "rough ground", "braking": "braking", "cornering": "curves", "lift": "twist"}
    return listed([word for kind, word in words.items() if kind in kinds], "and")


def _finding(
    key: str,
    question: str,
    free: Stresses,
    held: Stresses,
    member: str,
    static: bool | None,  # noqa: FBT001  # one of three
    strength: float | None,
    missing: tuple[str, ...],
    assumed: tuple[str, ...],
) -> Finding:
    name = "frame_static_share" if static else "frame_dynamic_share"
    share = shop_value(name)
    one, other = free.worst(member, static=static), held.worst(member, static=static)
    worst, rest, words = (one, other, "held") if one.value >= other.value else (other, one, "free")
    limit = None if strength is None else share * strength / MPA
    state = f"{worst.stretch.member} at {worst.x:.2f} m, {worst.trial.state(worst.fill)}"
    note = (
        f"With the rails' warping {words} at the cross-members it is {n(rest.value / MPA)} MPa: the truth lies between."
    )
    return Finding(
        key,
        question,
        state,
        worst.value / MPA,
        limit,
        "MPa",
        "at_most",
        verdict(worst.value / MPA, limit, "at_most"),
        Rule(f"{100 * share:.0f} % of yield", mark=shop_values()[name].mark),
        working=tuple(_steps(worst, strength, share)),
        assumed=assumed,
        missing=missing,
        note=note,
    )


def _steps(worst: Worst, strength: float | None, share: float) -> Iterator[Step]:
    thin, f = worst.stretch.walls.thin, worst.forces
    yield Step(
        "section there",
        "thin walls",
        f"{worst.stretch.member}, from {worst.stretch.start:.2f} to {worst.stretch.end:.2f} m",
        f"A {n(thin.area * 1e6)} mm², Iy {n(thin.Iy * 1e8)} cm⁴, Iz {n(thin.Iz * 1e8)} cm⁴, Iw {n(thin.Iw * 1e12)} cm⁶",
    )
    yield Step(
        "forces there",
        "frame model",
        worst.trial.case.words,
        f"N {n(f[U] / 1e3, 1)} kN, Vz {n(f[W] / 1e3, 1)} kN, Vy {n(f[V] / 1e3, 1)} kN, My {n(f[RY] / 1e3, 2)} kN m, "
        f"Mz {n(f[RZ] / 1e3, 2)} kN m, T {n(f[RX], 0)} N m, B {n(f[CHI], 0)} N m²",
        BEAMS,
    )
    parts = {
        "N / A": thin.normal_stress(N=f[U]),
        "My": thin.normal_stress(My=f[RY]),
        "Mz": thin.normal_stress(Mz=f[RZ]),
        "B w / Iw": thin.normal_stress(B=-f[CHI]),
    }
    place = int(np.abs(sum(parts.values(), np.zeros(1))).argmax())
    told = ", ".join(f"{name} {n(float(part[place]) / MPA, 1)}" for name, part in parts.items())
    yield Step("along the rail", "N / A + My z / Iy − Mz y / Iz + B w / Iw", told, f"{n(worst.normal / MPA, 1)} MPa")
    yield Step("with shear", "√(σ² + 3 τ²), worst fibre", "", f"{n(worst.value / MPA, 1)} MPa", "von Mises")
    if strength is not None:
        bound = share * strength / MPA
        yield Step(
            "against the limit",
            "stress / (share of yield)",
            f"{n(worst.value / MPA, 1)} / ({n(share, 3)} × {n(strength / MPA)})",
            f"{100 * worst.value / MPA / bound:.1f} %",
        )


def _sag(free: Stresses, assumed: tuple[str, ...]) -> Finding:
    """How far the rails sag between the outer axles at rest, the one that sags more."""
    ladder = free.ladder
    trial = next(one for one in ladder.trials if one.case.key == "standing")
    axles = ladder.truck.axles.places
    base = float(axles[-1] - axles[0])
    value, side, x, fill = max((_deepest(ladder, trial, side) for side in SIDES), key=lambda found: found[0])
    limit = base / shop_value("frame_sag")
    return Finding(
        "frame-sag",
        "How far do the rails sag between the axles?",
        f"{side} rail at {x:.2f} m, {trial.state(fill)}",
        value,
        limit,
        "m",
        "at_most",
        verdict(value, limit, "at_most") if math.isfinite(value) else "open",
        Rule(
            f"1/{shop_value('frame_sag'):.0f} of the distance between the outer axles",
            mark=shop_values()["frame_sag"].mark,
        ),
        assumed=assumed,
    )


def _deepest(ladder: Ladder, trial: Trial, side: str) -> tuple[float, str, float, int]:
    """The greatest sag of a rail below the line between its places over the outer axles [m]; side, place and fill."""
    x, axles = ladder.structure.rails, ladder.truck.axles.places
    rows = [FREEDOMS * ladder.frame.number[ladder.structure.rail_node(side, float(place))] + W for place in x]
    z = ladder.displacements(trial)[rows]
    first, last = (_at(x, z, float(place)) for place in (axles[0], axles[-1]))
    chord = first + ((x - axles[0]) / (axles[-1] - axles[0]))[:, None] * (last - first)
    inside = (x >= axles[0]) & (x <= axles[-1])
    deep = (chord - z)[inside]
    place, fill = (int(v) for v in np.unravel_index(int(deep.argmax()), deep.shape))
    return float(deep[place, fill]), side, float(x[inside][place]), fill


def _at(x: Floats, z: Floats, place: float) -> Floats:
    """Height of the rail at a place, by the line between nodes (fills,) [m]."""
    i = int(np.clip(np.searchsorted(x, place) - 1, 0, len(x) - 2))
    share = (place - x[i]) / (x[i + 1] - x[i])
    found: Floats = z[i] + share * (z[i + 1] - z[i])
    return found
