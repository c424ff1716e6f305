"""The frame under the tank: `python benchmarks/frame.py`.

First every case at every fill of the quarry demo, mounts that lift included, warm: the sections and the tank's
water are known, the rest is made anew. Then a plain grillage on springs with as many rail beams, one load case and 21,
against PyNiteFEA on the same grillage: ratios of equal work.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from importlib.resources import files

import numpy as np
from Pynite import FEModel3D

from tunwright.build.edit import with_value, without
from tunwright.build.reading import read_text
from tunwright.handbook.beams import FREEDOMS, BeamSection, W
from tunwright.handbook.grillage import Beam, Grillage, Link, Touch
from tunwright.truck.ladder.ladder import Ladder
from tunwright.truck.ladder.stress import Stresses
from tunwright.truck.truck import Truck

RAIL = BeamSection(32e-4, 2800e-8, 170e-8, 8e-8)
CROSS = BeamSection(18e-4, 300e-8, 120e-8, 90e-8)
STATIONS = 60
UP, RIGHT, LONG = (0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)


def best(work: Callable[[], object], times: int) -> float:
    """The fastest of several runs [ms]."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        found.append(1e3 * (time.perf_counter() - start))
    print(f"    median {statistics.median(found):.1f} ms, best {min(found):.1f} ms")
    return min(found)


def demo() -> None:
    text = (files("tunwright.demos") / "quarry-carrier.toml").read_text(encoding="utf-8")
    truck = Truck(read_text(text, name="quarry").build)
    frame = Ladder(truck)
    count = len(frame.trials) * len(frame.fills)
    print(f"quarry demo: {count} load cases, {len(frame.frame.free)} freedoms, {len(frame.frame.links)} links")
    print("  model, solution, mounts that lift")
    best(lambda: Ladder(truck).trials, 9)
    print("  the same and stresses in every fibre")
    best(lambda: Stresses(Ladder(truck)).mises, 9)
    for mount in (i for i, one in enumerate(truck.build.mount) if one.kind == "spring"):
        for name in ("rate", "preload", "travel"):
            text = without(text, ("mount", mount, name))
        text = with_value(text, ("mount", mount, "kind"), "bracket")
    stiff = Truck(read_text(with_value(text, ("subframe", "bearing"), "none")).build)
    print("  model and solution with brackets in place of springs, no mount lifting")
    best(lambda: Ladder(stiff).trials, 9)


def ladder() -> tuple[dict[str, tuple[float, float, float]], list[tuple[str, str, BeamSection]]]:
    xs = np.linspace(0.0, 8.0, STATIONS)
    nodes = {f"{side}{i}": (float(x), y, 0.0) for side, y in (("l", -0.42), ("r", 0.42)) for i, x in enumerate(xs)}
    beams = [(f"{s}{i}", f"{s}{i + 1}", RAIL) for s in "lr" for i in range(STATIONS - 1)]
    return nodes, beams + [(f"l{i}", f"r{i}", CROSS) for i in range(0, STATIONS, 8)]


def ours(cases: int) -> None:
    nodes, beams = ladder()
    feet = [f"{s}{i}" for s in "lr" for i in (10, 35, 45)]
    links = [Link(f"spring {n}", (Touch(n, nodes[n], UP),), 4e5) for n in feet]
    links += [Link("x", (Touch("l10", nodes["l10"], LONG),), 1e9)]
    links += [Link(f"y{n}", (Touch(n, nodes[n], RIGHT),), 1e9) for n in ("l10", "l45")]
    frame = Grillage(nodes, [Beam(a, b, s, "free" if s is CROSS else "shared") for a, b, s in beams], links)
    loads = np.zeros((frame.size, cases))
    loads[FREEDOMS * frame.number["r20"] + W] = -1e4 * np.arange(1, cases + 1)
    frame.end_forces(frame.solve(loads))


def theirs(cases: int) -> None:
    nodes, beams = ladder()
    model = FEModel3D()
    model.add_material("steel", 210e9, 81e9, 0.3, 7850.0)
    for name, section in (("rail", RAIL), ("cross", CROSS)):
        model.add_section(name, section.area, section.iz, section.iy, section.torsion)
    for name, at in nodes.items():
        model.add_node(name, at[0], at[2], at[1])
    for i, (a, b, section) in enumerate(beams):
        model.add_member(f"m{i}", a, b, "steel", "rail" if section is RAIL else "cross")
    for foot in (f"{s}{i}" for s in "lr" for i in (10, 35, 45)):
        model.def_support_spring(foot, "DY", 4e5)
    model.def_support_spring("l10", "DX", 1e9)
    for foot in ("l10", "l45"):
        model.def_support_spring(foot, "DZ", 1e9)
    for case in range(cases):
        model.add_node_load("r20", "FY", -1e4 * (case + 1), case=f"c{case}")
        model.add_load_combo(f"c{case}", {f"c{case}": 1.0})
    model.analyze_linear()


def main() -> None:
    demo()
    for cases in (1, 21):
        print(f"plain grillage of {2 * STATIONS} nodes, {cases} load case{'s' if cases > 1 else ''}: ours")
        mine = best(lambda n=cases: ours(n), 7)  # type: ignore[misc]
        print("  PyNiteFEA")
        other = best(lambda n=cases: theirs(n), 3)  # type: ignore[misc]
        print(f"  ratio {other / mine:.0f}")


if __name__ == "__main__":
    main()
