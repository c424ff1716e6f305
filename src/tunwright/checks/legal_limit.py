"""A legal limit, worked out for one truck and ready to be compared with axle loads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal


@dataclass(frozen=True)
class Raised:
    """A higher value that holds while each of some axles carries little enough.

    value_kg: the higher value [kg]
    printed: as the document has it
    axles: indices of the axles looked at
    each_kg: what each of them may carry at most for it to hold [kg]
    """

    value_kg: float
    printed: str
    axles: tuple[int, ...]
    each_kg: float


@dataclass(frozen=True, kw_only=True)
class LegalLimit:
    """One limit of one rule set on one truck.

    rules: name of the rule set
    key: name of the limit, with the axles where one limit is asked of several sets ("tandem:2+3")
    question: what is asked
    axles: indices of the axles whose summed load is judged
    value_kg: the value [kg]; for a share None until `at` is called; None too where nothing can be said
    share: share of the gross mass [-]
    of: "gross" for a share, else None
    sense: at_most | at_least
    unit: the document's unit
    printed: the value as the document has it
    document: the text it comes from
    clause: where in that text
    edition: which edition, and how it was read
    mark: how the value is known
    note: a word on it, also where the stricter value was taken because something is not known
    missing: what must be given or read before the limit can be judged; a limit with it may fail but never holds
    raised: a higher value under a load condition; `value_kg` alone is always on the safe side
    """

    rules: str
    key: str
    question: str
    axles: tuple[int, ...]
    value_kg: float | None = None
    share: float | None = None
    of: Literal["gross"] | None = None
    sense: Literal["at_most", "at_least"] = "at_most"
    unit: str = "kg"
    printed: str = ""
    document: str
    clause: str
    edition: str
    mark: str
    note: str = ""
    missing: str | None = None
    raised: Raised | None = None

    def carried(self, loads: Sequence[float]) -> float:
        """What the judged axles carry together [kg].

        loads: load of every axle of the truck, from the front [kg]
        """
        return float(sum(loads[place] for place in self.axles))

    def at(self, loads: Sequence[float]) -> LegalLimit:
        """The limit as it stands under these loads: a share in kilograms, a raised value taken if its condition holds.

        loads: load of every axle of the truck, from the front [kg]
        """
        if self.share is not None:
            return replace(self, value_kg=self.share * float(sum(loads)))
        if self.raised is None:
            return self
        if all(loads[place] <= self.raised.each_kg for place in self.raised.axles):
            return replace(self, value_kg=self.raised.value_kg, printed=self.raised.printed, missing=None, raised=None)
        return replace(self, raised=None)


@dataclass(frozen=True, kw_only=True)
class DimensionLimit:
    """The greatest length, width or height of one rule set.

    rules: name of the rule set
    key: name of the limit
    question: what is asked
    dimension: length | width | height
    value_m: the value [m]
    printed: as the document has it
    document: the text it comes from
    clause: where in that text
    edition: which edition, and how it was read
    mark: how the value is known
    note: a word on it
    """

    rules: str
    key: str
    question: str
    dimension: str
    value_m: float
    printed: str
    document: str
    clause: str
    edition: str
    mark: str
    note: str
