"""Lists of the pipework for the shop: lines, valves with their positions, pipe to cut, fittings."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator

from tunwright.build.kind import System
from tunwright.build.shown import show
from tunwright.sheets.pipework.listing import Column, Listing, Value
from tunwright.tables.pipes import PipeSize, pipe_size
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

BY_ITSELF = "by itself"


def line_list(plumbing: Plumbing, system: System) -> Listing:
    """Every run with its pipe, length, fittings and the water in it; the overflow pipe last.

    plumbing: the pipework
    system: "metric" or "us"
    """
    columns = (
        Column("run", "run"), Column("from", "from"), Column("to", "to"), Column("pipe", "pipe"),
        Column("size", "size"), Column("inside", "inside", "bore"), Column("length", "length", "run"),
        Column("fittings", "fittings"), Column("insulation", "insulation", "bore"),
        Column("water", "water in it", "volume"),
    )  # fmt: skip
    rows: list[list[Value]] = []
    for run in plumbing.work.run:
        size, length = plumbing.size(run), float(run.length)
        tail = [None if run.insulation is None else float(run.insulation), 0.25 * math.pi * size.inside**2 * length]
        rows.append([run.name, run.start, run.end, *_piped(size, length, run.fittings, system), *tail])
    over = plumbing.work.overflow
    if over is not None:
        piped = _piped(pipe_size(over.series, over.size), float(over.length), over.fittings, system)
        rows.append(["overflow", "overflow lip", "open end", *piped, None, None])
    sums = [sum(float(row[i] or 0.0) for row in rows) for i in (6, 9)]
    total: list[Value] = ["all", "", "", "", "", "", sums[0], "", "", sums[1]]
    foot = "Fittings as in the table of fittings. Water in it: the run filled to its inside diameter."
    return Listing("lines", "Line list", columns, rows, foot, total)


def _piped(size: PipeSize, length: float, fittings: Iterable[str], system: System) -> list[Value]:
    return [size.series, size_name(size, system), size.inside, length, counted(fittings)]


def size_name(size: PipeSize, system: System) -> str:
    """What a size is called: in inches in US units, where it has such a name.

    size: the size
    system: "metric" or "us"
    """
    return size.nps if system == "us" and size.nps else size.name


def counted(names: Iterable[str]) -> str:
    """Names counted: "2 × elbow 90 long, exit".

    names: one by one
    """
    count = Counter(names)
    return ", ".join(f"{number} × {name}" for name, number in count.items())


def valve_list(plumbing: Plumbing, system: System) -> Listing:
    """Every valve with how it stands on the road and in each duty.

    plumbing: the pipework
    system: "metric" or "us"
    """
    columns = [
        Column("valve", "valve"), Column("kind", "kind"), Column("size", "size"), Column("on", "stands in"),
        Column("purpose", "purpose"), Column("works", "worked by"), Column("normal", "on the road"),
        *(Column(one.name, one.name) for one in plumbing.work.duty),
    ]  # fmt: skip
    rows = [*_valves(plumbing, system), *_of_sprays(plumbing), *_self_acting(plumbing, system)]
    foot = "A valve is shut where nothing else is said. A percentage is how far it is open."
    return Listing("valves", "Valve list", columns, rows, foot)


def _valves(plumbing: Plumbing, system: System) -> Iterator[list[Value]]:
    for one in plumbing.work.valve:
        size = size_name(plumbing.size(plumbing.runs[one.on]), system)
        alone = one.kind in ONE_WAY
        works, normal = ("itself", BY_ITSELF) if alone else (one.works, one.normal)
        duties = [BY_ITSELF] * len(plumbing.work.duty) if alone else positions(plumbing, one.name)
        yield [one.name, one.kind, size, one.on, one.purpose or "", works, normal, *duties]


def positions(plumbing: Plumbing, valve: str) -> list[str]:
    """How a valve stands in each duty: open, shut, or how far open.

    plumbing: the pipework
    valve: its name
    """
    return [position(plumbing.opening(valve, duty)) for duty in plumbing.work.duty]


def position(part: float) -> str:
    """How a valve stands: open, shut, or how far open.

    part: how far it is open [-]
    """
    return "open" if part >= 1.0 else "shut" if part <= 0.0 else f"{100 * part:.0f} %"


def _of_sprays(plumbing: Plumbing) -> Iterator[list[Value]]:
    """Valves of sprays that stand in no run."""
    for name in own_valves(plumbing):
        opened = [one for one in plumbing.work.spray if one.valve == name]
        on = " and ".join(dict.fromkeys(one.on for one in opened))
        purpose = " and ".join(one.name for one in opened)
        yield [name, "at the outlet", None, on, purpose, None, "shut", *positions(plumbing, name)]


def own_valves(plumbing: Plumbing) -> list[str]:
    """Valves that sprays have of their own and that stand in no run.

    plumbing: the pipework
    """
    placed = {one.name for one in plumbing.work.valve}
    named = (one.valve for one in plumbing.work.spray if one.valve is not None)
    return [name for name in dict.fromkeys(named) if name not in placed]


def _self_acting(plumbing: Plumbing, system: System) -> Iterator[list[Value]]:
    alone = [BY_ITSELF] * (1 + len(plumbing.work.duty))
    for one in plumbing.work.relief:
        opens, full = (show(float(at), "pressure", system=system) for at in (one.opens, one.full))
        purpose = f"opens at {opens}, passes {show(float(one.flow), 'flow', system=system)} at {full}"
        yield [one.name, "relief valve", None, f"{one.start} to {one.end}", purpose, "itself", *alone]
    for each in plumbing.work.regulator:
        size = size_name(plumbing.size(plumbing.runs[each.on]), system)
        purpose = f"lets no more than {show(float(each.sets), 'pressure', system=system)} through"
        yield [each.name, "pressure regulator", size, each.on, purpose, "itself", *alone]


def _pipes(plumbing: Plumbing) -> list[tuple[PipeSize, float, list[str]]]:
    """Pipe, length and fittings of every run and of the overflow."""
    over = plumbing.work.overflow
    found = [(plumbing.size(run), float(run.length), run.fittings) for run in plumbing.work.run]
    return found + ([] if over is None else [(pipe_size(over.series, over.size), float(over.length), over.fittings)])


def fitting_list(plumbing: Plumbing, system: System) -> Listing:
    """Fittings, valves and devices, by size.

    plumbing: the pipework
    system: "metric" or "us"
    """
    columns = (Column("what", "what"), Column("pipe", "pipe"), Column("size", "size"), Column("count", "how many"))
    pipes, count = _pipes(plumbing), Counter[tuple[str, PipeSize]]()
    count.update((name, size) for size, _, fittings in pipes for name in fittings)
    count.update((one.kind, plumbing.size(plumbing.runs[one.on])) for one in plumbing.work.valve)
    count.update((one.kind, plumbing.size(plumbing.runs[one.on])) for one in plumbing.work.device)
    rows: list[list[Value]] = []
    for (name, size), number in sorted(count.items(), key=lambda pair: (pair[0][0], pair[0][1].inside)):
        rows.append([name, size.series, size_name(size, system), number])
    total: list[Value] = ["all", "", "", sum(count.values())]
    foot = "Entrances and exits stand for what the water loses there; they are no parts to buy."
    return Listing("fittings", "Fittings, valves and devices", columns, rows, foot, total)
