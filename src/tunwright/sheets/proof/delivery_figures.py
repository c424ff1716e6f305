"""Figures of the log of a pump control in print: water, ways, times."""

from __future__ import annotations

from datetime import timedelta

from tunwright.build.factors import FOOT, US_GALLON
from tunwright.build.kind import System
from tunwright.build.shown import show_number
from tunwright.proof.log import Log
from tunwright.sheets.pipework.listing import MEASURES, said

PER_METRE: dict[System, tuple[str, float]] = {
    "metric": ("L/m", 1e-3),
    "us": ("US gal/ft", float(US_GALLON / FOOT)),
}
"""Unit of water on each length of way, and its size [m3/m]."""


def volume(value: float, system: System) -> str:
    """A volume, without decimals where it is large.

    value: [m3]
    system: "metric" or "us"
    """
    return _short(value, "volume", system, 100.0)


def length(value: float, system: System) -> str:
    """A way.

    value: [m]
    system: "metric" or "us"
    """
    return said(value, "way" if value >= 1000.0 else "run", system)


def piece(value: float, system: System) -> str:
    """A short way, without decimals where it is some metres.

    value: [m]
    system: "metric" or "us"
    """
    return _short(value, "run", system, 5.0)


def _short(value: float, kind: str, system: System, large: float) -> str:
    """A quantity with one decimal, with none where it is large in its unit."""
    measure = MEASURES[kind][system]
    size = value / measure.size
    return f"{show_number(size, 0 if abs(size) >= large else 1)} {measure.symbol}"


def per_metre(value: float, system: System) -> str:
    """Water on each length of way.

    value: [m3/m]
    system: "metric" or "us"
    """
    symbol, size = PER_METRE[system]
    return f"{show_number(value / size, 2)} {symbol}"


def lasts(seconds: float) -> str:
    """A time as "1 h 12 min", "3 min 20 s" or "45 s".

    seconds: [s]
    """
    whole = round(seconds)
    if whole >= 3600:
        parts = (60 * round(whole / 60) // 3600, "h", round(whole / 60) % 60, "min")
    else:
        parts = (whole // 60, "min", whole % 60, "s")
    large, small = f"{parts[0]} {parts[1]}", f"{parts[2]} {parts[3]}"
    return " ".join(text for text, count in ((large, parts[0]), (small, parts[2])) if count) or small


def clock(log: Log, seconds: float) -> str:
    """A time of the log: by the clock where it has one, with the day where it lasts more than one.

    log: the log
    seconds: since its first row [s]
    """
    if log.start is None:
        whole = round(seconds)
        hours, rest = f"{whole // 3600} h", lasts(whole % 3600)
        return rest if whole < 3600 else hours if whole % 3600 == 0 else f"{hours} {rest}"
    at = log.start + timedelta(seconds=seconds)
    day = (log.start + timedelta(seconds=float(log.time[-1]))).date() != log.start.date()
    return f"{at:%Y-%m-%d %H:%M}" if day else f"{at:%H:%M:%S}" if at.second else f"{at:%H:%M}"


def between(log: Log, start: float, end: float) -> str:
    """Two times of the log.

    log: the log
    start, end: since its first row [s]
    """
    of = " of the log" if log.start is None else ""
    return f"from {clock(log, start)} to {clock(log, end)}{of}"
