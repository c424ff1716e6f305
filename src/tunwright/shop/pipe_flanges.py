"""Flanges of the pipework: joints with their bolts, nuts, washers and gaskets.

Two flanged ends of one size and drilling that meet at a point, and no third, make one joint. Any other end is bolted to
something that is not in the list: a pump, a tank, a valve, a header. Its mate is taken as a flange of the same size.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass

from tunwright.shop.pipe_runs import RunOfPipe
from tunwright.tables.flanges import Flange
from tunwright.tables.read import shop_value


@dataclass(frozen=True)
class FlangedEnd:
    """An end of a run with its flange.

    run: the run
    end: "start" or "end"
    point: the point it stands at
    flange: its flange
    """

    run: RunOfPipe
    end: str
    point: str
    flange: Flange

    @property
    def name(self) -> str:
        """What it is called in a list, such as "P3, end"."""
        return f"{self.run.mark}, {self.end}"


@dataclass(frozen=True)
class FlangeJoint:
    """A joint.

    ends: the ends of runs that meet in it, one or two
    """

    ends: tuple[FlangedEnd, ...]

    @property
    def flange(self) -> Flange:
        """The flange of its ends."""
        return self.ends[0].flange

    @property
    def bolt_length(self) -> float:
        """Length of its bolts, as it is sold [m]."""
        return self.flange.bolt.usual(self.flange.bolt_needed(gasket=shop_value("gasket_thickness")))

    @property
    def gasket(self) -> tuple[float, float, float]:
        """Its ring gasket: inside and outside diameter, thickness [m]."""
        return self.ends[0].run.size.outside, self.flange.gasket, shop_value("gasket_thickness")


def flanged_ends(runs: Sequence[RunOfPipe]) -> tuple[FlangedEnd, ...]:
    """All ends with flanges that are welded to the pipe and in the table.

    runs: the runs
    """
    found = []
    for run in runs:
        with suppress(ValueError):  # a size that is not in the table is told with the run
            flange = run.flange()
            if flange is not None:
                told = zip(run.flanged, ("start", "end"), (run.start, run.end), strict=True)
                found += [FlangedEnd(run, end, point, flange) for there, end, point in told if there]
    return tuple(found)


def _meetings(runs: Sequence[RunOfPipe]) -> list[list[FlangedEnd]]:
    """Flanged ends, point by point."""
    at: dict[str, list[FlangedEnd]] = {}
    for one in flanged_ends(runs):
        at.setdefault(one.point, []).append(one)
    return list(at.values())


def flange_joints(runs: Sequence[RunOfPipe]) -> tuple[FlangeJoint, ...]:
    """All joints, in the order of the runs.

    runs: the runs
    """
    found = []
    for meeting in _meetings(runs):
        if len(meeting) == 2 and meeting[0].flange == meeting[1].flange:
            found.append(FlangeJoint(tuple(meeting)))
        else:
            found += [FlangeJoint((one,)) for one in meeting]
    return tuple(found)


def strangers(runs: Sequence[RunOfPipe]) -> tuple[tuple[FlangedEnd, FlangedEnd], ...]:
    """Two flanged ends that meet at a point alone, and whose flanges do not fit each other.

    runs: the runs
    """
    pairs = [(one[0], one[1]) for one in _meetings(runs) if len(one) == 2]
    return tuple((one, other) for one, other in pairs if not _fit(one.flange, other.flange))


def _fit(one: Flange, other: Flange) -> bool:
    """Whether two flanges have the same holes; PN 10 and PN 16 do in small sizes."""
    return (one.circle, one.holes, one.hole) == (other.circle, other.holes, other.hole)


@dataclass(frozen=True)
class Bolting:
    """Something to buy for the joints.

    what: what it is
    size: its size
    length: of a bolt [m]; None for the others
    count: how many
    """

    what: str
    size: str
    length: float | None
    count: int


def bolting(joints: Sequence[FlangeJoint]) -> tuple[Bolting, ...]:
    """Bolts, nuts, washers and gaskets of all joints, counted.

    joints: the joints
    """
    bolts: Counter[tuple[str, float]] = Counter()
    nuts: Counter[str] = Counter()
    gaskets: Counter[tuple[str, float]] = Counter()
    for one in joints:
        flange, key = one.flange, one.flange.bolt.key
        bolts[key, one.bolt_length] += flange.holes
        nuts[key] += flange.holes
        gaskets[f"{flange.standard} {flange.name}", one.gasket[2]] += 1
    rows = [Bolting("bolt", key, length, count) for (key, length), count in bolts.items()]
    rows += [Bolting("nut", key, None, count) for key, count in nuts.items()]
    rows += [Bolting("washer", key, None, 2 * count) for key, count in nuts.items()]
    return (*rows, *(Bolting("ring gasket", name, None, count) for (name, _), count in gaskets.items()))
