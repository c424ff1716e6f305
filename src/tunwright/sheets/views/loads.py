"""Axle loads as gauges under the wheels: every axle or group against the least limit it has in the state shown."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from tunwright.checks.load_findings import track_of
from tunwright.handbook.axle_statics import Support
from tunwright.sheets.drawing import Entity, Gauge, Group, Polyline
from tunwright.sheets.lettering import SPARE, text_width
from tunwright.sheets.placing import spread
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.sheets.views.wording import Wording
from tunwright.truck.loads import LoadTable

STEM_MM = 10.6  # under the road: where the stems of the gauges begin
GAUGE_MM = 15.0  # under the road: upper edge of the gauges
_LEAST_MM = 27.0  # room for a gauge with short words


@dataclass(frozen=True)
class Carried:
    """What an axle or group carries.

    load: [kg], NaN where not known
    limit: the least limit [kg], NaN where there is none
    of: where the limit comes from when it is not the rating, else empty
    """

    name: str
    support: Support
    load: float
    limit: float
    of: str = ""

    @property
    def part(self) -> float | None:
        """Used part of the limit, None where not known."""
        part = self.load / self.limit if self.limit else math.nan
        return part if math.isfinite(part) else None


def carried(vehicle: Vehicle, table: LoadTable, row: int = 0) -> list[Carried]:
    """What stands on the road in one state of a table, front to rear."""
    state = table.states[row]
    stance = vehicle.truck.axles.stances[state.stance]
    one = table.only(np.arange(len(table.states)) == row)
    found = []
    for support in vehicle.truck.axles.supports(stance.lifted):
        limit, of = _limit(vehicle, support, one)
        load = float(one.axles[0, list(support.axles)].sum())
        found.append(Carried(vehicle.name(support), support, load, limit, of))
    return found


def _limit(vehicle: Vehicle, support: Support, one: LoadTable) -> tuple[float, str]:
    """The least limit on all axles of a support together in a state, and where it comes from."""
    axles = vehicle.chassis.axle
    ratings = [float(axles[i].rating) / share for i, share in zip(support.axles, support.shares, strict=True) if share]
    choices = [(min(ratings, default=math.nan), "")]
    state = one.states[0]
    for limit in vehicle.assessment.limits:
        same = limit.axles == support.axles and limit.sense == "at_most" and limit.share is None
        if not same or limit.on_gross or (limit.stance is not None and limit.stance != state.stance):
            continue
        if limit.where == ("grades" if state.grade else "standing") and not (state.slope or state.braking):
            value = float(limit.limit(one, track_of(vehicle.truck, limit))[0])
            choices.append((value, _source(limit.key)))
    return min((c for c in choices if math.isfinite(c[0])), default=(math.nan, ""), key=lambda choice: choice[0])


def _source(key: str) -> str:
    if key.startswith(("axle-", "group-")):
        return ""
    return "tyres" if key.startswith("tyres-") else "law"


def gauges(vehicle: Vehicle, found: list[Carried], scale: float) -> list[Group]:
    """A gauge for each, moved apart where the axles stand close, with a stem from its wheels."""
    mm = scale / 1000.0
    words = [_words(vehicle.wording, one) for one in found]
    wide = [max(_LEAST_MM, SPARE * max(text_width(v, 3.0, bold=True), text_width(n, 2.2)) + 3.0) for v, n in words]
    apart = [(a + b) / 2.0 for a, b in pairwise(wide)]
    places = spread([one.support.centre / mm for one in found], apart, -1e6, 1e6)
    return [_gauge(one, *said, place * mm, mm) for one, said, place in zip(found, words, places, strict=True)]


def _words(wording: Wording, one: Carried) -> tuple[str, str]:
    """The figure of a gauge and what stands under it."""
    value = wording.words(one.load, "mass") if math.isfinite(one.load) else "not known"
    note = f"{one.name}, of {wording.bare(one.limit, 'mass')}" if math.isfinite(one.limit) else f"{one.name}, no limit"
    return value, note + (f" ({one.of})" if one.of else "")


def _gauge(one: Carried, value: str, note: str, place: float, mm: float) -> Group:
    stem, gauge = -STEM_MM * mm, -GAUGE_MM * mm
    parts: list[Entity] = []
    if len(one.support.at) > 1:
        low = stem - 1.6 * mm
        first, last = one.support.at[0], one.support.at[-1]
        parts.append(Polyline(((first, stem), (first, low), (last, low), (last, stem)), "thin"))
        stem = low
    parts.append(Polyline(((one.support.centre, stem), (place, gauge)), "thin"))
    parts.append(Gauge((place, gauge), one.part, value, note))
    axles = " ".join(map(str, one.support.axles))
    return Group("load", tuple(parts), {"axles": axles, "name": one.name})
