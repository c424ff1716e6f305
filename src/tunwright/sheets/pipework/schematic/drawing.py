"""The schematic of the pipework: what is joined to what, how the valves stand, what flows; not to scale.

    drawing = schematic_drawing(assessment, "spray the road behind")

One unit of the drawing is one millimetre of paper: it is drawn at 1:1000, a unit being a metre. Groups name what they
show, so that a page can answer when it is touched: "run", "valve", "point", "spray", "pump", "relief", "device",
"regulator", "vent", each with its name, and with its state where it has one.
"""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.typed import capital
from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Drawing, Entity, Group, Text
from tunwright.sheets.layout import compose
from tunwright.sheets.pipework.flows import asked, plumbed
from tunwright.sheets.pipework.schematic.arranged import Arranged, Rooms, arranged
from tunwright.sheets.pipework.schematic.figures import Figures
from tunwright.sheets.pipework.schematic.legend import legend
from tunwright.sheets.pipework.schematic.network import Network
from tunwright.sheets.pipework.schematic.pipes import Pipes
from tunwright.sheets.pipework.schematic.places import Places
from tunwright.sheets.pipework.schematic.planned import planned
from tunwright.sheets.pipework.schematic.standing import Standing
from tunwright.sheets.pipework.schematic.tank import HIGH, Tank, mouth_line
from tunwright.sheets.pipework.words_beside import PITCH, named

SCALE = 1000.0
"""1:1000, so that one unit is one millimetre of paper."""
_NORMAL = "Pipework, valves in their normal position"
_NOT = "Not to scale. A vertical line is a point where pipes meet; its name stands over it."
_TITLE_MM, _APART = 3.5, 7.0


def schematic(assessment: Assessment, *, duty: str | None = None) -> list[Entity]:
    """The schematic. Raises ValueError where the build has no pipework, or no such duty.

    assessment: the assessment
    duty: name of a duty whose valves, flows and pressures are shown; valves in their normal position where left out
    """
    return _Schematic(assessment, duty).entities()


def schematic_drawing(assessment: Assessment, duty: str | None = None) -> Drawing:
    """The schematic as a drawing. Raises ValueError where the build has no pipework, or no such duty.

    assessment: the assessment
    duty: name of a duty, None for the normal position
    """
    made = _Schematic(assessment, duty)
    title = made.title if duty is not None else _NORMAL
    return compose(title, made.entities(), scale=SCALE, margin_mm=6.0, description=" ".join([title, *made.notes()]))


class _Schematic:
    def __init__(self, assessment: Assessment, duty: str | None) -> None:
        worked = None if duty is None else asked(assessment, duty)[0]
        self.standing = Standing(plumbed(assessment), worked)
        self.figures = Figures(self.standing, assessment.build.order.units)
        self.network = Network(self.standing.plumbing.work)
        self.plan = planned(self.network)
        self.places, self.pipes = Places(self.plan, self.figures), Pipes(self.plan, self.figures)
        self.tank = Tank(assessment, self.figures)

    def entities(self) -> list[Entity]:
        """Everything: headers under pipes, symbols over them, words last."""
        where = arranged(self.plan, self._rooms(), least=self.tank.least(len(self.network.mouths)))
        left, right = self.tank.ends(where)
        parts: list[Entity] = [*self.tank.drawn(left, right)] if self.tank.there else []
        parts += self._placed(where, right)
        parts += [one for i in range(len(self.network.ways)) for one in self.pipes.drawn(i, where)]
        rise = max(self.tank.rise, 4.0 * len(self.network.mouths)) + HIGH if self.tank.there else 0.0
        words = legend(left, max(right, *where.x), where.low - _APART, self.standing)
        return [*self._heading(left, rise + _APART), *parts, words]

    def _rooms(self) -> Rooms:
        count = range(self.network.count)
        return Rooms(self.pipes.rooms(), [self.places.head(i) for i in count], [self.places.foot(i) for i in count])

    def _placed(self, where: Arranged, right: float) -> Iterator[Entity]:
        """Points and sprays, the lines of mouths led over the end of the tank."""
        mouths = sorted(self.network.mouths, key=lambda i: where.x[i])
        for place in range(self.network.count):
            if place not in self.network.mouths:
                yield self.places.drawn(place, where, 0.0 if place in self.network.outlets else None)
                continue
            top, line = mouth_line(mouths.index(place), where.x[place], right, self.places.layer(place))
            point = self.places.drawn(place, where, top)
            yield Group(point.name, (line, *point.entities), point.data)

    @property
    def title(self) -> str:
        """What the schematic shows."""
        duty = self.standing.duty
        return _NORMAL if duty is None else capital(duty.name)

    def notes(self) -> list[str]:
        """What is to be known to read it."""
        found, duty, state = [], self.standing.duty, self.standing.state
        if duty is None:
            found.append("Valves as they stand on the road; nothing flows.")
        if duty is not None and state is not None:
            engine = "" if duty.engine is None else f", engine at {self.figures.said(float(duty.engine), 'rotation')}"
            found.append(f"Flows and pressures with the tank {100.0 * state.fill:.0f} % full{engine}.")
        elif duty is not None and self.standing.worked is not None:
            found.append(f"No figures: {self.standing.worked.trouble}")
        return [*found, _NOT]

    def _heading(self, left: float, low: float) -> Iterator[Entity]:
        lines = [word for note in self.notes() for word in named(note, quiet=True, signs=110)]
        for i, word in enumerate(reversed(lines)):
            yield word.at((left, low + PITCH * i), "start")
        yield Text((left, low + PITCH * len(lines) + 1.5), self.title, "text", _TITLE_MM, bold=True)
