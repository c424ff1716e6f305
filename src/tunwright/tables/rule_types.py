"""What a rule set is made of. All values are SI; what the document prints stands beside them as text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

MARKS = ("seen", "memory", "common practice", "derived", "shop")
"""seen: read in the named text or a copy; memory: known, text not read; shop: a shop's own value."""

DIMENSIONS = ("length", "width", "height")


@dataclass(frozen=True)
class Amount:
    """A value of a rule.

    value: in SI [kg, m or kg/m]
    printed: as the document has it, for example "11.5 t"
    unit: the document's unit, for example "t"
    """

    value: float
    printed: str
    unit: str


@dataclass(frozen=True)
class Lift:
    """A higher value that holds only while each of some axles carries little enough.

    amount: the higher value [kg]
    each: what each of those axles may carry at most for it to hold [kg]
    who: "all" axles of the set or the "driven" ones
    """

    amount: Amount
    each: Amount
    who: str


@dataclass(frozen=True, kw_only=True)
class Case:
    """One line of a limit: under these conditions, this value. Cases are tried in order.

    conditions: condition field to wanted answer; all must be met
    amount: the value [kg, m or kg/m], None for a share
    share: least share of the gross mass [-]
    lift: a higher value under a load condition
    unread: the text that must be read before this value can be relied on
    clause: clause of this line, where it differs from the limit's
    mark: mark of this line, where it differs from the limit's
    note: a word on this line
    """

    conditions: Mapping[str, str | float]
    amount: Amount | None = None
    share: float | None = None
    lift: Lift | None = None
    unread: str | None = None
    clause: str | None = None
    mark: str | None = None
    note: str = ""


@dataclass(frozen=True)
class Band:
    """A range of distances; a missing end is open.

    low: lower end [m]
    high: upper end [m]
    low_in: the lower end itself belongs to the band
    high_in: the upper end itself belongs to the band
    """

    low: float | None = None
    high: float | None = None
    low_in: bool = True
    high_in: bool = True

    def holds(self, distance: float) -> bool:
        """Whether a distance lies in the band.

        distance: [m], 0 or more
        """
        above = self.low is None or distance > self.low or (self.low_in and distance == self.low)
        below = self.high is None or distance < self.high or (self.high_in and distance == self.high)
        return above and below


@dataclass(frozen=True, kw_only=True)
class RuleLimit:
    """One limit of a rule set.

    key: name of the limit, once in a rule set
    kind: axles | gross | gross_per_metre | share | bridge | length | width | height
    question: what is asked; "{axles}" stands for the axles judged
    document: the text it comes from
    clause: where in that text
    edition: which edition, and how it was read
    mark: one of MARKS
    note: a word on it
    axles_from: least number of axles, of the set for kind "axles", else of the truck [-]
    axles_to: greatest number of axles, None for no end [-]
    spread: distance between the outermost axles of the set [m]
    of_axles: whose share: "driven" or "front steered"
    cases: values with their conditions, tried in order
    """

    key: str
    kind: str
    question: str
    document: str
    clause: str
    edition: str
    mark: str
    note: str = ""
    axles_from: int = 1
    axles_to: int | None = None
    spread: Band = field(default_factory=Band)
    of_axles: str | None = None
    cases: tuple[Case, ...] = ()

    def counts(self, axles: int) -> bool:
        """Whether this many axles are meant.

        axles: number of axles [-]
        """
        return self.axles_from <= axles and (self.axles_to is None or axles <= self.axles_to)


@dataclass(frozen=True, kw_only=True)
class RuleSet:
    """The limits of one law or of one shop.

    name: what a build calls it
    title: what a person calls it
    note: a word on the whole
    one_each: every axle belongs to one group only; otherwise every set of axles that fits is judged
    not_covered: what the law also asks and this set does not hold
    limits: the limits in the file's order
    own: it came from the shop's own folder
    """

    name: str
    title: str
    note: str
    one_each: bool
    not_covered: tuple[str, ...]
    limits: tuple[RuleLimit, ...]
    own: bool
