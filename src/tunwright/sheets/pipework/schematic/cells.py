"""What lies along a way of the schematic: valves, devices, the pump, and the words of the run itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from tunwright.build.pipework import Device, PipeRun, Pump, Regulator, Relief, Spray, Valve
from tunwright.build.shown import show_number
from tunwright.sheets.drawing import Entity, Group
from tunwright.sheets.pipework.schematic.arranged import Room
from tunwright.sheets.pipework.schematic.figures import Figures
from tunwright.sheets.pipework.schematic.network import Item
from tunwright.sheets.pipework.schematic.spot import Entities, Spot
from tunwright.sheets.pipework.schematic.symbols import DEVICE, PUMP, arrow_symbol, device_symbol, pump_symbol
from tunwright.sheets.pipework.schematic.valve_symbols import (
    HALF,
    REACH,
    WAIST,
    regulator_symbol,
    relief_symbol,
    up_reach,
    valve_symbol,
)
from tunwright.sheets.pipework.words_beside import Words, named, over, tall, under, widest

_SIGNS = 14  # in a line over a valve or device
_LEAST_HALF = 7.0  # of a cell, so that valves of ways under each other stand in line


@dataclass(frozen=True)
class Cell:
    """Something along a way.

    group: name of its group on the page
    data: what the group says of it
    draw: its symbol at a spot
    before, behind: how far the symbol reaches against and along the way [mm]
    up, down: how far it reaches up and down [mm]
    over, under: words over and under it
    stops: nothing passes it
    held: words under it whose room is kept, said or not
    least: half its least width [mm]
    """

    group: str
    data: Mapping[str, str]
    draw: Callable[[Spot], Entities]
    before: float
    behind: float
    up: float
    down: float
    over: tuple[Words, ...] = ()
    under: tuple[Words, ...] = ()
    stops: bool = False
    held: tuple[Words, ...] = ()
    least: float = _LEAST_HALF

    def room(self, way: int) -> Room:
        """The room it takes.

        way: 1 where the way leads to the right, -1 to the left
        """
        half = max(self.least, 0.5 * widest((*self.over, *self.under, *self.held)))
        reach = (self.before, self.behind)[::way]
        left, right = (max(half, one + 1.0) for one in reach)
        return Room(left, right, self.up + tall(self.over), self.down + max(tall(self.under), tall(self.held)))

    def drawn(self, spot: Spot) -> Group:
        """The symbol with its words.

        spot: where
        """
        x, y = spot.at
        words: tuple[Entity, ...] = (*over(self.over, (x, y + self.up)), *under(self.under, (x, y - self.down)))
        return Group(self.group, (*self.draw(spot), *words), self.data)


def cells(item: Item, figures: Figures) -> list[Cell]:
    """What lies along a run, pump, relief valve or the way to a spray, from its start on.

    item: the run, pump, relief valve or spray
    figures: how the pipework stands, in figures
    """
    match item:
        case PipeRun():
            return [*_parts(item, figures), run_cell(item, figures)]
        case Pump():
            return [_pump(item, figures)]
        case Relief():
            return [_relief(item, figures)]
        case Spray():
            return _to_spray(item, figures)


def _parts(run: PipeRun, figures: Figures) -> Iterator[Cell]:
    """Parts of a run in the order of the build file: a foot valve first, valves, devices, regulators last."""
    work = figures.standing.plumbing.work
    valves = [one for one in work.valve if one.on == run.name]
    for one in sorted(valves, key=lambda one: not one.kind.startswith("foot")):
        yield _valve(one, figures)
    yield from (_device(each) for each in work.device if each.on == run.name)
    yield from (_regulator(each, figures) for each in work.regulator if each.on == run.name)


def run_cell(run: PipeRun, figures: Figures) -> Cell:
    """The words of a run over and under its line, with the arrow of what flows.

    run: the run
    figures: how the pipework stands, in figures
    """
    flow = figures.standing.flow(run)
    words = (*named(run.name), *named(figures.pipe(run.series, run.size), quiet=True, signs=24))

    def draw(spot: Spot) -> Entities:
        return arrow_symbol(Spot(spot.at, spot.way if flow > 0.0 else -spot.way)) if flow else ()

    # its group is that of the whole run, which takes these words in
    return Cell("run", {}, draw, 2.0, 2.0, 0.0, 0.6, words, figures.run(run), held=figures.held("flow", "velocity"))


def _valve(valve: Valve, figures: Figures) -> Cell:
    state = figures.standing.valve(valve.name)
    foot = valve.kind.startswith("foot")
    data = {"name": valve.name, "state": state, "kind": valve.kind}
    lines = named(valve.purpose, quiet=True, signs=_SIGNS) if valve.purpose else ()

    def draw(spot: Spot) -> Entities:
        return valve_symbol(spot, valve.kind, state, valve.works)

    return Cell(
        "valve", data, draw, HALF + 3.0 if foot else HALF, HALF, up_reach(valve), WAIST + 0.3,
        _titled(valve.name, figures), lines, state == "shut", _titled(valve.name, figures, "88 %")[-1:],
    )  # fmt: skip


def _titled(valve: str, figures: Figures, part: str = "") -> tuple[Words, ...]:
    """The name of a valve, behind it how far it is open where it is part open."""
    if figures.standing.valve(valve) == "part":
        part = f"{show_number(100.0 * figures.standing.opening(valve))} %"
    *lines, last = named(valve, bold=True, signs=_SIGNS)
    return (*lines, Words(f"{last.text} · {part}" if part else last.text, bold=True))


def _device(device: Device) -> Cell:
    def draw(spot: Spot) -> Entities:
        return device_symbol(spot, device.kind)

    data, words = {"name": device.name, "kind": device.kind}, named(device.name, signs=_SIGNS)
    return Cell("device", data, draw, DEVICE, DEVICE, DEVICE, DEVICE, words)


def _regulator(regulator: Regulator, figures: Figures) -> Cell:
    words = named(f"at most {figures.said(float(regulator.sets), 'pressure')}", quiet=True)
    name = named(regulator.name, signs=_SIGNS)
    data = {"name": regulator.name}
    return Cell("regulator", data, regulator_symbol, HALF, HALF + 2.2, REACH, WAIST, name, words)


def _relief(relief: Relief, figures: Figures) -> Cell:
    open_now = figures.standing.flow(relief) > 0.0
    data = {"name": relief.name, "state": "open" if open_now else "shut"}
    opens = named(f"opens at {figures.said(float(relief.opens), 'pressure')}", quiet=True)
    flow = named(figures.said(figures.standing.flow(relief), "flow"), bold=True) if open_now else ()

    def draw(spot: Spot) -> Entities:
        return relief_symbol(spot, "open" if open_now else "shut")

    words, held = named(relief.name, signs=_SIGNS), (*opens, *figures.held("flow"))
    return Cell("relief", data, draw, HALF, HALF, 6.6, WAIST, words, (*opens, *flow), not open_now, held)


def _pump(pump: Pump, figures: Figures) -> Cell:
    turns = figures.standing.pump_turns

    def draw(spot: Spot) -> Entities:
        return pump_symbol(spot, turns=turns)

    data = {"name": pump.name, "state": "turns" if turns else "still"}
    name = named(pump.name, bold=True)
    return Cell("pump", data, draw, PUMP, PUMP, PUMP, PUMP, name, figures.pump(), not turns, figures.held_pump())


def _to_spray(spray: Spray, figures: Figures) -> list[Cell]:
    """The valve of a spray's own, where the list of valves has it not in a run."""
    if spray.valve is None or spray.valve in figures.standing.listed:
        return []
    name = spray.valve
    state = figures.standing.valve(name)

    def draw(spot: Spot) -> Entities:
        return valve_symbol(spot, "ball valve", state)

    data, held = {"name": name, "state": state, "kind": "ball valve"}, _titled(name, figures, "88 %")[-1:]
    words = _titled(name, figures)
    return [Cell("valve", data, draw, HALF, HALF, 5.2, WAIST, words, (), state == "shut", held)]
