"""Greatest and least values along the frame over all cases and fills, and the limits of the stresses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.assess import Assessment
from tunwright.checks.frame.frame import Framework
from tunwright.handbook.beams import RY, W
from tunwright.sheets.frame.chosen import members, standing_trials, state_words
from tunwright.sheets.frame.panel import Bound
from tunwright.sheets.frame.quantities import MOMENT, SHEAR, STRESS, Quantity
from tunwright.truck.ladder.ladder import Trial
from tunwright.truck.ladder.stress import Stresses

Floats = NDArray[np.float64]
_MPA = 1e6


@dataclass(frozen=True)
class EnvelopePart:
    """One edge of an envelope.

    quantity: of what
    name: of which members, and which edge
    layer: how it is drawn
    x: places [m]
    y: values [SI]
    words: the case that gives the greatest value
    """

    quantity: Quantity
    name: str
    layer: str
    x: Floats
    y: Floats
    words: str


def envelope(framework: Framework) -> list[EnvelopePart]:
    """Every edge of the envelopes of rails and subframe, over both sides and both bounds of the warping.

    framework: the frame, loaded
    """
    found: list[EnvelopePart] = []
    for kind, name, layer in (("rail", "rails", "outline"), ("subframe", "subframe", "accent")):
        if not members(framework.stresses, kind):
            continue
        for quantity, row in ((MOMENT, RY), (SHEAR, W)):
            tables = _tables(framework, kind, static=None, row=row)
            found += [_edge(quantity, name, layer, tables, sign) for sign in (1, -1)]
    found += _stress(framework)
    return found


def _stress(framework: Framework) -> list[EnvelopePart]:
    """Stress of the rails at rest and otherwise, of the subframe in all cases: each has a limit of its own."""
    found = []
    for kind, static, name, layer in (
        ("rail", False, "rails in all other cases", "outline"),
        ("rail", True, "rails at rest", "hidden"),
        ("subframe", None, "subframe", "accent"),
    ):
        if members(framework.stresses, kind) and standing_trials(framework, static=static):
            found.append(_edge(STRESS, name, layer, _tables(framework, kind, static=static, row=None), 1))
    return found


_Table = tuple[Floats, list[tuple[Trial, Floats]]]


def _tables(framework: Framework, kind: str, *, static: bool | None, row: int | None) -> _Table:
    """Places [m], and values (sides and places, fills) of every case."""
    x, found = np.zeros(0), []
    for stresses in (framework.stresses, framework.held):
        for trial in standing_trials(framework, static=static):
            sides = []
            for name in members(stresses, kind):
                mine = [i for i, one in enumerate(stresses.stretches) if one.member == name]
                x = np.array([(stresses.stretches[i].start, stresses.stretches[i].end) for i in mine]).ravel()
                sides.append(_values(stresses, trial, mine, row))
            found.append((trial, np.stack(sides)))
    return x, found


def _values(stresses: Stresses, trial: Trial, mine: list[int], row: int | None) -> Floats:
    """Values of a member (places, fills)."""
    key = trial.case.key
    table = stresses.mises[key][mine] if row is None else stresses.forces[key][mine][:, :, row]
    found: Floats = table.reshape(-1, table.shape[-1])
    return found


def _edge(quantity: Quantity, name: str, layer: str, table: _Table, sign: int) -> EnvelopePart:
    """The upper edge, or the lower one with sign -1."""
    x, cases = table
    every = np.stack([sign * values for _, values in cases])  # (cases, sides, places, fills)
    y = sign * every.max(axis=(0, 1, 3))
    case, _, _, fill = np.unravel_index(int(every.argmax()), every.shape)
    return EnvelopePart(quantity, name, layer, x, y, state_words(cases[case][0], int(fill)))


def bounds_of(assessment: Assessment, *, static: bool | None) -> list[Bound]:
    """Limits of the stress as the findings have them; none where the yield strength is not known.

    assessment: the assessment
    static: of a case at rest or otherwise; None for both
    """
    limits = {one.key: one.limit for one in assessment.findings if one.key.startswith("frame-") and one.unit == "MPa"}
    wanted = [
        ("frame-rail-rest", "rails at rest" if static is None else "rails", static in (True, None)),
        ("frame-rail", "rails otherwise" if static is None else "rails", static in (False, None)),
        ("frame-subframe", "subframe", True),
    ]
    found = []
    for key, words, asked in wanted:
        value = limits.get(key)
        if asked and value is not None:
            layer = "accent_far" if key == "frame-subframe" else "hidden" if key.endswith("rest") else "thin"
            found.append(Bound(_MPA * value, words, layer))
    return found
