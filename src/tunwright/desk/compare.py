"""What changed between two texts of a build: line by line, and in its figures."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from typing import Any

from tunwright.build.kind import System
from tunwright.build.problems import BuildProblems
from tunwright.checks.assess import Assessment
from tunwright.desk.figures import figures
from tunwright.desk.live import assessed


def text_changes(before: str, after: str, *, around: int = 3) -> list[dict[str, Any]]:
    """The changed lines with some lines around them; line numbers count from 1, a row of op "…" leaves lines out.

    before: the older text
    after: the newer text
    around: unchanged lines shown on either side
    """
    old, new = before.splitlines(), after.splitlines()
    rows: list[dict[str, Any]] = []
    matcher = difflib.SequenceMatcher(None, old, new, autojunk=False)
    for group in matcher.get_grouped_opcodes(around):
        if rows or group[0][1] > 0:
            rows.append({"op": "…", "line": "", "from": None, "to": None})
        for tag, i, i_end, j, j_end in group:
            if tag == "equal":
                pairs = zip(range(i, i_end), range(j, j_end), strict=True)
                rows += [{"op": " ", "line": old[a], "from": a + 1, "to": b + 1} for a, b in pairs]
            else:
                rows += [{"op": "-", "line": old[a], "from": a + 1, "to": None} for a in range(i, i_end)]
                rows += [{"op": "+", "line": new[b], "from": None, "to": b + 1} for b in range(j, j_end)]
    return rows


def figure_changes(before: str, after: str, *, units: System | None = None) -> list[dict[str, str]]:
    """Figures and verdicts that changed, both worked out by the program as it is; none where a text does not read.

    before: the older text
    after: the newer text
    units: units shown, None for those of the newer order
    """
    try:
        old, new = assessed(before), assessed(after)
    except BuildProblems:
        return []
    return [*_figures(old, new, units or new.build.order.units), *_verdicts(old, new)]


def _figures(old: Assessment, new: Assessment, units: System) -> Iterator[dict[str, str]]:
    then, now = ({one.key: one for one in figures(assessment)} for assessment in (old, new))
    for key in [*then, *(key for key in now if key not in then)]:
        a, b = then.get(key), now.get(key)
        shown = ["–" if one is None else one.shown(units) for one in (a, b)]
        if shown[0] != shown[1]:
            known = b or a
            yield {"what": known.words if known else key, "from": shown[0], "to": shown[1]}


def _verdicts(old: Assessment, new: Assessment) -> Iterator[dict[str, str]]:
    then, now = ({one.key: one for one in assessment.findings} for assessment in (old, new))
    for key in [*now, *(key for key in then if key not in now)]:
        a, b = then.get(key), now.get(key)
        words = [one.verdict if one else "–" for one in (a, b)]
        known = b or a
        if words[0] != words[1] and known:
            yield {"what": known.question, "from": words[0], "to": words[1]}
