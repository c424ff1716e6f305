"""What the log of a pump control says, in sentences, each with how sure it is."""

from __future__ import annotations

import math
from collections.abc import Iterator

from tunwright.build.kind import System
from tunwright.build.shown import show_number
from tunwright.proof.along import Pool
from tunwright.proof.delivery_log import Deliveries
from tunwright.sheets.pipework.listing import said
from tunwright.sheets.proof.delivery_figures import between, clock, lasts, length, per_metre, piece, volume
from tunwright.tables.read import shop_value

_TINY = 1e-6  # water that counts as none [m3]


def headline(one: Deliveries, system: System) -> str:
    """How much was delivered in what time.

    one: the log
    system: "metric" or "us"
    """
    log = one.log
    day = "" if log.start is None else f" on {log.start:%Y-%m-%d}"
    when = between(log, 0.0, float(log.time[-1]))
    return f"{volume(one.delivered.total, system)} passed the meter{day} {when} ({lasts(float(log.time[-1]))})."


def sentences(one: Deliveries, system: System) -> Iterator[str]:
    """All that the log says besides, with how sure it is.

    one: the log
    system: "metric" or "us"
    """
    yield _sure(one, system)
    yield from _gaps(one, system)
    yield from _where(one, system)
    yield from _jumps(one, system)
    yield from _pools(one, system)


def _sure(one: Deliveries, system: System) -> str:
    meter = shop_value("meter_deviation")
    share, off = show_number(100 * meter, 1), volume(meter * one.delivered.total, system)
    off = f"A meter is taken to be within {share} % ({off}) until it is calibrated."
    if one.log.flow is None:
        return f"{off} Pulses were counted, so that nothing is lost between the rows."
    usual = lasts(one.log.usual)
    return (
        f"{off} Between the rows, {usual} apart, the flow is taken to run straight; that leaves "
        f"{volume(one.delivered.open, system)} open at most where it rose or fell."
    )


def _gaps(one: Deliveries, system: System) -> Iterator[str]:
    if not one.gap_count:
        return
    many = "one gap" if one.gap_count == 1 else f"{one.gap_count} gaps"
    told = f"The log has {many} longer than {shop_value('log_gap'):g} usual steps, {lasts(one.gap_time)} in all."
    if one.log.counted is None:
        yield f"{told} What flowed meanwhile is not known and is not in any figure here."
    else:
        yield f"{told} The pulses of them, {volume(one.delivered.in_gaps, system)}, are in the sum, but in no place."


def _where(one: Deliveries, system: System) -> Iterator[str]:
    along = one.along
    if not along.known:
        yield "Where the water went is not known: the log has neither places nor speeds."
        return
    how = "by its places" if one.log.has_places else "by its speeds"
    yield (
        f"The vehicle drove {length(along.length, system)}, {how}. On {length(along.wet_length, system)} of it lie "
        f"{volume(along.on_the_way, system)}{_mean(one, system)}."
    )
    if one.log.has_places:
        yield (
            f"A place is good to some {piece(5.0, system)}: on straight roads the way hardly suffers, in bends and at "
            "walking pace it reads long, and the water on each metre little. Each passing of a road counts by itself."
        )
    if along.nowhere > _TINY:
        yield f"Of {volume(along.nowhere, system)} the place is not known."


def _mean(one: Deliveries, system: System) -> str:
    along, tank = one.along, one.tank
    if along.wet_length <= 0.0:
        return ""
    each = along.on_the_way / along.wet_length
    if tank is None or tank.width is None:
        return f", {per_metre(each, system)} on average"
    laid, wide = said(each / tank.width, "depth", system), said(tank.width, "run", system)
    return f", {per_metre(each, system)} or {laid} on average on the {wide} that “{tank.duty}” wets"


def _jumps(one: Deliveries, system: System) -> Iterator[str]:
    many = int(one.along.jumps.sum())
    if many:
        limit = said(shop_value("log_jump"), "road", system)
        yield (
            f"In {many} step{'' if many == 1 else 's'} the place jumps faster than {limit}: a wrong place, left out of "
            "the way."
        )


def _pools(one: Deliveries, system: System) -> Iterator[str]:
    pools = one.along.pools
    if not pools:
        return
    most = pools[0]
    times = f"{len(pools)} times" if len(pools) > 1 else "once"
    yield (
        f"Water flowed while the vehicle stood, {times}: {volume(one.along.standing, system)} in all, the most "
        f"{between(one.log, most.start, most.end)} ({volume(most.volume, system)}). There it stands in a pool."
    )


def stood(one: Deliveries, pool: Pool, system: System) -> list[str]:
    """A row of the table of pools: when, how long, how much, where.

    one: the log
    pool: the pool
    system: "metric" or "us"
    """
    if pool.degrees is not None:
        place = f"{pool.degrees[0]:.5f}, {pool.degrees[1]:.5f}"
    elif math.isfinite(pool.east):
        place = f"{show_number(pool.east)} m, {show_number(pool.north)} m"
    else:
        place = "–"
    time = pool.end - pool.start
    return [clock(one.log, pool.start), lasts(time), volume(pool.volume, system), length(pool.way, system), place]
