"""What the log of a pump control says, in sentences, each with how sure it is."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import timedelta

from tunwright.build.factors import FOOT, US_GALLON
from tunwright.build.kind import System
from tunwright.build.shown import show_number
from tunwright.proof.along import Pool
from tunwright.proof.delivery_log import Deliveries
from tunwright.proof.log import Log
from tunwright.sheets.pipework.listing import MEASURES, said
from tunwright.tables.read import shop_value

PER_METRE: dict[System, tuple[str, float]] = {
    "metric": ("L/m", 1e-3),
    "us": ("US gal/ft", float(US_GALLON / FOOT)),
}
"""Unit of water on each length of way, and its size [m3/m]."""

_TINY = 1e-6  # water that counts as none [m3]
_SHORT = 0.25  # part of a log, within which most of a loss is no error of the meter


def volume(value: float, system: System) -> str:
    """A volume, without decimals where it is large.

    value: [m3]
    system: "metric" or "us"
    """
    measure = MEASURES["volume"][system]
    size = value / measure.size
    return f"{show_number(size, 0 if abs(size) >= 100 else 1)} {measure.symbol}"


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
    measure = MEASURES["run"][system]
    size = value / measure.size
    return f"{show_number(size, 0 if size >= 5.0 else 1)} {measure.symbol}"


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


def losses(one: Deliveries, system: System) -> Iterator[str]:
    """What is missing, and fillings.

    one: the log
    system: "metric" or "us"
    """
    if one.log.has_pump and one.past_the_pump > _TINY:
        time = float(one.log.step[one.still & (one.delivered.each > 0.0)].sum())
        yield (
            f"{volume(one.past_the_pump, system)} passed the meter in {lasts(time)} while the pump stood still. Water "
            "runs by its own weight, a valve does not close, or the meter counts what does not flow."
        )
    balance = one.balance
    if balance is None:
        yield _no_balance(one)
        return
    for filling in balance.fillings:
        came = volume(filling.volume, system)
        yield f"A filling {between(one.log, filling.start, filling.end)}: about {came}, counted apart."
    yield from _lost(one, system)


def _no_balance(one: Deliveries) -> str:
    if not one.log.has_levels:
        return "Whether water was lost is not known: the log has no levels of the tank (level_mm)."
    return "Whether water was lost is not known: with the build file the levels become water in the tank."


def _lost(one: Deliveries, system: System) -> Iterator[str]:
    balance = one.balance
    if balance is None:
        return
    fell, passed, off = (volume(value, system) for value in (balance.fell, balance.passed, balance.uncertain))
    both = f"Outside fillings{' and gaps' if one.gap_count else ''} the tank lost {fell} and the meter counted {passed}"
    if not balance.found:
        yield f"{both}: they agree within ± {off}, which is what levels and meter may be off. No loss is found."
    elif balance.lost < 0.0:
        more = volume(-balance.lost, system)
        yield f"{both}: {more} ± {off} more than left. The meter reads high, or water came in that no level shows."
    else:
        yield from _missing(one, f"{both}: {volume(balance.lost, system)} ± {off} left without passing it.", system)
    if one.gap_count and abs(balance.fell_in_gaps) > _TINY and one.log.counted is None:
        yield f"In the gaps the tank lost {volume(balance.fell_in_gaps, system)}, and nobody knows which way."
    if balance.too_high:
        rows = "one row" if balance.too_high == 1 else f"{balance.too_high} rows"
        yield f"In {rows} the level is above the tank's roof: look at the sender and where it counts from."
    if balance.alone:
        rows = "One level stands" if balance.alone == 1 else f"{balance.alone} levels stand"
        yield f"{rows} far off between two that agree, and {'is' if balance.alone == 1 else 'are'} left out."
    yield (
        f"Levels are taken to be within {said(shop_value('log_level'), 'bore', system)}; on a slope and in a bend they "
        "are off by more, so let the vehicle stand level at the beginning and the end."
        + (" All compartments are taken to be filled alike." if one.tank is not None and one.tank.parts > 1 else "")
    )


def _missing(one: Deliveries, told: str, system: System) -> Iterator[str]:
    balance = one.balance
    if balance is None:
        return
    yield told
    if balance.worst is not None:
        worst = balance.worst
        yield f"Most of it, about {volume(worst.volume, system)}, went {between(one.log, worst.start, worst.end)}."
    still = balance.while_still
    if still > 0.5 * balance.lost:
        yield "It left while the meter counted nothing: look for a leak, a drain or a branch before the meter."
    elif balance.worst is not None and balance.worst.end - balance.worst.start < _SHORT * float(one.log.time[-1]):
        yield "That is a short time: a meter that reads low would lose evenly. Look for what was open before the meter."
    elif balance.passed > 0.0:
        share = show_number(100 * balance.lost / balance.passed, 1)
        yield (
            f"It left while the meter counted: a branch before the meter, or a meter that reads low; it would have to "
            f"read {share} % more. Calibrate it."
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
