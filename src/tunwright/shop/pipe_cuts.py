"""Pipe to cut: every run in pieces, each with its mark, its length and what stands at its ends.

Lengths are those of the bare pipe: legs between corners less what elbows, gaps and flanges take of them. A run whose
way is not in the build file is given as one length, to be set out on the vehicle. Valves within a run and tees are not
taken off, since where they stand is not known; the notes say so.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from tunwright.handbook.pipe_bends import BentTube, bent_tube, legs, mitre_cut
from tunwright.shop.pipe_runs import RunOfPipe, runs_of_pipe
from tunwright.shop.pipe_turns import TURNING, RunEnd, Turn, degrees, ends, fixed, minded, turns
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.plumbing import Plumbing

_TOUCHES = 0.001  # pieces shorter than a gap and this are none: fitting stands at fitting [m]


@dataclass(frozen=True)
class Piece:
    """A piece of pipe.

    mark: what is written on it, such as "P3-2"
    leg: middle to middle, or end to end of the way [m]
    length: to cut [m]; None where no table has what its fittings take, or where it does not fit
    ends: what stands at its two ends
    parts: pieces it makes at least, where it is to be set out on the vehicle
    """

    mark: str
    leg: float
    length: float | None
    ends: tuple[str, str]
    parts: int = 1


@dataclass(frozen=True)
class Bent:
    """A tube to bend.

    tube: its bends, from end to end of the run
    off: what stands before the tube at the run's start [m]
    """

    tube: BentTube
    off: float

    @property
    def starts(self) -> tuple[float, ...]:
        """Where each bend begins, from the end of the bare tube [m]."""
        return tuple(one - self.off for one in self.tube.starts)


@dataclass(frozen=True)
class RunCuts:
    """A run in pieces.

    run: the run
    pieces: its pieces, from its start to its end
    turns: what stands at its corners; none where it is bent or its way is not known
    bent: how it is bent, None where it is not
    notes: what is to be minded
    """

    run: RunOfPipe
    pieces: tuple[Piece, ...]
    turns: tuple[Turn, ...] = ()
    bent: Bent | None = None
    notes: tuple[str, ...] = ()

    @property
    def set_out(self) -> bool:
        """Whether its way is not known."""
        return not self.run.points and not self.run.hose


def pipe_cuts(plumbing: Plumbing) -> tuple[RunCuts, ...]:
    """All runs in pieces, in the order of the build file, the overflow pipe last.

    plumbing: the pipework
    """
    return tuple(run_cuts(one) for one in runs_of_pipe(plumbing))


def run_cuts(run: RunOfPipe) -> RunCuts:
    """A run in pieces.

    run: the run
    """
    if run.hose:
        found = RunCuts(run, (Piece(f"{run.mark}-1", run.length, run.length, ("tail or coupling",) * 2),))
    elif not run.points:
        found = _set_out(run)
    elif run.radius is not None and len(run.points) > 2:
        found = _bent(run, run.radius)
    else:
        found = _elbowed(run)
    return replace(found, notes=(*found.notes, *minded(run)))


def _elbowed(run: RunOfPipe) -> RunCuts:
    """Legs between elbows."""
    found, (first, last) = turns(run), ends(run)
    stops: list[RunEnd | Turn] = [first, *found, last]
    notes, pieces = [], list[Piece]()
    for i, leg in enumerate(legs(run.points).tolist()):
        piece, note = _leg(run, leg, (stops[i], stops[i + 1]), i + 1)
        pieces.append(piece)
        notes += [note] if note else []
    return RunCuts(run, tuple(pieces), found, None, (*notes, *_left(run, found)))


def _leg(run: RunOfPipe, leg: float, stops: tuple[RunEnd | Turn, RunEnd | Turn], number: int) -> tuple[Piece, str]:
    """A leg less what its two ends take, and a word where that is not known or does not fit."""
    piece = Piece(f"{run.mark}-{number}", leg, None, (stops[0].what, stops[1].what))
    offs = [one.off if isinstance(one, Turn) else one.takes for one in stops]
    known = [one for one in offs if one is not None]
    if len(known) < 2:
        return piece, f"{piece.mark}: {1000 * leg:.0f} mm from middle to middle; cut it to suit its fittings."
    length = leg - sum(known)
    if length > _TOUCHES:
        return replace(piece, length=length), ""
    if length >= -shop_value("weld_root_gap") - _TOUCHES:
        return replace(piece, length=0.0), f"{piece.mark}: no pipe, its two fittings stand at each other."
    return piece, (
        f"{piece.mark}: its leg is {1000 * leg:.0f} mm long and its fittings take {1000 * sum(known):.0f} mm of it; "
        "move a corner, or take shorter fittings."
    )


def _left(run: RunOfPipe, found: Sequence[Turn]) -> Iterator[str]:
    """Corners that no fitting of the list stands for, odd ones, and fittings that no corner takes."""
    for one in found:
        if not one.listed:
            yield f"Corner {one.number}, {degrees(one.angle)}: the fittings list none for it; {one.what} is taken."
        if "cut from" in one.what:
            half = degrees(mitre_cut(angle=one.angle, welds=2))
            yield f"Corner {one.number} may be pulled too, or be a segment bend of two welds, cut {half} off square."
    listed, taken = sum(name in TURNING for name in run.fittings), sum(one.listed for one in found)
    if listed > taken:
        yield f"Its fittings list {listed} that turn, and its way has corners for {taken} of them."


def _bent(run: RunOfPipe, radius: float) -> RunCuts:
    """One tube with its bends. The build has been checked: the legs are long enough for them."""
    tube, (first, last) = bent_tube(run.points, radius=radius), ends(run)
    length = tube.developed - first.takes - last.takes
    piece = Piece(f"{run.mark}-1", tube.developed, length, (first.what, last.what))
    return RunCuts(run, (piece,), (), Bent(tube, first.takes), tuple(_bend_notes(run, tube, first, last)))


def _bend_notes(run: RunOfPipe, tube: BentTube, first: RunEnd, last: RunEnd) -> Iterator[str]:
    least = shop_value("bend_radius_least") * run.size.outside
    if tube.radius < least:
        yield (
            f"A radius of {1000 * tube.radius:.0f} mm is tighter than the usual "
            f"{shop_value('bend_radius_least'):g} outside diameters, {1000 * least:.0f} mm: mandrel, or elbows."
        )
    for straight, end, name in ((tube.straights[0], first, "start"), (tube.straights[-1], last, "end")):
        if straight < end.takes:
            missing = 1000 * (end.takes - straight)
            yield f"The flange at its {name} reaches into the bend: make that leg {missing:.0f} mm longer."
    listed = [name for name in run.fittings if name in TURNING and name != "bend 90"]
    if listed:
        yield f"It is bent; its fittings list {_counted(listed)} as well."


def _counted(names: Sequence[str]) -> str:
    return ", ".join(f"{number} × {name}" for name, number in Counter(names).items())


def _set_out(run: RunOfPipe) -> RunCuts:
    """One length less what elbows and flanges take, to be set out on the vehicle."""
    listed = [fixed(run, 0, math.radians(TURNING[name]), name) for name in run.fittings if name in TURNING]
    first, last = ends(run)
    offs = [one.off for one in listed]
    length = run.length - first.takes - last.takes - sum(2.0 * one for one in offs if one is not None)
    left = length if length > 0.0 else None
    piece = Piece(f"{run.mark}-1", run.length, left, (first.what, last.what), 1 + len(listed))
    notes = ["Its way is not in the build file: set it out on the vehicle."]
    unknown = [name for name, off in zip((one.what for one in listed), offs, strict=True) if off is None]
    if unknown:
        notes.append(f"What {_counted(unknown)} take is not in the table and is not taken off.")
    if length <= 0.0:
        notes.append(f"Its fittings and flanges take more than its {1000 * run.length:.0f} mm.")
    return RunCuts(run, (piece,), notes=tuple(notes))
