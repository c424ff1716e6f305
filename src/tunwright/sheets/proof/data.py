"""What was measured as plain data: always metric, never NaN."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import numpy as np

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.checks.finding import Finding
from tunwright.proof.along import Pool, Segment
from tunwright.proof.calibration import Calibration
from tunwright.proof.calibration_findings import calibration_findings
from tunwright.proof.delivered import HOUR, MINUTE
from tunwright.proof.delivery_log import Deliveries
from tunwright.proof.log import Log
from tunwright.sheets.data import number
from tunwright.sheets.pipework.listing import Value
from tunwright.sheets.proof.calibration_words import answer, sentences
from tunwright.sheets.proof.delivery_words import headline
from tunwright.sheets.proof.delivery_words import sentences as told
from tunwright.sheets.proof.loss_words import losses

_LITRES = 1000.0


def calibration_data(one: Calibration) -> dict[str, Any]:
    """A meter as its runs show it.

    one: the meter
    """
    size = 1.0 if one.relative else 1000.0
    return {
        "file": one.rows.file,
        "sha256": one.rows.sha256,
        "counted": "litres shown" if one.display else "pulses",
        "k_factor_pulses_l": None if one.relative else number(one.k_factor / size, 6),
        "standard_error_pulses_l": None if one.relative else number(one.error / size, 6),
        "k_factor_before_pulses_l": number(None if one.before is None else one.before / 1000.0, 6),
        "multiply_k_factor_by": number(_times(one), 6),
        "limit": number(one.limit, 4),
        "worst_as_found": number(one.worst_found, 6),
        "worst_as_set": number(one.worst_left, 6),
        "trend": _trend(one),
        "strays": [one.runs[i].name for i in one.strays],
        "runs": [_run(one, i) for i in range(len(one.runs))],
        "findings": [_finding(each) for each in calibration_findings(one)],
        "words": [answer(one), *sentences(one)],
    }


def _times(one: Calibration) -> float | None:
    """By what the K-factor of the display is to be multiplied [-]."""
    if one.relative:
        return one.k_factor
    return None if one.before is None else one.k_factor / one.before


def _trend(one: Calibration) -> dict[str, Any] | None:
    if one.trend is None:
        return None
    return {
        "slow_l_min": number(LITRES_A_MINUTE * one.trend.slowest, 1),
        "fast_l_min": number(LITRES_A_MINUTE * one.trend.fastest, 1),
        "difference": number(one.trend.difference, 6),
        "chance": number(one.trend.chance, 6),
        "seen": one.trend.seen,
    }


def _run(one: Calibration, i: int) -> dict[str, Any]:
    run = one.runs[i]
    return {
        "run": run.name,
        "line": run.line,
        "counted": number(run.count * (_LITRES if one.display else 1.0), 4),
        "volume_l": number(_LITRES * run.volume, 4),
        "mass_kg": number(run.mass, 4),
        "temperature_c": number(run.temperature - 273.15, 2),
        "flow_l_min": number(LITRES_A_MINUTE * run.flow, 2),
        "deviation_as_found": None if one.found is None else number(one.found[i], 6),
        "deviation_as_set": number(one.left[i], 6),
        "strays": i in one.strays,
    }


def _finding(each: Finding) -> dict[str, Any]:
    kept = {"key": each.key, "question": each.question, "verdict": each.verdict, "unit": each.unit}
    return {**kept, "value": number(each.value, 6), "limit": number(each.limit, 6), "note": each.note}


def delivery_data(one: Deliveries) -> dict[str, Any]:
    """A log with all that follows from it.

    one: the log
    """
    log, along, made = one.log, one.along, one.delivered
    return {
        "file": log.rows.file,
        "sha256": log.rows.sha256,
        "start": None if log.start is None else log.start.isoformat(),
        "duration_s": number(float(log.time[-1]), 3),
        "rows": len(log.time),
        "usual_step_s": number(log.usual, 3),
        "delivered_l": number(_LITRES * made.total, 2),
        "in_gaps_l": number(_LITRES * made.in_gaps, 2) if log.counted is not None else None,
        "open_between_rows_l": number(_LITRES * made.open, 2),
        "gaps": {"count": one.gap_count, "time_s": number(one.gap_time, 3)},
        "way_m": number(along.length, 1) if along.known else None,
        "wet_way_m": number(along.wet_length, 1) if along.known else None,
        "on_the_way_l": number(_LITRES * along.on_the_way, 2) if along.known else None,
        "standing_l": number(_LITRES * along.standing, 2) if along.known else None,
        "place_not_known_l": number(_LITRES * along.nowhere, 2),
        "jumps": int(along.jumps.sum()),
        "pump_still_l": number(_LITRES * one.past_the_pump, 2) if log.has_pump else None,
        "width_m": None if one.tank is None else number(one.tank.width, 3),
        "balance": _balance(one),
        "minutes": _bins(one, MINUTE),
        "hours": _bins(one, HOUR),
        "segments": [_segment(one, each) for each in along.segments()],
        "pools": [_pool(one, each) for each in along.pools],
        "findings": [_finding(each) for each in one.findings],
        "words": [headline(one, "metric"), *told(one, "metric"), *losses(one, "metric")],
    }


def _when(log: Log, seconds: float) -> str | float | None:
    """A time: a date where the log has one, else seconds since its first row."""
    if log.start is None:
        return number(seconds, 3)
    return (log.start + timedelta(seconds=round(seconds, 3))).isoformat()


def _balance(one: Deliveries) -> dict[str, Any] | None:
    balance = one.balance
    if balance is None:
        return None
    worst = balance.worst
    return {
        "tank_lost_l": number(_LITRES * balance.fell, 1),
        "metered_l": number(_LITRES * balance.passed, 1),
        "lost_l": number(_LITRES * balance.lost, 1),
        "uncertain_l": number(_LITRES * balance.uncertain, 1),
        "found": balance.found,
        "while_the_meter_counted_nothing_l": number(_LITRES * balance.while_still, 1),
        "tank_lost_in_gaps_l": number(_LITRES * balance.fell_in_gaps, 1),
        "worst": None if worst is None else _span(one, worst.start, worst.end, worst.volume),
        "fillings": [_span(one, each.start, each.end, each.volume) for each in balance.fillings],
    }


def _span(one: Deliveries, start: float, end: float, volume: float) -> dict[str, Any]:
    return {"from": _when(one.log, start), "to": _when(one.log, end), "volume_l": number(_LITRES * volume, 1)}


def _bins(one: Deliveries, width: float) -> list[dict[str, Any]]:
    """Whole minutes or hours in which water flowed."""
    starts, water = one.delivered.bins(width)
    wet = np.flatnonzero(water > 1e-9).tolist()
    return [{"from": _when(one.log, float(starts[i])), "volume_l": number(_LITRES * float(water[i]), 3)} for i in wet]


def _place(degrees: tuple[float, float] | None, east: float, north: float) -> dict[str, Any]:
    lat, lon = (None, None) if degrees is None else degrees
    return {"lat": number(lat, 7), "lon": number(lon, 7), "x_m": number(east, 2), "y_m": number(north, 2)}


def _segment(one: Deliveries, each: Segment) -> dict[str, Any]:
    wide = None if one.tank is None else one.tank.width
    return {
        "from_m": number(each.start, 2),
        "to_m": number(each.end, 2),
        "volume_l": number(_LITRES * each.volume, 3),
        "l_m": number(_LITRES * each.per_metre, 4),
        "l_m2": None if wide is None else number(_LITRES * each.per_metre / wide, 4),
        **_place(each.degrees, each.east, each.north),
    }


def _pool(one: Deliveries, each: Pool) -> dict[str, Any]:
    kept = _span(one, each.start, each.end, each.volume)
    return {**kept, "way_m": number(each.way, 2), **_place(each.degrees, each.east, each.north)}


def delivery_tables(one: Deliveries) -> dict[str, list[list[Value]]]:
    """Water by minute, by hour, by piece of way and while standing: name of the table to its rows, the first its head.

    one: the log
    """
    data = delivery_data(one)
    heads = {
        "minutes": ["from", "volume_l"],
        "hours": ["from", "volume_l"],
        "segments": ["from_m", "to_m", "volume_l", "l_m", "l_m2", "lat", "lon", "x_m", "y_m"],
        "pools": ["from", "to", "volume_l", "way_m", "lat", "lon", "x_m", "y_m"],
    }
    return {name: [list(head), *([row[key] for key in head] for row in data[name])] for name, head in heads.items()}
