"""The log of a pump control, judged: what was delivered, where it went, what is missing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np

from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, not_known, shop_rule, verdict
from tunwright.proof.along import Along
from tunwright.proof.delivered import Delivered
from tunwright.proof.log import Flags, Log, read_log
from tunwright.proof.losses import Balance, Content
from tunwright.proof.series import stretches
from tunwright.tables.read import shop_value, shop_values

LITRES = 1000.0
BALANCE = Rule("what leaves the tank passes the meter; levels and meter are no better than the shop's values say",
               mark="derived")  # fmt: skip


@dataclass(frozen=True)
class Tank:
    """What is known of the tank and the sprays of the build.

    content: water for a level at the dip point
    net: volume to the overflow lip [m3]
    parts: compartments
    width: that the sprays wet [m], None where not known
    duty: the duty this width is of
    """

    content: Content
    net: float
    parts: int = 1
    width: float | None = None
    duty: str = ""


@dataclass(frozen=True, eq=False)
class Deliveries:
    """A log with all that follows from it.

    log: the log
    tank: the tank, None without a build
    """

    log: Log
    tank: Tank | None = None

    @cached_property
    def delivered(self) -> Delivered:
        """Water through the meter."""
        return Delivered(self.log)

    @cached_property
    def along(self) -> Along:
        """Where it went."""
        return Along(self.delivered)

    @cached_property
    def balance(self) -> Balance | None:
        """The tank against the meter, None where no levels were logged or there is no build."""
        if self.tank is None or not self.log.has_levels:
            return None
        return Balance(self.delivered, self.tank.content, self.tank.net, shop_value("meter_deviation"))

    @cached_property
    def still(self) -> Flags:
        """Steps in which the pump stands still at both ends, none where that was not logged."""
        rests = self.log.pump == 0.0
        return np.asarray(rests[:-1] & rests[1:], dtype=bool)

    @cached_property
    def past_the_pump(self) -> float:
        """Water the meter counted while the pump stood still [m3]."""
        return self.delivered.within(self.still)

    @property
    def gap_time(self) -> float:
        """Time of all gaps [s]."""
        return float(self.log.step[self.log.gaps].sum())

    @property
    def gap_count(self) -> int:
        """Number of gaps, those beside each other as one."""
        return len(stretches(self.log.gaps))

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is judged."""
        return (*_lost(self), *_past_the_pump(self), *_unseen(self))


def deliveries(path: Path, k_factor: float | None = None, tank: Tank | None = None) -> Deliveries:
    """A log, judged. Raises RowProblems with everything wrong with the file.

    path: the file
    k_factor: pulses of the meter for each volume [1/m3], None where not told
    tank: the tank, None without a build
    """
    return Deliveries(read_log(path, k_factor), tank)


def _lost(one: Deliveries) -> Iterator[Finding]:
    """Whether what left the tank passed the meter."""
    question = "Did all water that left the tank pass the meter?"
    if one.log.has_levels and one.tank is None:
        note = "The log has levels; with the build file they become water in the tank."
        yield not_known("log-balance", question, BALANCE, "L", ("the build file",), note=note)
    balance = one.balance
    if balance is None:
        return
    value, limit = LITRES * abs(balance.lost), LITRES * balance.uncertain
    judged = verdict(value, limit, "at_most")
    less = balance.lost < 0.0
    words = "calibrate the meter; look for water that comes in or runs back" if less else (
        "look for leaks, drains and branches before the meter, and calibrate the meter")  # fmt: skip
    steps = (
        Step("the tank lost", "Σ of falls of the level", "outside fillings and gaps", f"{n(LITRES * balance.fell)} L"),
        Step("the meter counted", "", "meanwhile", f"{n(LITRES * balance.passed)} L"),
        Step("may be off", "√(Σ levels² + meter²)", "level, waves, meter", f"{n(limit)} L"),
    )
    yield Finding(
        "log-balance", question, "the meter counted more" if less else "the tank lost more", value, limit, "L",
        "at_most", judged, BALANCE, working=steps, remedy=Remedy(words) if judged == "fails" else None,
    )  # fmt: skip


def _past_the_pump(one: Deliveries) -> Iterator[Finding]:
    """Water through the meter while the pump stands."""
    if not one.log.has_pump:
        return
    shop = shop_values()["meter_deviation"]
    value, limit = LITRES * one.past_the_pump, LITRES * shop.value * one.delivered.total
    judged = verdict(value, limit, "at_most") if value > 0.0 else "holds"
    words = "find the valve that does not close, or the pipe that empties by itself; set the meter's lowest flow"
    yield Finding(
        "log-pump-still", "Does no water flow while the pump stands still?", "all of the log", value, limit, "L",
        "at_most", judged, Rule(f"{n(100 * shop.value, 1)} % of all that was delivered: no more than the meter is off",
        mark=shop.mark), remedy=Remedy(words) if judged == "fails" else None,
    )  # fmt: skip


def _unseen(one: Deliveries) -> Iterator[Finding]:
    """Gaps in which water may have flowed that nobody counted."""
    question, rule = "Is the log without gaps?", shop_rule("log_gap")
    if one.gap_count == 0 or one.log.counted is not None:
        yield Finding("log-gaps", question, "", one.gap_time / 60.0, None, "min", "at_most", "holds", rule)
        return
    note = "What flowed meanwhile is not known, and none is made up."
    yield not_known("log-gaps", question, rule, "min", ("the log of these times",), note=note)
