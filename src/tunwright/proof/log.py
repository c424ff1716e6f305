"""The log of a pump control, read: times, what the meter counted, where the vehicle was, how full its tank."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.problems import Problem
from tunwright.proof.cells import Wanted
from tunwright.proof.rows import Rows, read_rows
from tunwright.proof.way import distances, plane
from tunwright.tables.read import shop_value

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

COLUMNS = (
    Wanted("time", "seconds, or a date with a time as in ISO 8601", "2026-05-04T07:30:00", needed=True, usual=True,
           what="time", low=-1e12, high=1e12),
    Wanted("flow_l_min", "flow through the meter [L/min]", "620", usual=True, low=0.0, high=1e6, blank=True),
    Wanted("pulses", "pulses of the meter since the row before", "1240", low=0.0, high=1e12, whole=True),
    Wanted("lat", "latitude, north positive [deg]", "47.38012", low=-90.0, high=90.0, blank=True),
    Wanted("lon", "longitude, east positive [deg]", "8.54321", low=-180.0, high=180.0, blank=True),
    Wanted("x_m", "place towards the east [m]", "120.5", low=-1e7, high=1e7, blank=True),
    Wanted("y_m", "place towards the north [m]", "-33.0", low=-1e7, high=1e7, blank=True),
    Wanted("speed_km_h", "speed over the road [km/h]", "12", low=0.0, high=300.0, blank=True),
    Wanted("pump", "0 where the pump stands, 1 or its speed [rpm] where it turns", "1", low=0.0, high=1e5, blank=True),
    Wanted("level_mm", "level at the dip point over the floor [mm]", "845", low=-100.0, high=1e4, blank=True),
)  # fmt: skip
"""Columns of a log."""

_LEAST = 2  # rows


@dataclass(frozen=True, eq=False)
class Log:
    """A log from the first row to the last in which the meter was read; what is not known is not a number.

    rows: the file
    start: time of its first row where times are dates, else None
    time: since its first row [s]
    flow: through the meter [m3/s]; None where pulses were logged
    counted: since the row before [m3]; None where the flow was logged
    usual: the usual time from one reading of the meter to the next [s]
    gaps: whether each step, from a row to the next, is within a gap, in which nobody looked at the meter
    east, north: place on a plane, for drawing [m]
    gone: way of each step [m]
    speed: over the road [m/s]
    pump: its speed, or 1 and 0 [-]
    level: at the dip point over the floor [m]
    degrees: latitude and longitude, where those were logged [deg]
    """

    rows: Rows
    start: datetime | None
    time: Floats
    flow: Floats | None
    counted: Floats | None
    usual: float
    gaps: Flags
    east: Floats
    north: Floats
    gone: Floats
    speed: Floats
    pump: Floats
    level: Floats
    degrees: tuple[Floats, Floats] | None

    @cached_property
    def step(self) -> Floats:
        """Time of each step [s]."""
        return np.diff(self.time)

    @property
    def has_places(self) -> bool:
        """Whether it says where the vehicle was."""
        return bool(np.isfinite(self.east).sum() > 1)

    @property
    def has_levels(self) -> bool:
        """Whether it says how full the tank was."""
        return bool(np.isfinite(self.level).sum() > 1)

    @property
    def has_pump(self) -> bool:
        """Whether it says when the pump turned."""
        return bool(np.isfinite(self.pump).any())


def read_log(path: Path, k_factor: float | None = None) -> Log:
    """A log. Raises RowProblems with everything wrong with it.

    path: the file
    k_factor: pulses of the meter for each volume [1/m3], None where not told
    """
    return log_of(read_rows(path, COLUMNS), k_factor)


def log_of(rows: Rows, k_factor: float | None = None) -> Log:
    """A log of its rows. Raises RowProblems where they contradict each other or say too little.

    rows: the rows
    k_factor: pulses of the meter for each volume [1/m3], None where not told
    """
    rows.refuse(_columns(rows, k_factor) or _times(rows))
    pulses = "pulses" in rows.cells
    every, first = _seconds(rows)
    read = np.array(rows.numbers("pulses" if pulses else "flow_l_min"))
    _enough(rows, read)
    part = slice(int(np.flatnonzero(np.isfinite(read))[0]), int(np.flatnonzero(np.isfinite(read))[-1]) + 1)
    time, read = every[part] - every[part][0], read[part]
    usual, gaps = _gaps(time, np.isfinite(read))
    east, north, gone, degrees = _places(rows, part, time)
    speed, pump, level = (np.array(rows.numbers(name))[part] for name in ("speed_km_h", "pump", "level_mm"))
    flow = None if pulses else filled(time, read) / LITRES_A_MINUTE
    return Log(
        rows, None if first is None else first + timedelta(seconds=float(every[part][0])), time,
        flow, read / (k_factor or 1.0) if pulses else None, usual, gaps,
        east, north, gone, filled(time, speed) / 3.6, _held(pump), level / 1000.0, degrees,
    )  # fmt: skip


def filled(time: Floats, values: Floats) -> Floats:
    """Values with straight lines over empty cells, where these are no gap.

    time: of each row [s]
    values: not a number where the cell is empty
    """
    known = np.isfinite(values)
    if known.all() or known.sum() < _LEAST:
        return values
    _, gaps = _gaps(time, known)
    inside = np.zeros(len(time), dtype=bool)
    inside[1:-1] = gaps[:-1] & gaps[1:]
    ends = np.flatnonzero(known)
    outside = (np.arange(len(time)) < ends[0]) | (np.arange(len(time)) > ends[-1])
    made = np.interp(time, time[known], values[known])
    return np.where(known, values, np.where(inside | outside, np.nan, made))


def _gaps(time: Floats, known: Flags) -> tuple[float, Flags]:
    """The usual time from a known row to the next [s], and which steps lie where it is far longer."""
    at = np.flatnonzero(known)
    between = np.diff(time[at])
    above = between[between > 0.0]
    usual = float(np.median(above)) if len(above) else 0.0
    gaps = np.zeros(len(time) - 1, dtype=bool)
    for i in np.flatnonzero(between > shop_value("log_gap") * usual):
        gaps[at[i] : at[i + 1]] = True
    return usual, gaps


def _held(values: Floats) -> Floats:
    """Each empty cell with the value above it."""
    last = np.maximum.accumulate(np.where(np.isfinite(values), np.arange(len(values)), 0))
    held: Floats = values[last]
    return held


def _columns(rows: Rows, k_factor: float | None) -> list[Problem]:
    """Columns that contradict each other, or lack their other half."""
    found, has = list[Problem](), rows.cells.keys()

    def wrong(message: str, allowed: str, example: str) -> None:
        found.append(Problem(None, "", "", message, allowed, example))

    if ("flow_l_min" in has) == ("pulses" in has):
        both = "flow_l_min" in has
        message = "There are a flow and pulses; one of them is enough." if both else "What the meter read is missing."
        wrong(message, "a column flow_l_min, or a column pulses with its K-factor", '"time,flow_l_min"')
    elif "flow_l_min" in has and k_factor is not None:
        wrong("A K-factor was given, and the log has flows, no pulses.", "no --k, or a column pulses", "")
    elif "pulses" in has and k_factor is None:
        wrong("Pulses need the K-factor of the meter.", "the option --k with it", '--k "120 pulses/L"')
    for one, other in (("lat", "lon"), ("x_m", "y_m")):
        if (one in has) != (other in has):
            there, lacks = (one, other) if one in has else (other, one)
            wrong(f"The column {there} says nothing without {lacks}.", f"both of {one} and {other}", f"{one},{other}")
    if "lat" in has and "x_m" in has:
        wrong("There are places in degrees and in metres; one of them is enough.", "lat and lon, or x_m and y_m", "")
    return found


def _times(rows: Rows) -> list[Problem]:
    """Times of two kinds, or times that go back."""
    times = rows.cells["time"]
    kinds = [(type(one), getattr(one, "tzinfo", None) is None) for one in times]
    for line, kind in zip(rows.lines, kinds, strict=True):
        if kind != kinds[0]:
            wrong = "This time is written in another way than that of the first row."
            allowed = "all in seconds, or all as dates, with a zone in all or in none"
            return [Problem(line, "column time", "", wrong, allowed, "")]
    found = []
    for line, (before, now) in zip(rows.lines[1:], pairwise(times), strict=True):
        if now < before:  # type: ignore[operator]
            wrong = f"The time goes back: the row before says {before}."
            allowed = "each time at or after the one before; where a clock was set back, dates with their zone"
            found.append(Problem(line, "column time", str(now), wrong, allowed, "2026-05-04T07:30:00+02:00"))
    return found


def _enough(rows: Rows, read: Floats) -> None:
    """Refuse a log in which the meter was read fewer than two times, or that takes no time."""
    name, many = "pulses" if "pulses" in rows.cells else "flow_l_min", int(np.isfinite(read).sum())
    if many < _LEAST:
        wrong = f"The meter was read in {many} row{'' if many == 1 else 's'} of the log."
        example = "a row every second, or every minute"
        rows.refuse([Problem(None, f"column {name}", "", wrong, "two rows or more", example)])
    times = rows.cells["time"]
    if times[0] == times[-1]:
        wrong = "All rows have the same time."
        rows.refuse([Problem(None, "column time", str(times[0]), wrong, "a date with a time of day, or seconds", "")])


def _seconds(rows: Rows) -> tuple[Floats, datetime | None]:
    """Times since the first row of the file [s], and its date where times are dates."""
    times = rows.cells["time"]
    first = times[0]
    if isinstance(first, datetime):
        found = [(one - first).total_seconds() if isinstance(one, datetime) else math.nan for one in times]
        return np.array(found), first
    return np.array(rows.numbers("time")), None


def _places(
    rows: Rows, part: slice, time: Floats
) -> tuple[Floats, Floats, Floats, tuple[Floats, Floats] | None]:
    """Places on a plane, way of each step, and the degrees where those were logged."""
    if "lat" in rows.cells:
        lat, lon = (np.array(rows.numbers(name))[part] for name in ("lat", "lon"))
        both = np.isfinite(lat) & np.isfinite(lon)
        lat, lon = filled(time, np.where(both, lat, np.nan)), filled(time, np.where(both, lon, np.nan))
        east, north = plane(lat, lon)
        return east, north, distances(lat, lon), (lat, lon)
    x, y = (np.array(rows.numbers(name))[part] for name in ("x_m", "y_m"))
    both = np.isfinite(x) & np.isfinite(y)
    east, north = filled(time, np.where(both, x, np.nan)), filled(time, np.where(both, y, np.nan))
    return east, north, np.hypot(np.diff(east), np.diff(north)), None
