"""Charts of a build: axle loads over the water, over the place of the tank, and the dip chart.

    chart = loads_over_fill(assessment)
    svg = chart_svg(chart, width_mm=180.0, height_mm=90.0)

Figures are in the units of the order.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.assess import Assessment
from tunwright.checks.window import Window
from tunwright.sheets.chart import Axis, Band, Chart, Limit, Mark, Series
from tunwright.sheets.dips import DipColumn, DipTable, dip_rows
from tunwright.sheets.lifted import lifted_words
from tunwright.sheets.views.loads import Carried, carried
from tunwright.sheets.views.marks import window_words
from tunwright.sheets.views.surfaces import full_state
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.sheets.views.wording import Wording
from tunwright.truck.loads import LoadTable
from tunwright.truck.states import LoadState

__all__ = ["DipColumn", "DipTable", "dip_chart", "dip_rows", "loads_over_fill", "position_sensitivity"]

Floats = NDArray[np.float64]
_BESIDE = 0.4  # how far the chart of places runs past the window and the tank's own place [m]
_CURVE_STEP = 0.02  # between the points of the dip chart [m]
_MOST_WITH_GRADE = 2


def loads_over_fill(assessment: Assessment) -> Chart:
    """What every axle or group carries from dry to the brim, level with the crew aboard, against its limit.

    Hatched beyond the fill limit, which also counts the grades; the net volume is marked. Where the axle loads cannot
    be worked out the mass of the whole vehicle takes their place.
    """
    vehicle, net = Vehicle(assessment), full_state(assessment.truck)
    wording, sweep = vehicle.wording, assessment.truck.sweep
    level = sweep.only(sweep.mask(grade=0.0, crew=True, stance=net.stance))
    level = _sorted(level)
    water = tuple(wording.number(litres / 1000.0, "volume") for litres in level.litres.tolist())
    found = carried(vehicle, assessment.truck.loading.table([net]))
    lines, limits = _loads(vehicle, level, water, found)
    full = float(assessment.truck.volumes.net.sum())
    return Chart(
        "Axle loads over the water",
        Axis("water", wording.unit("volume"), low=0.0),
        Axis("load", wording.unit("mass"), low=0.0),
        lines,
        limits,
        _beyond(assessment, wording),
        (Mark(wording.number(full, "volume"), f"net {wording.words(full, 'volume')}"),),
        _told(vehicle, found, full, net),
    )


def _sorted(table: LoadTable) -> LoadTable:
    """Without states of no other water: from dry to the brim, each volume once."""
    _, first = np.unique(np.round(table.litres, 6), return_index=True)
    keep = np.zeros(len(table.states), dtype=bool)
    keep[first] = True
    return table.only(keep)


def _loads(
    vehicle: Vehicle, level: LoadTable, water: tuple[float, ...], found: list[Carried]
) -> tuple[tuple[Series, ...], tuple[Limit, ...]]:
    wording = vehicle.wording
    lines: list[Series] = []
    for one in found:
        loads = level.axles[:, list(one.support.axles)].sum(axis=1)
        if np.isfinite(loads).any():
            lines.append(_line(wording, one, found, water, loads))
    if lines:
        return tuple(lines), tuple(_limit(wording, one) for one in found if math.isfinite(one.limit))
    gross = tuple(wording.number(mass, "mass") for mass in level.gross.tolist())
    rating = float(vehicle.chassis.gross_rating)
    limit = Limit(wording.number(rating, "mass"), f"gross rating {wording.bare(rating, 'mass')}")
    return (Series("whole vehicle", water, gross),), (limit,)


def _line(wording: Wording, one: Carried, found: list[Carried], x: tuple[float, ...], loads: Floats) -> Series:
    """The line of an axle or group; the rearmost in the accent colour."""
    y = tuple(wording.number(load, "mass") for load in loads.tolist())
    return Series(one.name, x, y, "accent" if one is found[-1] else "ink")


def _limit(wording: Wording, one: Carried) -> Limit:
    return Limit(
        wording.number(one.limit, "mass"),
        f"{one.name} {wording.bare(one.limit, 'mass')}" + (f" ({one.of})" if one.of else ""),
    )


def _beyond(assessment: Assessment, wording: Wording) -> tuple[Band, ...]:
    if assessment.unknown:
        return ()
    limit, gross = assessment.fill_limit, float(assessment.truck.volumes.gross.sum())
    start = 0.0 if limit.fails_dry else limit.water
    if (limit.binds is None and not limit.fails_dry) or start >= gross:
        return ()
    words = "a limit fails empty" if limit.fails_dry else f"over the fill limit, {wording.words(start, 'volume')}"
    return (Band(wording.number(start, "volume"), wording.number(gross, "volume"), words),)


def _told(vehicle: Vehicle, found: list[Carried], full: float, state: LoadState) -> str:
    wording, lifted = vehicle.wording, lifted_words(vehicle.truck, state.stance)
    parts = [f"{one.name} {wording.words(one.load, 'mass')}" for one in found if math.isfinite(one.load)]
    with_it = ", ".join(part for part in (f"With {wording.words(full, 'volume')}", lifted) if part)
    return f"{with_it}: {', '.join(parts) or 'axle loads not known'}."


def position_sensitivity(assessment: Assessment) -> Chart:
    """What every axle or group carries with the net volume over the place of the tank's middle: straight lines.

    The permitted window is hatched, the place of the build marked. Raises ValueError where no axle load is known.
    """
    vehicle, net = Vehicle(assessment), full_state(assessment.truck)
    wording, table, window = vehicle.wording, assessment.truck.loading.table([net]), vehicle.window
    middle = float(vehicle.tank.middle)
    ends = [middle, *_window_ends(window)]
    low, high = min(ends) - _BESIDE, max(ends) + _BESIDE
    places = np.array([low, middle, high])
    found = [one for one in carried(vehicle, table) if math.isfinite(one.load)]
    if not found:
        raise ValueError("no axle load is known, so nothing can be drawn over the place of the tank; give spring_rate")
    lines = []
    for one in found:
        slope = float(table.per_metre[0, list(one.support.axles)].sum())
        loads = one.load + slope * (places - middle)
        lines.append(_line(wording, one, found, _lengths(wording, places), loads))
    return Chart(
        "Axle loads over the place of the tank",
        Axis("middle of the tank behind the first axle", wording.unit("length"), *_lengths(wording, places[[0, 2]])),
        Axis("load", wording.unit("mass"), low=0.0),
        tuple(lines),
        tuple(_limit(wording, one) for one in found if math.isfinite(one.limit)),
        *_permitted(vehicle, window, low, high),
        _told(vehicle, found, float(assessment.truck.volumes.net.sum()), net),
    )


def _lengths(wording: Wording, places: Floats) -> tuple[float, ...]:
    return tuple(wording.number(x, "length") for x in places.tolist())


def _window_ends(window: Window | None) -> list[float]:
    """The ends a window has; none where it is empty or not known."""
    return [] if window is None or window.empty else [x for x in (window.low, window.high) if math.isfinite(x)]


def _permitted(
    vehicle: Vehicle, window: Window | None, low: float, high: float
) -> tuple[tuple[Band, ...], tuple[Mark, ...]]:
    """The window as a band, or as a mark where it is a point; and the mark of where the tank stands now."""
    wording, middle = vehicle.wording, float(vehicle.tank.middle)
    now = Mark(wording.number(middle, "length"), f"now {wording.length(middle)}")
    if window is None or window.empty or max(window.low, low) > min(window.high, high):
        return (), (now,)
    left, right = max(window.low, low), min(window.high, high)
    ends, words = _lengths(wording, np.array([left, right])), " ".join(window_words(vehicle, window))
    if right - left < 0.005 * (high - low):
        return (), (now, Mark(ends[0], words))
    return (Band(ends[0], ends[1], words),), (now,)


def dip_chart(assessment: Assessment, *, grade: float = 0.0) -> Chart:
    """Water over the level of the dip stick; with a grade also nose up and nose down.

    grade: slope of the road besides level [-]; with three or more compartments left to the table, for clearness
    """
    wording = Wording(assessment.build.order.units)
    several = len(assessment.truck.solid.compartments) > _MOST_WITH_GRADE
    table = dip_rows(assessment, step=_CURVE_STEP, grades=(grade,) if grade and not several else ())
    levels = tuple(wording.number(level, "length") for level in table.levels)
    lines = []
    for i, column in enumerate(table.columns):
        volumes = tuple(wording.number(row[i], "volume") for row in table.volumes)
        lines.append(Series(_dip_name(column), levels, volumes, "ink" if column.grade else "accent"))
    net = assessment.truck.volumes.net
    limit = Limit(wording.number(float(net[0]), "volume"), f"net {wording.words(float(net[0]), 'volume')}")
    return Chart(
        "Dip chart",
        Axis("level over the floor at the dip point", wording.unit("length"), low=0.0),
        Axis("water", wording.unit("volume"), low=0.0),
        tuple(lines),
        (limit,) if len(net) == 1 else (),
        description=f"Water from dry to {wording.words(max(map(max, table.volumes)), 'volume')}.",
    )


def _dip_name(column: DipColumn) -> str:
    slope = (
        f"{abs(100.0 * column.grade):g} % nose {'up' if column.grade > 0.0 else 'down'}" if column.grade else "level"
    )
    return f"{column.compartment}, {slope}" if column.compartment else slope
