"""What is asked of one duty alone: findings tell the worst duty, and another may fail too without being it."""

from __future__ import annotations

from weakref import WeakKeyDictionary

from tunwright.checks.finding import Finding, in_us_words
from tunwright.checks.pipework.delivery import delivery_findings
from tunwright.checks.pipework.jets import jet_findings
from tunwright.checks.pipework.meters import meter_findings
from tunwright.checks.pipework.pressure import pressure_findings
from tunwright.checks.pipework.pump import pump_findings
from tunwright.checks.pipework.worked import Worked

_ASKED = (delivery_findings, pump_findings, meter_findings, jet_findings, pressure_findings)
_known: WeakKeyDictionary[Worked, tuple[Finding, ...]] = WeakKeyDictionary()


def alone(one: Worked) -> tuple[Finding, ...]:
    """Findings on a duty by its own states; none where it was not worked out. They are kept.

    one: the duty
    """
    if one not in _known:
        plumbing = one.states[0].plumbing if one.states else None
        found = () if plumbing is None else tuple(f for ask in _ASKED for f in ask(plumbing, (one,), ()))
        us = plumbing is not None and plumbing.truck.build.order.units == "us"
        _known[one] = tuple(map(in_us_words, found)) if us else found
    return _known[one]
