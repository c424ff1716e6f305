"""Remedies for fastenings: the smallest bolts, plate or weld that would hold, tried with the same forces."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import TYPE_CHECKING, get_args

from tunwright.build.fields import slug
from tunwright.build.model import Build
from tunwright.build.mounting import BoltSet, Mount, Thread, Weld
from tunwright.build.mounting_sense import bolt_pattern, hole
from tunwright.build.units import Quantity
from tunwright.checks.fastening.fastening import Fastenings, fastening_findings
from tunwright.checks.finding import TINY, Finding, Remedy
from tunwright.checks.frame.rules import rule_findings
from tunwright.handbook.bolt_resistance import LEAST_EDGE, LEAST_GAUGE
from tunwright.tables.read import shop_value
from tunwright.truck.fastening import weld
from tunwright.truck.fastening.clamp import Clamp
from tunwright.truck.fastening.joint import Joint
from tunwright.truck.fastening.pattern import to_flange
from tunwright.truck.truck import Truck

if TYPE_CHECKING:
    from tunwright.checks.assess import Assessment

_MOST_COLUMNS, _MOST_LEGS = 8, 12
_PLATES = (0.006, 0.008, 0.010, 0.012, 0.015, 0.020)
_THROATS = (0.003, 0.004, 0.005, 0.006, 0.007, 0.008)
_STEEPER = 0.7
"""Thickest throat for a plate, of its thickness: a fillet on its edge gets no larger."""


def fastening_remedy(base: Assessment, finding: Finding) -> Remedy | None:
    """The smallest change that makes a finding about fastenings hold; None where none of those tried does.

    base: the assessment
    finding: a failing finding of it
    """
    before = {f.key: f.verdict for f in base.findings}
    for words, verdicts in _tried(base, finding.key):
        after = {**before, **verdicts}
        if after.get(finding.key) in ("holds", "close"):
            breaks = tuple(k for k, v in after.items() if v == "fails" and before.get(k) != "fails")
            cures = tuple(k for k, v in after.items() if v != "fails" and before.get(k) == "fails" and k != finding.key)
            return Remedy(words, breaks, cures)
    return None


def _tried(base: Assessment, key: str) -> Iterator[tuple[str, dict[str, str]]]:
    """Changes with the verdicts after them."""
    build, fastenings = base.build, base.fastenings
    if key == "fastening-held":
        changed = _with(build, len(build.mount) - 1, kind="plate", rate=None, preload=None, travel=None)
        words = f"make {build.mount[-1].name} plates, which hold every way"
        yield words, {f.key: f.verdict for f in type(base)(changed).findings}
        return
    for i, mount in enumerate(build.mount):
        word = key.removeprefix("fastening-").removesuffix(f"-{slug(mount.name)}")
        if key == f"fastening-{word}-{slug(mount.name)}":
            for words, changed in _stronger(fastenings, i, mount, word):
                yield words, _verdicts(fastenings, changed)


def _verdicts(fastenings: Fastenings, build: Build) -> dict[str, str]:
    """Verdicts on fastenings and holes with other bolts and welds; forces stay as they are."""
    found = [*fastening_findings(Fastenings(fastenings.framework, build), ()), *rule_findings(Truck(build))]
    return {finding.key: finding.verdict for finding in found}


def _with(build: Build, index: int, **changes: object) -> Build:
    mounts = [one.model_copy(update=changes) if i == index else one for i, one in enumerate(build.mount)]
    return build.model_copy(update={"mount": mounts})


def _stronger(fastenings: Fastenings, index: int, mount: Mount, word: str) -> Iterator[tuple[str, Build]]:
    build = fastenings.build
    if word == "weld" and mount.weld is not None:
        for words, one in _welds(fastenings, mount, mount.weld):
            yield words, _with(build, index, weld=one)
        return
    joint = fastenings.joint(mount)
    if joint is None:
        return
    if word == "plate" and isinstance(joint, Joint):
        for thick in (t for t in _PLATES if t > joint.bolts.plate):
            changed = joint.bolts.model_copy(update={"plate": _millimetres(thick)})
            if _uses(_other(joint, changed), "plate") <= 1.0:
                yield f"make the plate of {mount.name} {1000 * thick:g} mm thick", _with(build, index, bolts=changed)
    alone: list[BoltSet] = []
    for bolts in _sets(joint):
        other = _other(joint, bolts)
        if _uses(other) <= 1.0 + TINY:
            yield _said(mount, bolts), _with(build, index, bolts=bolts)
            return
        if _uses(other, word) <= 1.0 + TINY and not alone:
            alone.append(bolts)
    yield from ((_said(mount, bolts), _with(build, index, bolts=bolts)) for bolts in alone)


def _other(joint: Joint | Clamp, bolts: BoltSet) -> Joint | Clamp:
    if isinstance(joint, Clamp):
        return Clamp(bolts, joint.sides)
    return Joint(bolts, joint.kind, joint.sides, joint.web)


def _uses(joint: Joint | Clamp, word: str = "") -> float:
    """The greatest part of a resistance that is used, of one finding or of all that are known [-]."""
    found = {"slip": joint.slip(), "bolts": joint.strength(), "preload": joint.proof()}
    if isinstance(joint, Joint):
        bolts, web = joint.bolts, joint.web
        if bolts.plate_strength is not None:
            found["plate"] = joint.bearing(float(bolts.plate), float(bolts.plate_strength), edges=True)
        if web.thickness is not None and web.tensile is not None:
            found["rail"] = joint.bearing(web.thickness, web.tensile, edges=False)
    return max((one.use for name, one in found.items() if one is not None and word in ("", name)), default=1.0)


def _sets(joint: Joint | Clamp) -> Iterator[BoltSet]:
    """Larger, stronger and more bolts, the fewest and smallest first, that fit into the web."""
    now, legs = joint.bolts, isinstance(joint, Clamp)
    sizes = get_args(Thread)[get_args(Thread).index(now.size) :]
    grades = ["8.8", "10.9"] if now.grade == "8.8" else ["10.9"]
    rows = [now.rows] if legs else range(now.rows, max(now.rows, int(shop_value("hole_rows"))) + 1)
    most = max(now.columns, _MOST_LEGS if legs else _MOST_COLUMNS)
    choices = product(range(now.columns, most + 1), rows, sizes, grades)
    order = sorted(choices, key=lambda c: (c[0] * c[1], sizes.index(c[2]), c[3]))
    for columns, many, size, grade in order:
        bolts = _spaced(now, columns=columns, rows=many, size=size, grade=grade)
        if legs or _fits(bolts, joint.web.height if isinstance(joint, Joint) else None):
            yield bolts


def _spaced(now: BoltSet, **changes: object) -> BoltSet:
    """Other bolts, moved apart where they stand too close."""
    bolts = now.model_copy(update=changes)
    d0 = hole(bolts)
    spread = {
        name: _wide_enough(getattr(now, name), LEAST_GAUGE * d0, 3.0 * d0)
        for name, many in (("spacing", bolts.columns), ("row_spacing", bolts.rows))
        if many > 1
    }
    middle = {"drop": None} if bolts.rows != now.rows else {}
    return bolts.model_copy(update={**spread, **middle, "edge": _wide_enough(now.edge, LEAST_EDGE * d0, 1.5 * d0)})


def _wide_enough(now: Quantity | None, least: float, usual: float) -> Quantity:
    """A distance as it is, or on whole 5 mm where it is too short."""
    if now is not None and now >= least:
        return now
    return _millimetres(0.005 * -(-usual // 0.005))


def _fits(bolts: BoltSet, rail_height: float | None) -> bool:
    """Whether holes are no larger and no nearer to the flanges than the shop allows, and the pattern makes sense."""
    if hole(bolts) > shop_value("hole_largest") or list(bolt_pattern(bolts)):
        return False
    return rail_height is None or to_flange(bolts, rail_height) >= shop_value("hole_to_flange")


def _welds(fastenings: Fastenings, mount: Mount, now: Weld) -> Iterator[tuple[str, Weld]]:
    """The thinnest throat that holds; else longer welds with the thickest."""
    height = weld.rise(fastenings.build, now)
    if height is None:
        return
    thick = weld.plate(mount)
    throats = [t for t in _THROATS if now.throat < t <= _STEEPER * thick] or [float(now.throat)]
    longer = [(throats[-1], float(now.length) + 0.02 * i) for i in range(1, 16)]
    for throat, length in [*((t, float(now.length)) for t in throats), *longer]:
        one = now.model_copy(update={"throat": _millimetres(throat), "length": _millimetres(length)})
        if weld.worst(one, thick, fastenings.sides(mount), height).directional <= 1.0:
            yield f"weld {mount.name} with a throat of {1000 * throat:g} mm, two welds of {1000 * length:.0f} mm", one
            return


def _said(mount: Mount, bolts: BoltSet) -> str:
    """A set of bolts in words."""
    count, what = bolts.columns * bolts.rows, "legs" if mount.kind == "clamp" else "bolts"
    grid = "" if mount.kind == "clamp" else f", {bolts.columns} beside each other in {_rows(bolts.rows)}"
    gaps = [one.text for one in (bolts.spacing, bolts.row_spacing) if one is not None]
    apart = f", {' and '.join(gaps)} apart" if gaps and mount.kind != "clamp" else ""
    return f"fit {mount.name} with {count} {what} {bolts.size} of class {bolts.grade} a side{grid}{apart}"


def _rows(count: int) -> str:
    return "one row" if count == 1 else f"{count} rows"


def _millimetres(value: float) -> Quantity:
    return Quantity(value, f"{1000 * value:g} mm", "length")
