"""The tank across the top of the schematic, with its vents, its overflow and the ends of the pipes that fill it."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.shown import THIN_SPACE
from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Entity, Group, Polyline
from tunwright.sheets.pipework.schematic.arranged import Arranged
from tunwright.sheets.pipework.schematic.figures import Figures
from tunwright.sheets.pipework.schematic.spot import STROKE, Spot
from tunwright.sheets.pipework.schematic.symbols import outflow_symbol, tank_symbol, vent_symbol
from tunwright.sheets.pipework.words_beside import CLEAR, Words, named, over, tall, widest
from tunwright.sheets.ticks import THIN
from tunwright.sheets.words import volume

HIGH, LIP = 23.0, 14.5
"""Height of the tank, and of its overflow lip [mm]."""
_LEFT, _WALL, _STEP, _VENT = 8.0, 7.0, 6.0, 6.4
_MOUTH = 18.0  # height in the tank at which a filling pipe ends


class Tank:
    """The tank of a schematic.

    assessment: the assessment
    figures: how the pipework stands, in figures
    """

    def __init__(self, assessment: Assessment, figures: Figures) -> None:
        self.work = figures.standing.plumbing.work
        self.figures, self.state = figures, figures.standing.state
        net = volume(figures.standing.plumbing.tank.net, assessment).replace(THIN_SPACE, THIN)
        full = "" if self.state is None else f", {100.0 * self.state.fill:.0f} % full"
        lip = "net" if assessment.build.tank.overflow_lip is None else "to the overflow lip"
        self.said = Words(f"tank, {net} {lip}{full}", bold=True)
        self.vents = [(one, self._vent_words(i)) for i, one in enumerate(self.work.vent)]

    @property
    def there(self) -> bool:
        """Whether anything of the pipework is at the tank."""
        points = any(one.outlet is not None or one.mouth for one in self.work.point)
        return points or bool(self.work.vent) or self.work.overflow is not None

    def least(self, mouths: int) -> float:
        """Room it needs from its first outlet to its first mouth [mm].

        mouths: how many mouths it has
        """
        vents = sum(self._vent_room(words) for _, words in self.vents)
        return max(self.said.width, vents) + _STEP * (mouths + 1) + _WALL

    @property
    def rise(self) -> float:
        """How far its vents reach up over it [mm]."""
        return max([0.0, *(_VENT + tall(words) for _, words in self.vents)])

    def _vent_words(self, number: int) -> tuple[Words, ...]:
        one = self.work.vent[number]
        bore = self.figures.length(float(one.bore))
        size = f"{one.count} × {bore}" if one.count > 1 else bore
        return (*named(one.name), *named(size, quiet=True))

    def _vent_room(self, words: tuple[Words, ...]) -> float:
        return max(8.0, widest(words)) + 2.0 * CLEAR

    def drawn(self, left: float, right: float) -> Iterator[Entity]:
        """The tank, vents and overflow.

        left: its left end [mm]
        right: its right end [mm]
        """
        fill = 1.0 if self.state is None else min(max(self.state.fill, 0.0), 1.0)
        shell = tank_symbol(Spot((left, 0.0)), right - left, HIGH, fill * LIP)
        yield Group("tank", (*shell, self.said.at((left + 3.0, LIP + 3.0), "start")))
        yield from self._vents(left)
        if self.work.overflow is not None:
            pipe = self.work.overflow
            x, low = left - 6.0, -4.0
            line = Polyline(((left, LIP), (x, LIP), (x, low)), STROKE)
            words = (*named("overflow"), *named(self.figures.pipe(pipe.series, pipe.size), quiet=True))
            beside = over(words, (x - 2.0, low), "end")
            yield Group("overflow", (line, *outflow_symbol(Spot((x, low))), *beside))

    def _vents(self, left: float) -> Iterator[Entity]:
        at = left + 2.0
        for one, words in self.vents:
            room = self._vent_room(words)
            spot = Spot((at + 0.5 * room, HIGH))
            name = over(words, (spot.at[0], HIGH + _VENT))
            yield Group("vent", (*vent_symbol(spot), *name), {"name": one.name})
            at += room

    def ends(self, where: Arranged) -> tuple[float, float]:
        """Left and right end of the tank [mm].

        where: where everything stands
        """
        network = where.plan.network
        left = min(where.x) - _LEFT
        mouths = [where.x[i] for i in network.mouths]
        inner = max([x for i, x in enumerate(where.x) if i not in network.mouths], default=left)
        right = min(mouths) - _WALL if mouths else max(inner, left + _LEFT + self.least(0))
        return left, max(right, left + 20.0)


def mouth_line(rank: int, x: float, right: float, layer: str) -> tuple[float, Entity]:
    """The pipe of a mouth over the end of the tank into its top: up to where it turns, and the rest of it.

    rank: how many mouths are nearer to the tank
    x: where it comes up [mm]
    right: right end of the tank [mm]
    layer: how it is drawn
    """
    top, inside = HIGH + 3.0 + 4.0 * rank, right - _STEP * (1 + rank)
    return top, Polyline(((x, top), (inside, top), (inside, _MOUTH)), layer)
