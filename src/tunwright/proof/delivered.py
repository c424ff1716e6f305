"""What the meter counted: litres in all, over time, and what the gaps of the log leave open."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

import numpy as np

from tunwright.proof.log import Flags, Floats, Log

MINUTE, HOUR = 60.0, 3600.0


@dataclass(frozen=True, eq=False)
class Delivered:
    """Water through the meter.

    log: the log
    """

    log: Log

    @cached_property
    def each(self) -> Floats:
        """Water of each step [m3]: by the trapezoid of its flows, or as counted; none within a gap."""
        return np.where(self.log.gaps, 0.0, self._each)

    @cached_property
    def _each(self) -> Floats:
        if self.log.counted is not None:
            return self.log.counted[1:]
        flow = np.zeros(len(self.log.time)) if self.log.flow is None else self.log.flow
        made: Floats = np.nan_to_num(0.5 * (flow[:-1] + flow[1:])) * self.log.step
        return made

    @cached_property
    def in_gaps(self) -> float:
        """Water counted over gaps [m3]; 0 where the flow was logged, for then nobody knows."""
        return float(self._each[self.log.gaps].sum()) if self.log.counted is not None else 0.0

    @cached_property
    def total(self) -> float:
        """All water that was counted [m3], that of gaps included."""
        return float(self.each.sum()) + self.in_gaps

    @cached_property
    def open(self) -> float:
        """How far the water may be off for what the flow did between two rows [m3]; 0 where pulses were counted.

        Where the flow only rose or only fell between the rows, it is within this.
        """
        if self.log.flow is None:
            return 0.0
        leaves = 0.5 * np.abs(np.diff(self.log.flow)) * self.log.step
        return float(np.nan_to_num(leaves[~self.log.gaps]).sum())

    @cached_property
    def so_far(self) -> Floats:
        """Water up to each row [m3], without that of gaps."""
        return np.concatenate([[0.0], np.cumsum(self.each)])

    def up_to(self, times: Floats) -> Floats:
        """Water up to any time [m3]; between rows the flow runs straight, or is even where pulses were counted.

        times: since the first row [s]
        """
        time = self.log.time
        at = np.clip(np.searchsorted(time, times, side="right") - 1, 0, len(time) - 2)
        step = np.where(self.log.step > 0.0, self.log.step, 1.0)[at]
        part = np.clip((times - time[at]) / step, 0.0, 1.0)
        if self.log.flow is None:
            return self.so_far[at] + part * self.each[at]
        first, last = (np.nan_to_num(one)[at] for one in (self.log.flow[:-1], self.log.flow[1:]))
        grown = (first * part + 0.5 * (last - first) * part**2) * self.log.step[at]
        found: Floats = self.so_far[at] + np.where(self.log.gaps[at], 0.0, grown)
        return found

    def bins(self, width: float) -> tuple[Floats, Floats]:
        """Beginnings since the first row [s] and water [m3] of whole minutes or hours; the first one may be part.

        width: of a bin [s]
        """
        end = float(self.log.time[-1])
        first = -_past(self.log.start, width)
        edges: Floats = first + width * np.arange(math.ceil((end - first) / width - 1e-9) + 1, dtype=float)
        laid: Floats = np.diff(self.up_to(edges))
        return edges[:-1], laid

    def within(self, steps: Flags) -> float:
        """Water of some of the steps [m3].

        steps: which
        """
        return float(self.each[steps].sum())


def _past(start: datetime | None, width: float) -> float:
    """Time since the last whole minute or hour of the clock [s]."""
    if start is None:
        return 0.0
    return (start.hour * 3600 + start.minute * 60 + start.second + start.microsecond * 1e-6) % width
