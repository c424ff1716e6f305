"""Axles, wheels and springs under the twisted frame, true to scale, with raised wheels and wheels off the ground."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.handbook.grillage import Link
from tunwright.sheets.drawing import Circle, Entity, Line
from tunwright.sheets.frame.chosen import Shown
from tunwright.sheets.frame.oblique import Moved, seen
from tunwright.sheets.ticks import THIN
from tunwright.sheets.views.labels import Label
from tunwright.sheets.views.shapes import box
from tunwright.sheets.views.vehicle import Vehicle

_DOT = 0.022
_CARRIES = -1.0  # a tyre that presses less is off the ground [N]


class Undercarriage:
    """What stands under the frame in one case.

    vehicle: the vehicle
    shown: the case
    moved: the frame as it is drawn
    """

    def __init__(self, vehicle: Vehicle, shown: Shown, moved: Moved) -> None:
        self.vehicle, self.shown, self.moved = vehicle, shown, moved
        self.ladder = shown.stresses.ladder
        self.running = self.ladder.running
        self.true = Moved(self.ladder, self.ladder.displacements(shown.trial)[:, shown.fill], 1.0)
        self.force = self.ladder.link_forces(shown.trial)[:, shown.fill]
        self.labels: list[Label] = []

    def entities(self, side: str) -> list[Entity]:
        """Axles with their wheels and springs of one side; the bars go with the far side."""
        found: list[Entity] = []
        for i in self.running.standing:
            node = f"axle {i + 1}"
            x, _, z = self.running.nodes[node]
            if side == "right":
                bar = [self.true.drawn(node, (x, y, z)) for y in (-self._half(i), self._half(i))]
                found.append(Line(bar[0], bar[1], "ground"))
            found += self._wheel(i, side)
        for link in self.running.springs:
            if link.name.endswith(side):
                found += self._spring(link)
        return found

    def _half(self, i: int) -> float:
        return 0.5 * self.vehicle.tyre(self.vehicle.chassis.axle[i])["track"].value

    def _wheel(self, i: int, side: str) -> list[Entity]:
        """A wheel, and the ground it is raised on."""
        axle, node = self.vehicle.chassis.axle[i], f"axle {i + 1}"
        x, _, z = self.running.nodes[node]
        y = -self._half(i) if side == "left" else self._half(i)
        centre, found = self.true.drawn(node, (x, y, z)), list[Entity]()
        for index, raised, height in self.shown.trial.case.raised:
            if index == i and raised == side:
                u, v = seen((x, y, 0.0))
                found.append(box(u - 0.6 * z, v, u + 0.6 * z, v + height, "hatch", "hatch"))
                words = f"{side} wheel raised {self.vehicle.wording.words(height, 'length').replace(' ', THIN)}"
                near = side == "left"
                at = (u + 0.6 * z, v) if near else (centre[0], centre[1] + z)
                self.labels.append(Label(at, words, sides=(-1,) if near else (1,)))
        off = self._off(axle.name, side)
        if off:
            self.labels.append(Label((centre[0], centre[1] - z), "off the ground", sides=(-1,)))
        found.append(Circle(centre, z, "alarm" if off else "note"))
        return [*found, Circle(centre, 0.55 * z, "note"), Circle(centre, _DOT, "thin", "ink")]

    def _off(self, name: str, side: str) -> bool:
        """Whether the tyres of one side carry nothing."""
        number = {link.name: i for i, link in enumerate(self.ladder.frame.links)}
        i = number.get(f"{name}, {side} tyres")
        return i is not None and self.force[i] > _CARRIES

    def _spring(self, link: Link) -> Iterator[Line]:
        """Lines from the rail to the axles; of a group to each of its axles."""
        places = [
            (on_axle, (self.true if on_axle else self.moved).drawn(touch.node, touch.point))
            for touch in link.touches
            for on_axle in (touch.node.startswith("axle"),)
        ]
        rails = [at for on_axle, at in places if not on_axle]
        for _, axle in (one for one in places if one[0]):
            near = sorted(rails, key=lambda rail: abs(rail[0] - axle[0]))[:2]
            yield from (Line(rail, axle, "thin") for rail in dict.fromkeys(near))
