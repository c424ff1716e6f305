"""A run of pipe as the shop needs it: its pipe, its way, its fittings, its flanges."""

from __future__ import annotations

from dataclasses import dataclass

from tunwright.build.pipework import PipeRun
from tunwright.handbook.pipe_bends import without_straight
from tunwright.tables.elbows import WeldFittings, fittings_of
from tunwright.tables.flanges import Flange, flange
from tunwright.tables.pipes import PipeSize, pipe_size
from tunwright.truck.pipework.plumbing import Plumbing

Points = tuple[tuple[float, float, float], ...]


@dataclass(frozen=True)
class RunOfPipe:
    """A run, or the overflow pipe.

    number: its place in the build file, from 1; the overflow is the last
    name: what it is called
    start: point it comes from
    end: point it leads to
    size: its pipe
    length: as the build file has it [m]
    fittings: their names
    points: ends and corners on the middle line, straight corners left out; none where they are not known [m]
    radius: of its bends, None for elbows [m]
    drilling: of its flanges, None without
    flanged: whether its start and its end have a flange
    within: valves and devices that stand in it
    """

    number: int
    name: str
    start: str
    end: str
    size: PipeSize
    length: float
    fittings: tuple[str, ...]
    points: Points = ()
    radius: float | None = None
    drilling: str | None = None
    flanged: tuple[bool, bool] = (False, False)
    within: tuple[str, ...] = ()

    @property
    def mark(self) -> str:
        """What is written on its pieces, such as "P3"."""
        return f"P{self.number}"

    @property
    def hose(self) -> bool:
        """Whether it comes off a roll."""
        return "hose" in self.size.material

    @property
    def weld(self) -> WeldFittings | None:
        """Its weld fittings, None where no table has them."""
        return fittings_of(self.size.series, self.size.name)

    def flange(self) -> Flange | None:
        """Its flanges, None where it has none, or none that is welded to the pipe.

        ValueError: the table has no such size
        """
        if self.drilling is None or self.size.soft:
            return None
        return flange(self.drilling, self.size.name)


def runs_of_pipe(plumbing: Plumbing) -> tuple[RunOfPipe, ...]:
    """All runs in the order of the build file, the overflow pipe last.

    plumbing: the pipework
    """
    work = plumbing.work
    found = [_run(plumbing, i, one) for i, one in enumerate(work.run, start=1)]
    over = work.overflow
    if over is not None:
        size, fittings = pipe_size(over.series, over.size), tuple(over.fittings)
        number = len(found) + 1
        found.append(RunOfPipe(number, "overflow", "overflow lip", "open end", size, float(over.length), fittings))
    return tuple(found)


def _run(plumbing: Plumbing, number: int, one: PipeRun) -> RunOfPipe:
    work = plumbing.work
    way = [(float(each.at), float(each.y), float(each.height)) for each in one.corner]
    points = without_straight(way).tolist() if way else []
    within = [f"{each.name} ({each.kind})" for each in work.valve if each.on == one.name]
    within += [f"{each.name} ({each.kind})" for each in work.device if each.on == one.name]
    return RunOfPipe(
        number,
        one.name,
        one.start,
        one.end,
        plumbing.size(one),
        float(one.length),
        tuple(one.fittings),
        tuple((x, y, z) for x, y, z in points),
        None if one.bend_radius is None else float(one.bend_radius),
        one.flange,
        (one.flanged != "end", one.flanged != "start"),
        tuple(within),
    )
