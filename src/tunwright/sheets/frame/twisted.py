"""The frame in its worst twist, exaggerated, over the unloaded frame in dashed lines.

    entities = twisted_frame(assessment)

Rails, cross-members and subframe are drawn bent and twisted many times as far as they are; how the frame as a whole
rolls and sinks on its springs is left out there and said in words, or the twist would be lost in it. The axles stand
true to scale. A spring mount that lifted, a wheel off the ground and a raised wheel are marked.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from tunwright.build.typed import capital
from tunwright.checks.assess import Assessment
from tunwright.handbook.grillage import Link
from tunwright.sheets.drawing import Circle, Entity, Group, Line, Point, Polyline, Text
from tunwright.sheets.frame.chosen import TWISTS, FrameNotKnown, Shown, known, worst
from tunwright.sheets.frame.oblique import Moved, bent_alone
from tunwright.sheets.frame.quantities import fine
from tunwright.sheets.frame.twisted_axles import Undercarriage
from tunwright.sheets.input_words import labels
from tunwright.sheets.ticks import THIN, figure
from tunwright.sheets.views.labels import Board, Label
from tunwright.sheets.views.paper import note_lines
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.ladder.structure import SIDES

_DOT = 0.022
_OPEN = 1e-4  # a gap this small is no lifting [m]
_LEAST_MM, _LINE_MM = 110.0, 3.8  # width of the words over the drawing, and their rows


def worst_twist(assessment: Assessment) -> Shown:
    """The lifted wheels that stress the rails most. Raises FrameNotKnown where no wheel can be lifted.

    assessment: the assessment
    """
    framework = known(assessment)
    found = worst(framework, TWISTS)
    if found is None:
        missing = labels(assessment.build, framework.ladder.missing_for_twist)
        fallen = "the vehicle falls over in every one; see the findings"
        why = f"measure or give: {'; '.join(missing)}" if missing else fallen
        raise FrameNotKnown(f"No case with a lifted wheel can be drawn: {why}.")
    return found


def twisted_frame(assessment: Assessment, *, shown: Shown | None = None, scale: float = 40.0) -> list[Entity]:
    """The twisted frame in an oblique view from the left.

    assessment: the assessment
    shown: the case; the worst twist where left out
    scale: 1:scale, for which the names are placed
    Raises FrameNotKnown where the frame cannot be loaded or twisted.
    """
    return _Picture(assessment, shown or worst_twist(assessment), scale).entities()


class _Picture:
    """What is drawn of one case."""

    def __init__(self, assessment: Assessment, shown: Shown, scale: float) -> None:
        self.vehicle, self.shown, self.scale = Vehicle(assessment), shown, scale
        self.ladder = shown.stresses.ladder
        self.structure = self.ladder.structure
        moves = self.ladder.displacements(shown.trial)[:, shown.fill]
        self.force = self.ladder.link_forces(shown.trial)[:, shown.fill]
        bent, self.motion = bent_alone(self.ladder, moves)
        self.factor = Moved.fitting(self.ladder, bent)
        self.moved = Moved(self.ladder, bent, self.factor)
        self.still = Moved(self.ladder, np.zeros_like(moves), 0.0)
        self.under = Undercarriage(self.vehicle, shown, self.moved)
        self.labels: list[Label] = []

    def entities(self) -> list[Entity]:
        """Everything: what stands far first."""
        still = [replace(part, layer="unloaded", fill=None) for part in self._steel(self.still)]
        parts: list[Entity] = [
            *self.under.entities("right"),
            Group("twisted", tuple(self._steel(self.moved)), {"factor": f"{self.factor:g}"}),
            Group("unloaded", tuple(still)),
            *self._mounts(),
            *self.under.entities("left"),
        ]
        parts = [*self._heading(), *parts]
        return [*parts, Group("names", tuple(Board(parts, self.scale).place([*self.labels, *self.under.labels])))]

    def _heading(self) -> list[Entity]:
        mm = self.scale / 1000.0
        u = self.vehicle.frame["front"].value
        v = max(p[1] for part in self._steel(self.moved) for p in part.points) + 16.0 * mm
        words = self.shown.words
        wide = max((self.vehicle.frame["rear"].value - u) / mm, _LEAST_MM)
        lines = [line for _, line in note_lines([f"{self._drawn_words()} {self._motion_words()}"], wide)]
        up = _LINE_MM * (len(lines) - 1)
        title = Text((u, v), capital(words), "text", 3.0, bold=True, shift_mm=(0.0, up + 5.0))
        told = [Text((u, v), line, "note", 2.2, shift_mm=(0.0, up - _LINE_MM * i)) for i, line in enumerate(lines)]
        return [title, *told]

    def _drawn_words(self) -> str:
        twist = figure(abs(math.degrees(self._twist())), 2)
        return (
            f"Twist and bending of the frame drawn {figure(self.factor)} times as large as they are, dashed: unloaded. "
            f"From the first axle to the last the rails twist by {twist}°."
        )

    def _motion_words(self) -> str:
        roll = math.degrees(float(self.motion[3]))
        side = "left" if roll < 0.0 else "right"
        rolls = (
            f"it rolls by {figure(abs(roll), 1)}°, the {side} side high" if abs(roll) >= 0.05 else "it does not roll"
        )
        return f"How the frame stands as a whole on its springs is left out: {rolls}. Axles true to scale."

    def _twist(self) -> float:
        """How far one end of the rails is turned against the other, from the first axle to the last [rad]."""
        places = self.vehicle.truck.axles.places
        return self._roll(float(places[-1])) - self._roll(float(places[0]))

    def _roll(self, x: float) -> float:
        up = []
        for side in SIDES:
            name = self.structure.rail_node(side, x)
            up.append(float(self.moved.to(name, self.structure.nodes[name])[2]))
        return (up[1] - up[0]) / (2.0 * self.structure.half)

    # rails, cross-members, subframe

    def _steel(self, at: Moved) -> list[Polyline]:
        """Rails, cross-members and subframe, the far side first."""
        high = float(self.vehicle.chassis.frame.rail_height or 0.0)
        sub = self.vehicle.build.subframe
        found = [self._strip("right rail", high, at)]
        if sub is not None:
            found.append(self._strip("right subframe", float(sub.height), at))
        found += [*self._across(at)]
        found.append(self._strip("left rail", high, at))
        if sub is not None:
            found.append(self._strip("left subframe", float(sub.height), at))
        return found

    def _strip(self, member: str, high: float, at: Moved) -> Polyline:
        """A member by its upper and lower edge."""
        names = [name for name in self.structure.nodes if name.startswith(f"{member} at")]
        edges = [[self._edge(name, sign * 0.5 * high, at) for name in names] for sign in (1.0, -1.0)]
        fill = "steel" if member.endswith("rail") else "sheet"
        return Polyline((*edges[0], *reversed(edges[1])), "steel", closed=True, fill=fill)

    def _edge(self, name: str, up: float, at: Moved) -> Point:
        x, y, z = self.structure.nodes[name]
        return at.drawn(name, (x, y, z + up))

    def _across(self, at: Moved) -> Iterator[Polyline]:
        """Cross-members."""
        members = self.vehicle.chassis.frame.cross_member
        for beam in self.structure.beams:
            if beam.warping == "free" and beam.start.startswith(("left rail", "cross-member")):
                x = self.structure.nodes[beam.start][0]
                high = float(min(members, key=lambda one: abs(float(one.at) - x)).height)
                high = min(high, float(self.vehicle.chassis.frame.rail_height or high))
                corners = [(beam.start, 0.5), (beam.end, 0.5), (beam.end, -0.5), (beam.start, -0.5)]
                yield Polyline(
                    tuple(self._edge(name, part * high, at) for name, part in corners),
                    "steel",
                    closed=True,
                    fill="sheet",
                )

    # mounts

    def _mounts(self) -> list[Entity]:
        found: list[Entity] = []
        for name, links in self.structure.mounted.items():
            own = [self.ladder.frame.links[i] for i in links]
            for i, link in zip(links, own, strict=True):
                if link.name.endswith((", up", ", seat")):
                    lifted = link.name.endswith("seat") and self.force[i] >= 0.0 and self._gap(link) > _OPEN
                    found += self._mount(link, name, lifted=lifted)
        return found

    def _gap(self, link: Link) -> float:
        """How far a seat has opened [m]."""
        return float(sum(t.weight * np.dot(self.moved.to(t.node, t.point), t.way) for t in link.touches))

    def _mount(self, link: Link, name: str, *, lifted: bool) -> list[Entity]:
        """The two sides of a mount, apart where it lifted."""
        above, below = (self.moved.drawn(touch.node, touch.point) for touch in link.touches)
        side = link.name.rsplit(", ", 2)[1]
        if lifted:
            gap = f"{fine(self.vehicle.wording, self._gap(link))}{THIN}{self.vehicle.wording.unit('length')}"
            self.labels.append(Label(above, f"{name}, {side}: lifted {gap}"))
            ring = Circle(above, 1.6 * _DOT, "alarm", "sheet")
            marks: list[Entity] = [Line(below, above, "alarm"), ring, Circle(below, _DOT, "thin", "bad")]
            return [Group("lifted", tuple(marks), {"mount": name, "side": side})]
        if side != "right":
            self.labels.append(Label(below, name))
        return [Line(below, above, "thin"), Circle(below, _DOT, "thin", "ink")]
