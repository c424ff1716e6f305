"""Ways water can take through the pipework in a duty, whatever drives it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tunwright.build.pipework import Duty
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing


@dataclass(frozen=True)
class Passage:
    """A way from a point to a point.

    name: of the run, pump or relief valve
    start: point it comes from
    end: point it leads to
    """

    name: str
    start: str
    end: str


PREVENTER = "backflow preventer"


def one_way(plumbing: Plumbing, run: str) -> str:
    """Name of the one-way valve in a run, empty where there is none.

    plumbing: the pipework
    run: its name
    """
    return next((one.name for one in plumbing.work.valve if one.on == run and one.kind in ONE_WAY), "")


def prevented(plumbing: Plumbing, run: str) -> bool:
    """Whether a tested backflow preventer stands in a run.

    plumbing: the pipework
    run: its name
    """
    return any(one.on == run and one.kind == PREVENTER for one in plumbing.work.valve)


def passages(
    plumbing: Plumbing, duty: Duty, *, past_checks: bool = False, past_pump: bool = True, preventers: bool = False
) -> list[Passage]:
    """Ways that are open in a duty, in both directions where nothing forbids it.

    plumbing: the pipework
    duty: the duty
    past_checks: one-way and relief valves are not counted on: water passes them backwards too
    preventers: of one-way valves only tested backflow preventers are counted on
    past_pump: the pump is not counted on as a stop: water passes it both ways at rest
    """
    found: list[Passage] = []
    for run in plumbing.work.run:
        if plumbing.is_open(run, duty):
            found.append(Passage(run.name, run.start, run.end))
            stopped = prevented(plumbing, run.name) if preventers else bool(one_way(plumbing, run.name))
            if past_checks or not stopped:
                found.append(Passage(run.name, run.end, run.start))
    found += [Passage(one.name, one.start, one.end) for one in plumbing.work.relief]
    found += [Passage(one.name, one.end, one.start) for one in plumbing.work.relief if past_checks or preventers]
    return [*found, *_pump(plumbing, duty, past_pump=past_pump)]


def _pump(plumbing: Plumbing, duty: Duty, *, past_pump: bool) -> Iterator[Passage]:
    pump = plumbing.work.pump
    if pump is None:
        return
    at_rest = past_pump or (pump.rest is not None and plumbing.speed(duty) <= 0.0)
    if at_rest or plumbing.speed(duty) > 0.0:
        yield Passage(pump.name, pump.start, pump.end)
    if at_rest:
        yield Passage(pump.name, pump.end, pump.start)


def reached(
    passages: Sequence[Passage], sources: Iterable[str], stops: Iterable[str] = ()
) -> Mapping[str, tuple[Passage, ...]]:
    """Points water gets to, each with the ways it takes there, the fewest first found.

    passages: ways that are open
    sources: points it comes from
    stops: points nothing goes on from
    """
    ends = set(stops)
    found: dict[str, tuple[Passage, ...]] = dict.fromkeys(sources, ())
    waiting = list(found)
    while waiting:
        here = waiting.pop(0)
        if here in ends:
            continue
        for one in passages:
            if one.start == here and one.end not in found:
                found[one.end] = (*found[here], one)
                waiting.append(one.end)
    return found


def one_way_words(plumbing: Plumbing, ways: Sequence[Passage]) -> str:
    """What alone stops water on a way it would take backwards, in words.

    plumbing: the pipework
    ways: the way, one-way valves not counted on
    """
    names = dict.fromkeys(name for way in ways if (name := one_way(plumbing, way.name)))
    return f"{' and '.join(names) or 'a relief valve'} alone, weaker than an air gap"


def way_words(ways: Sequence[Passage]) -> str:
    """A way in words: points, and between them what water passes.

    ways: the way
    """
    return ", ".join([ways[0].start, *(f"{one.name}, {one.end}" for one in ways)]) if ways else ""
