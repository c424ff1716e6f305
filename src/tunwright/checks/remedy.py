"""Remedies: for a failing finding, a change with a number, tried on a copy and re-assessed before it is offered."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from tunwright.build.model import Build
from tunwright.build.shown import show
from tunwright.build.tank import Baffle
from tunwright.build.units import Quantity
from tunwright.checks.assess import Assessment
from tunwright.checks.fastening.remedy import fastening_remedy
from tunwright.checks.fill_limit import limit_water
from tunwright.checks.finding import Finding, Remedy
from tunwright.checks.frame.choice import KEYS as STRESSES
from tunwright.checks.frame.choice import Choice, choice, told
from tunwright.checks.hoisting.remedy import hoisting_changes
from tunwright.checks.load_findings import track_of
from tunwright.checks.load_limit import LoadLimit
from tunwright.checks.window import Window
from tunwright.handbook.linear_window import interval

MM = 0.001
TEN_LITRES = 0.01
SPARE = 0.005
"""How far inside the window a tank is moved [m]."""

WAYS = 16
"""Ways to strengthen the frame that are tried at most: one takes a third of a second. `frame --choose` tries all."""


@dataclass(frozen=True)
class Trial:
    """A change to try.

    words: what to do
    build: the build with the change
    cap: volume the tank is filled to at most [m3], None for the brim
    """

    words: str
    build: Build
    cap: float | None = None


class Remedies:
    """Finds remedies for the failing findings of an assessment.

    base: the assessment
    """

    def __init__(self, base: Assessment) -> None:
        self.base, self.build = base, base.build
        self.units = base.build.order.units
        self._tried: dict[tuple[str, bool], Assessment] = {}

    def findings(self) -> tuple[Finding, ...]:
        """All findings, the failing ones with a remedy where one was found."""
        return tuple(replace(f, remedy=self.remedy(f)) if f.verdict == "fails" else f for f in self.base.findings)

    def remedy(self, finding: Finding) -> Remedy | None:
        """The first change that makes a finding hold; None where none of those tried does.

        finding: a failing finding
        """
        if finding.key.startswith("fastening-"):
            return fastening_remedy(self.base, finding)
        if finding.key in STRESSES:
            return self._stronger_frame(finding)
        for trial in self._trials(finding):
            if self._verdicts(trial).get(finding.key) in ("holds", "close"):
                frame = not finding.key.startswith("hoist-")
                return self._told(finding, trial, self._verdicts(trial, frame=frame))
        return finding.remedy

    def _stronger_frame(self, finding: Finding) -> Remedy | None:
        """The lightest reinforcement with which all stresses of the frame hold."""
        found = self._choice.found
        if found is None:
            return None
        after = {f.key: f.verdict for f in found.after.findings}
        before = {f.key for f in self.base.findings if f.verdict == "fails"}
        cures = tuple(key for key in sorted(before) if after.get(key, "fails") != "fails" and key != finding.key)
        return Remedy(told(found, finding.key), (), cures)

    @cached_property
    def _choice(self) -> Choice:
        return choice(self.base, most=WAYS)

    def _verdicts(self, trial: Trial, *, frame: bool = False) -> dict[str, str]:
        """Verdicts with a change; those on frame and fastenings take their time, so only where it is to be offered."""
        if (trial.words, frame) not in self._tried:
            self._tried[trial.words, frame] = Assessment(trial.build, cap=trial.cap, frame=frame)
        return {f.key: f.verdict for f in self._tried[trial.words, frame].findings}

    def _told(self, finding: Finding, trial: Trial, verdicts: Mapping[str, str]) -> Remedy:
        before = {f.key: f.verdict for f in self.base.findings}
        breaks = tuple(k for k, v in verdicts.items() if v == "fails" and before.get(k) != "fails")
        cures = tuple(k for k, v in verdicts.items() if v != "fails" and before.get(k) == "fails" and k != finding.key)
        return Remedy(trial.words + self._stronger(finding), breaks, cures)

    def _stronger(self, finding: Finding) -> str:
        """What rating would do instead, for a load over a rating."""
        if finding.unit != "kg" or finding.sense != "at_most" or finding.value is None or finding.limit is None:
            return ""
        if finding.key.startswith("hoist-"):
            return ""
        what = "gross rating" if finding.key == "gross" else "limit"
        return f" (as it is, a {what} of at least {self._mass(math.ceil(finding.value))} would be needed)"

    def _trials(self, finding: Finding) -> Iterator[Trial]:
        """Changes worth trying, the mildest first."""
        limit = next((limit for limit in self.base.limits if limit.key == finding.key), None)
        if limit is not None:
            yield from self._for_load(limit)
            return
        if finding.key.startswith("hoist-"):
            yield from (Trial(words, build) for words, build in hoisting_changes(self.base.truck, finding.key))
            return
        ways: dict[str, Callable[[Finding], Iterator[Trial]]] = {
            "capacity": self._longer,
            "bay-volume": self._baffle,
            "cab-gap": self._gap,
            "rear-overhang": self._gap,
            "side-to-side": self._sideways,
            "tank-over-frame": self._higher,
            "on-the-rails": self._shorter_subframe,
        }
        if finding.key.startswith(("braking", "axles-down", "side-slope")):
            yield from self._into_window()
            return
        tail = finding.key.rsplit("-", 1)[-1]
        way = ways.get(finding.key) or {"height": self._lower, "width": self._narrower, "length": self._gap}.get(tail)
        if way is not None:
            yield from way(finding)

    def _for_load(self, limit: LoadLimit) -> Iterator[Trial]:
        """Into the permitted window; else less water; else where this limit alone holds."""
        yield from self._into_window()
        if (
            self.base.placing.full().empty
            and not self.base.window.empty
            and self.base.window.water >= self._wanted() - TEN_LITRES
        ):
            yield self._moved_and_capped(self.base.window)
        water = limit_water(self.base.truck, limit)
        if water is not None and water > TEN_LITRES:
            cap = math.floor(water / TEN_LITRES) * TEN_LITRES
            yield Trial(f"fill to {self._volume(cap)} at most", self.build, cap)
        own = self._own_window(limit)
        if own is not None:
            yield self._moved(own)

    def _into_window(self) -> Iterator[Trial]:
        """The tank moved into the window, a little inside its end where there is room."""
        full = self.base.placing.full()
        if not full.empty:
            spare = min(SPARE, 0.5 * (full.high - full.low))
            yield self._moved(_inside(full.low + spare, full.high - spare, float(self.build.tank.middle)))

    def _own_window(self, limit: LoadLimit) -> float | None:
        """The nearest place of the tank at which one limit holds in all states [m]."""
        _, table = limit.part(self.base.truck.table)
        middle = float(self.build.tank.middle)
        sign = 1.0 if limit.sense == "at_most" else -1.0
        slope = limit.slope(table)
        bound = limit.limit(table, track_of(self.base.truck, limit))
        known = np.isfinite(slope) & np.isfinite(bound)
        start = limit.value(table) - slope * middle
        found = interval(slope=sign * slope[known], start=sign * start[known], limit=sign * bound[known])
        return None if found.empty else _inside(found.low, found.high, middle)

    def _moved(self, to: float) -> Trial:
        by = to - float(self.build.tank.middle)
        way = "back" if by > 0 else "forward"
        return Trial(f"move the tank {way} {self._length(abs(by))}", _with_tank(self.build, middle=_metres(to)))

    def _wanted(self) -> float:
        """Net volume that has to be reached [m3]: as ordered, or as the tank has it."""
        order = self.build.order
        return float(order.volume) if order.volume is not None else float(self.base.truck.volumes.net.sum())

    def _moved_and_capped(self, window: Window) -> Trial:
        """Into the window of the most water that has one, filled no higher."""
        cap = math.floor(window.water / TEN_LITRES) * TEN_LITRES
        low, high = self.base.placing.up_to(cap)
        place = _inside(low, high, float(self.build.tank.middle))
        if abs(place - float(self.build.tank.middle)) < 0.5 * MM:
            return Trial(f"fill to {self._volume(cap)} at most", self.build, cap)
        moved = self._moved(place)
        return Trial(f"{moved.words} and fill to {self._volume(cap)} at most", moved.build, cap)

    def _longer(self, finding: Finding) -> Iterator[Trial]:
        """Lengthen the tank at its rear end until it holds what was ordered."""
        short = (float(finding.limit or 0.0) - float(finding.value or 0.0)) / 1000
        volumes, tank = self.base.truck.volumes, self.build.tank
        part = float(volumes.usable.sum() / volumes.gross.sum())
        by = math.ceil(short / (self.base.truck.solid.outline.area * part) / 0.01) * 0.01
        for extra in (by, by + 0.01, by + 0.02):
            last = [
                c.model_copy(update={"end": _metres(c.end + extra)}) if abs(c.end - tank.length) < 1e-6 else c
                for c in tank.compartment
            ]
            longer = _with_tank(
                self.build,
                length=_metres(tank.length + extra),
                middle=_metres(tank.middle + extra / 2),
                compartment=last,
            )
            with_it = ", its last compartment with it" if tank.compartment else ""
            yield Trial(f"lengthen the tank by {self._length(extra)} to the rear{with_it}", longer)

    def _baffle(self, _: Finding) -> Iterator[Trial]:
        """A baffle more in the largest bay."""
        bays = [bay for part in self.base.truck.solid.compartments for bay in part.bays]
        bay = max(bays, key=lambda one: one.gross)
        at = _metres(round(0.5 * (bay.start + bay.end), 3))
        plates = sorted(
            [
                *self.build.tank.baffle,
                Baffle.model_construct(at=at, thickness=None, open=Quantity(0.2, "20 %", "ratio"), opening=[]),
            ],
            key=lambda one: one.at,
        )
        yield Trial(
            f"add a baffle {self._length(float(at))} behind the front tangent line",
            _with_tank(self.build, baffle=plates),
        )

    def _gap(self, finding: Finding) -> Iterator[Trial]:
        """Move the tank until the gap, the overhang or the length is right."""
        if finding.value is None or finding.limit is None:
            return
        by = finding.limit - finding.value
        step = math.ceil(abs(by) / MM) * MM * (1 if by > 0 else -1)
        yield self._moved(round(float(self.build.tank.middle) + step, 3))

    def _higher(self, finding: Finding) -> Iterator[Trial]:
        if finding.value is not None:
            by = math.ceil(-finding.value / MM) * MM
            higher = _with_tank(self.build, bottom=_metres(self.build.tank.bottom + by))
            yield Trial(f"set the tank {self._length(by)} higher", higher)

    def _shorter_subframe(self, _: Finding) -> Iterator[Trial]:
        """The subframe cut to the rails."""
        frame, sub = self.build.chassis.frame, self.build.subframe
        if sub is None or frame.front is None or frame.rear is None:
            return
        start, end = max(float(sub.start), float(frame.front)), min(float(sub.end), float(frame.rear))
        cut = sub.model_copy(update={"start": _metres(start), "end": _metres(end)})
        words = f"let the subframe stand on the rails, from {self._length(start)} to {self._length(end)}"
        yield Trial(words, self.build.model_copy(update={"subframe": cut}))

    def _lower(self, finding: Finding) -> Iterator[Trial]:
        if finding.value is not None and finding.limit is not None:
            by = math.ceil((finding.value - finding.limit) / MM) * MM
            lower = _with_tank(self.build, bottom=_metres(self.build.tank.bottom - by))
            yield Trial(f"set the tank {self._length(by)} lower", lower)

    def _narrower(self, finding: Finding) -> Iterator[Trial]:
        section = self.build.tank.section
        wide = getattr(section, "width", None) or getattr(section, "diameter", None)
        if finding.value is not None and finding.limit is not None and wide is not None:
            by = math.ceil((finding.value - finding.limit) / MM) * MM
            name = "width" if hasattr(section, "width") else "diameter"
            narrow = section.model_copy(update={name: _metres(wide - by)})
            yield Trial(f"make the tank {self._length(by)} narrower", _with_tank(self.build, section=narrow))

    def _sideways(self, _: Finding) -> Iterator[Trial]:
        """Bring the fitting that pulls most to one side to the middle."""
        items = self.build.item
        if not items:
            return
        pull = [float(item.mass * item.y) for item in items]
        total = sum(pull) or 1.0
        worst = max(range(len(items)), key=lambda i: pull[i] * math.copysign(1, total))
        moved = [item.model_copy(update={"y": _metres(0.0)}) if i == worst else item for i, item in enumerate(items)]
        yield Trial(
            f"bring the {items[worst].name} to the middle of the vehicle", self.build.model_copy(update={"item": moved})
        )

    def _length(self, value: float) -> str:
        return show(value, "length", system=self.units)

    def _mass(self, value: float) -> str:
        return show(value, "mass", system=self.units)

    def _volume(self, value: float) -> str:
        return show(value, "volume", system=self.units)


def _inside(low: float, high: float, middle: float) -> float:
    """The place in an interval nearest to the present one, on a whole millimetre where one fits."""
    if low <= middle <= high:
        return middle
    place = math.ceil(low / MM - 1e-9) * MM if middle < low else math.floor(high / MM + 1e-9) * MM
    return round(place, 3) if low <= place <= high else 0.5 * (low + high)


def _metres(value: float) -> Quantity:
    return Quantity(value, f"{value:.3f} m", "length")


def _with_tank(build: Build, **changes: object) -> Build:
    return build.model_copy(update={"tank": build.tank.model_copy(update=changes)})
