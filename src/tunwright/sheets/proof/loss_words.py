"""What the log of a pump control says of fillings and of water that is missing, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.kind import System
from tunwright.build.shown import show_number
from tunwright.proof.delivery_log import Deliveries
from tunwright.proof.losses import Balance
from tunwright.sheets.pipework.listing import said
from tunwright.sheets.proof.delivery_figures import between, lasts, volume
from tunwright.tables.read import shop_value

_TINY = 1e-6  # water that counts as none [m3]
_SHORT = 0.25  # part of a log, within which most of a loss is no error of the meter


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
    yield from _lost(one, balance, system)
    yield from _doubts(one, balance, system)


def _no_balance(one: Deliveries) -> str:
    if not one.log.has_levels:
        return "Whether water was lost is not known: the log has no levels of the tank (level_mm)."
    return "Whether water was lost is not known: with the build file the levels become water in the tank."


def _lost(one: Deliveries, balance: Balance, system: System) -> Iterator[str]:
    """What the tank lost against what the meter counted."""
    fell, passed, off = (volume(value, system) for value in (balance.fell, balance.passed, balance.uncertain))
    both = f"Outside fillings{' and gaps' if one.gap_count else ''} the tank lost {fell} and the meter counted {passed}"
    if not balance.found:
        yield f"{both}: they agree within ± {off}, which is what levels and meter may be off. No loss is found."
    elif balance.lost < 0.0:
        more = volume(-balance.lost, system)
        yield f"{both}: {more} ± {off} more than left. The meter reads high, or water came in that no level shows."
    else:
        yield f"{both}: {volume(balance.lost, system)} ± {off} left without passing it."
        yield from _missing(one, balance, system)
    if one.gap_count and abs(balance.fell_in_gaps) > _TINY and one.log.counted is None:
        yield f"In the gaps the tank lost {volume(balance.fell_in_gaps, system)}, and nobody knows which way."


def _doubts(one: Deliveries, balance: Balance, system: System) -> Iterator[str]:
    """What is to be thought of the levels."""
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


def _missing(one: Deliveries, balance: Balance, system: System) -> Iterator[str]:
    """When it went, and what that speaks for."""
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
