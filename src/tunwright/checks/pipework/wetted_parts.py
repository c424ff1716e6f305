"""What the water touches: every part with its material and its approval, as stated or as its kind of pipe says."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from tunwright.build.pipework import PipeRun, Wetted
from tunwright.tables.pipes import FIRE_HOSE, PipeSize, pipe_series, pipe_size
from tunwright.tables.read import materials
from tunwright.truck.pipework.plumbing import Plumbing

_LINED = re.compile(r"lined|lining|coated|coating|epoxy|galvanis|enamel|clad", re.IGNORECASE)
_RUSTS = re.compile(r"\b(?:black|carbon|mild|bare) steel\b", re.IGNORECASE)  # unfit where nothing lines it
_HARMS = re.compile(r"\blead\b(?![- ]?free)|coal[- ]tar|\bfire hose\b", re.IGNORECASE)  # unfit however it is used


@dataclass(frozen=True)
class Part:
    """A part water touches.

    path: where its approval stands in the build file
    what: its kind
    name: what it is called
    where: what it stands in or between
    material: as stated, or as its kind of pipe says; empty where not known
    approval: as stated; empty where none is
    unfit: why it is not for drinking water, empty where nothing says so
    size: of a pipe
    """

    path: str
    what: str
    name: str
    where: str
    material: str
    approval: str
    unfit: str = ""
    size: PipeSize | None = None


def parts(plumbing: Plumbing) -> list[Part]:
    """Every part the water touches on its way, the tank first. The overflow and the vents carry none that is delivered.

    plumbing: the pipework
    """
    work = plumbing.work
    found = [_tank(plumbing), *(_run(i, one) for i, one in enumerate(work.run, start=1))]
    found += [_part(f"valve[{i}]", one.kind, one.name, one.on, one) for i, one in enumerate(work.valve, start=1)]
    found += [_part(f"device[{i}]", one.kind, one.name, one.on, one) for i, one in enumerate(work.device, start=1)]
    regulators = enumerate(work.regulator, start=1)
    found += [_part(f"regulator[{i}]", "pressure regulator", one.name, one.on, one) for i, one in regulators]
    for i, relief in enumerate(work.relief, start=1):
        found.append(_part(f"relief[{i}]", "relief valve", relief.name, _between(relief.start, relief.end), relief))
    if work.pump is not None:
        found.append(_part("pump", "pump", work.pump.name, _between(work.pump.start, work.pump.end), work.pump))
    found += [_part(f"spray[{i}]", one.kind, one.name, one.on, one) for i, one in enumerate(work.spray, start=1)]
    return found


def _between(start: str, end: str) -> str:
    return f"{start} to {end}"


def _part(at: str, what: str, name: str, where: str, one: Wetted) -> Part:
    material, approval = one.material or "", one.approval or ""
    unfit = "" if approval else _words_unfit(material)
    return Part(f"pipework.{at}.approval", what, name, where, material, approval, unfit)


def _words_unfit(material: str) -> str:
    """What is wrong with a material as it is written, empty where nothing is."""
    rusts = None if _LINED.search(material) else _RUSTS.search(material)
    hit = _HARMS.search(material) or rusts
    return "" if hit is None else f"{hit.group().lower()} inside"


def _run(i: int, one: PipeRun) -> Part:
    series = pipe_series()[one.series]
    what = one.series if "hose" in one.series else f"pipe {one.series}"
    stated = _part(f"run[{i}]", what, one.name, _between(one.start, one.end), one)
    material, unfit = stated.material or f"{series.material}, by its kind", stated.unfit
    if not stated.approval and one.series == FIRE_HOSE:
        unfit = "fire hose"
    elif not stated.approval and not stated.material and series.material == "steel":
        unfit = "bare steel inside"
    return replace(stated, material=material, unfit=unfit, size=pipe_size(one.series, one.size))


def _tank(plumbing: Plumbing) -> Part:
    """The inside of the tank: stainless steel counts as approved, anything else needs an approved coating."""
    tank = plumbing.truck.build.tank
    metal = materials()[tank.material]
    coat = "" if tank.coating.inside is None else f", coated {tank.coating.inside.text}"
    approval = tank.coating.approval or (f"stainless steel {metal.key}" if metal.family == "stainless" else "")
    return Part("tank.coating.approval", "tank, inside", "tank", "", f"{metal.name}{coat}", approval)
