"""Moment, shear and stress under the side view, on the same x scale: one case at one fill, or all of them.

    entities = frame_diagrams(assessment)            # the worst case of the rails, otherwise than at rest
    entities = frame_envelope(assessment)            # greatest and least over all cases and fills

x is in metres behind the first axle, true to scale; each diagram says what one millimetre of paper stands for.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from tunwright.build.typed import capital
from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Entity, Group, Line, Polyline, Text
from tunwright.sheets.frame.chosen import Peak, Shown, known, members, peak, worst
from tunwright.sheets.frame.envelope import EnvelopePart, bounds_of, envelope
from tunwright.sheets.frame.panel import Bound, Curve, Panel
from tunwright.sheets.frame.quantities import QUANTITIES, STRESS, Quantity, along
from tunwright.sheets.frame.side import ends, light_side
from tunwright.sheets.lettering import SPARE, text_width
from tunwright.sheets.ticks import THIN
from tunwright.sheets.views.labels import Board, Label
from tunwright.sheets.views.vehicle import Vehicle

LAYERS = {
    "left rail": "outline",
    "right rail": "hidden",
    "left subframe": "accent",
    "right subframe": "accent_far",
}
"""How each member is drawn."""

TALL_MM = {"moment": 38.0, "shear": 34.0, "stress": 38.0}
_UNDER_MM, _BETWEEN_MM, _KEY_MM = 11.0, 8.0, 16.0


def frame_diagrams(assessment: Assessment, *, shown: Shown | None = None, scale: float = 40.0) -> list[Entity]:
    """Side view and diagrams of one case at one fill, the worst place named.

    assessment: the assessment
    shown: the case; the worst for the rails otherwise than at rest where left out
    scale: 1:scale, for which the names are placed
    Raises FrameNotKnown where the frame cannot be loaded.
    """
    framework = known(assessment)
    state = shown or worst(framework, static=False) or worst(framework)
    if state is None:
        raise ValueError("the vehicle stands in no case, so there is nothing to draw; see the findings")
    drawn = {name: along(state, name) for name in members(state.stresses)}
    limits = bounds_of(assessment, static=state.trial.case.static)
    curves = {q.key: [Curve(name, LAYERS[name], *curves[q.key]) for name, curves in drawn.items()] for q in QUANTITIES}
    sheet = _Stack(assessment, curves, {"stress": limits}, scale)
    peaks = [found for kind in ("rail", "subframe") if (found := peak(state, kind)) is not None]
    key = [(name, LAYERS[name]) for name in drawn]
    return sheet.drawn(key, (state.words, state.bound), [*_peak_labels(sheet, peaks)], [one.x for one in peaks[:1]])


def frame_envelope(assessment: Assessment, *, scale: float = 40.0) -> list[Entity]:
    """Side view and the greatest and least values over all cases, fills, both sides and both bounds of the warping.

    assessment: the assessment
    scale: 1:scale, for which the names are placed
    Raises FrameNotKnown where the frame cannot be loaded.
    """
    parts = envelope(known(assessment))
    curves = {q.key: [_edge(part) for part in parts if part.quantity is q] for q in QUANTITIES}
    sheet = _Stack(assessment, curves, {"stress": bounds_of(assessment, static=None)}, scale)
    key = [(curve.name, curve.layer) for curve in curves["stress"]]
    words = ("greatest and least values over all cases and fills", "both sides, warping of the rails free and held")
    return sheet.drawn(key, words, [], [])


def _edge(part: EnvelopePart) -> Curve:
    return Curve(part.name, part.layer, part.x, part.y)


def _peak_labels(sheet: _Stack, peaks: Iterable[Peak]) -> Iterable[Label]:
    for i, one in enumerate(peaks):
        panel = sheet.panels["stress"]
        stress = STRESS.words(one.value, sheet.system)
        place = sheet.vehicle.wording.words(one.x, "length").replace(" ", THIN)
        words = f"{'worst: ' if i == 0 else ''}{one.member} {stress} at{THIN}{place}"
        yield Label((one.x, panel.v(one.value)), words)


class _Stack:
    """A side view with diagrams under it."""

    def __init__(
        self, assessment: Assessment, curves: dict[str, list[Curve]], bounds: dict[str, list[Bound]], scale: float
    ) -> None:
        self.vehicle = Vehicle(assessment)
        self.scale, self.mm, self.system = scale, scale / 1000.0, self.vehicle.wording.system
        self.ends = ends(self.vehicle)
        top = -(_UNDER_MM + _KEY_MM) * self.mm
        self.panels: dict[str, Panel] = {}
        for quantity in QUANTITIES:
            panel = Panel(
                quantity,
                curves[quantity.key],
                bounds.get(quantity.key, ()),
                ends=self.ends,
                top=top,
                tall=TALL_MM[quantity.key],
                scale=scale,
                system=self.system,
            )
            self.panels[quantity.key] = panel
            top = panel.bottom - _BETWEEN_MM * self.mm

    def drawn(
        self, key: list[tuple[str, str]], words: tuple[str, str], labels: list[Label], marks: list[float]
    ) -> list[Entity]:
        """Everything, names placed last.

        key: names and layers of the lines
        words: what is shown, and a quiet word on it
        labels: names beside those of the extremes
        marks: places marked through all diagrams [m]
        """
        entities = [*light_side(self.vehicle), *self._verticals(), *self._key(key, words)]
        entities += [part for panel in self.panels.values() for part in panel.entities()]
        entities += [part for x in marks for part in self._marked(x)]
        found = [*labels, *self._extremes(), *self._mounts()]
        return [*entities, Group("names", tuple(Board(entities, self.scale).place(found)))]

    def _verticals(self) -> list[Entity]:
        """Axles and mounts through all diagrams."""
        found: list[Entity] = []
        for panel in self.panels.values():
            found += [
                Line((float(a.at), panel.head), (float(a.at), panel.bottom), "centre")
                for a in self.vehicle.chassis.axle
            ]
            found += [
                Line((float(m.at), panel.head), (float(m.at), panel.bottom), "grid") for m in self.vehicle.build.mount
            ]
        return [*found, *self._places(self.panels["stress"].bottom)]

    def _places(self, low: float) -> list[Entity]:
        """Places of the axles under the lowest diagram."""
        figure = self.vehicle.wording.length
        return [
            Text((float(a.at), low), figure(float(a.at)), "note", 2.0, "middle", shift_mm=(0.0, -3.6), halo=True)
            for a in self.vehicle.chassis.axle
        ]

    def _key(self, key: list[tuple[str, str]], words: tuple[str, str]) -> list[Entity]:
        """What is shown, and a sample of each line."""
        left, v = self.ends[0], -(_UNDER_MM - 2.0) * self.mm
        said, quiet = words
        found: list[Entity] = [
            Text((left, v), capital(said), "text", 3.0, bold=True),
            Text((left, v), capital(quiet), "note", 2.2, shift_mm=(0.0, -4.4)),
        ]
        x, v = left, v - 10.4 * self.mm
        for name, layer in key:
            found.append(Line((x, v + 0.9 * self.mm), (x + 9.0 * self.mm, v + 0.9 * self.mm), layer))
            found.append(Text((x, v), name, "note", 2.2, shift_mm=(11.0, 0.0)))
            x += (11.0 + SPARE * text_width(name, 2.2) + 7.0) * self.mm
        return found

    def _marked(self, x: float) -> list[Entity]:
        """A place marked through all diagrams, with a pointer under the rail."""
        tip = self.vehicle.frame["top"].value - self.vehicle.frame["rail height"].value
        w = 1.2 * self.mm
        pointer = Polyline(((x, tip), (x - w, tip - 2.2 * w), (x + w, tip - 2.2 * w)), "thin", closed=True, fill="bad")
        lines = [Line((x, panel.head), (x, panel.bottom), "alarm") for panel in self.panels.values()]
        return [*lines, Group("worst", (pointer,), {"x": f"{x:.4f}"})]

    def _extremes(self) -> list[Label]:
        """Each curve's greatest moment and shear with its name."""
        found = []
        for quantity in QUANTITIES[:2]:
            panel = self.panels[quantity.key]
            found += [self._extreme(quantity, panel, curve) for curve in panel.curves if np.abs(curve.y).max() > 0.0]
        return found

    def _extreme(self, quantity: Quantity, panel: Panel, curve: Curve) -> Label:
        i = curve.greatest
        words = f"{curve.name} {quantity.words(float(curve.y[i]), self.system)}"
        return Label(panel.point(curve, i), words)

    def _mounts(self) -> list[Label]:
        top = self.vehicle.frame["top"].value
        return [Label((float(m.at), top), m.name, sides=(1,)) for m in self.vehicle.build.mount]
