"""The cases of the loaded frame with their greatest stresses, as rows of a table."""

from __future__ import annotations

from dataclasses import dataclass

from tunwright.checks.frame.frame import Framework
from tunwright.sheets.frame.chosen import rows_of
from tunwright.truck.ladder.stress import Stresses


@dataclass(frozen=True)
class CaseRow:
    """One case.

    key: key of the case
    words: what happens
    static: at rest
    rail: greatest stress of the rails with warping free and held [Pa], None without equilibrium
    subframe: the same of the subframe, None where there is none
    fill: fill at which the rails are stressed most [-]
    lost: why there is no equilibrium
    """

    key: str
    words: str
    static: bool
    rail: tuple[float, float] | None
    subframe: tuple[float, float] | None
    fill: float
    lost: str = ""


def case_rows(framework: Framework) -> list[CaseRow]:
    """Every case, in the order they are tried.

    framework: the frame, loaded
    """
    both = (framework.stresses, framework.held)
    found = []
    for trial in framework.ladder.trials:
        key, case = trial.case.key, trial.case
        lost = trial.lost or next((t.lost for t in framework.held.ladder.trials if t.case.key == key), "")
        if lost:
            found.append(CaseRow(key, case.words, case.static, None, None, 0.0, lost))
            continue
        rails = [_most(stresses, key, "rail") for stresses in both]
        subs = [_most(stresses, key, "subframe") for stresses in both]
        worst = max(one for one in rails if one is not None)
        fill = float(trial.fills[worst[1]])
        found.append(CaseRow(key, case.words, case.static, _pair(rails), _pair(subs), fill))
    return found


def _most(stresses: Stresses, key: str, member: str) -> tuple[float, int] | None:
    """Greatest stress of a kind of member in a case [Pa], and at which fill."""
    rows = rows_of(stresses, member)
    if not rows:
        return None
    by_fill = stresses.mises[key][rows].max(axis=(0, 1))
    return float(by_fill.max()), int(by_fill.argmax())


def _pair(found: list[tuple[float, int] | None]) -> tuple[float, float] | None:
    free, held = found
    return None if free is None or held is None else (free[0], held[0])
