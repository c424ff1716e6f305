"""The frame in its cases, what was chosen and the mounting schemes as plain data: always metric, never NaN."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from tunwright.build.edit import written as as_toml
from tunwright.build.problems import key_path
from tunwright.build.typed import capital, listed
from tunwright.checks.frame.candidate import Change
from tunwright.checks.frame.choice import Choice, unchosen
from tunwright.checks.frame.frame import Framework
from tunwright.checks.frame.load import Limits, case_rows, stress_limits
from tunwright.checks.frame.search import Tried
from tunwright.checks.mount_compare import SchemeRow
from tunwright.sheets.data import number
from tunwright.sheets.input_words import labels

_MPA, _KN = 1e6, 1e3


def frame_data(framework: Framework, chosen: Choice | None, rows: Iterable[SchemeRow]) -> dict[str, Any]:
    """Everything about a frame.

    framework: the frame; it must be known
    chosen: what was chosen, None where that was not asked
    rows: mounting schemes, none where they were not asked
    """
    limits = stress_limits(framework.truck.build)
    return {
        "limits_mpa": None if limits is None else limits_data(limits),
        "cases": [] if framework.trouble else cases_data(framework),
        "not_tried": [{"cases": what, "missing": list(paths)} for what, paths in untried(framework)],
        "trouble": framework.trouble,
        "choice": None if chosen is None else choice_data(chosen, framework),
        "schemes": [scheme_data(row) for row in rows],
    }


def limits_data(limits: Limits) -> dict[str, float | None]:
    """What the members may bear [MPa].

    limits: the limits
    """
    return {name: number(value / _MPA, 1) for name, value in vars(limits).items()}


def cases_data(framework: Framework) -> list[dict[str, Any]]:
    """Every case with its worst stress in rails and subframe.

    framework: the frame; it must be in equilibrium
    """
    bounds, limits = (framework.stresses, framework.held), stress_limits(framework.truck.build)
    return [
        {
            "key": row.key,
            "case": row.words,
            "member": row.member,
            "where": row.where,
            "fill": number(row.fill),
            "stress_mpa": number(row.stress / _MPA, 1),
            "limit_mpa": None if row.limit is None else number(row.limit / _MPA, 1),
        }
        for row in case_rows(bounds, limits)
    ]


def untried(framework: Framework) -> list[tuple[str, tuple[str, ...]]]:
    """Cases a frame is not tried with, in words, each with the keys that are missing for them.

    framework: the frame; it must be known
    """
    pulled = () if framework.truck.build.chassis.cg_height is not None else ("chassis.cg_height",)
    twist = framework.ladder.missing_for_twist
    if pulled and twist:
        return [("braking", pulled), ("curves", (*pulled, *twist)), ("raised wheels", twist)]
    if pulled:
        return [("braking", pulled), ("curves", pulled)]
    return [("curves", twist), ("raised wheels", twist)] if twist else []


def untried_words(framework: Framework) -> str:
    """What a frame is not tried with and what to measure, in a sentence; empty where everything is tried.

    framework: the frame; it must be known
    """
    found = untried(framework)
    if not found:
        return ""
    cases = listed([what for what, _ in found], "and")
    needed = "; ".join(labels(framework.truck.build, (path for _, paths in found for path in paths)))
    return f"{capital(cases)} are not tried; measure or give: {needed}."


def why_words(chosen: Choice, framework: Framework) -> str:
    """Why nothing could be chosen, in a sentence, inputs by their words; empty where something could.

    chosen: the choice
    framework: the frame it was made for
    """
    return unchosen(labels(framework.truck.build, chosen.missing)) if chosen.missing else chosen.why


def choice_data(chosen: Choice, framework: Framework) -> dict[str, Any]:
    """What was chosen, what writes it into the build file, and what was tried.

    chosen: the choice
    framework: the frame it was made for
    """
    return {
        "needed": chosen.needed,
        "why": why_words(chosen, framework),
        "missing": list(chosen.missing),
        "no_liner": chosen.unlined,
        "share_before": number(chosen.share),
        "found": None if chosen.found is None else tried_data(chosen.found),
        "nearest": None if chosen.best is None else tried_data(chosen.best),
        "changes": [{"path": list(one.path), "value": one.value} for one in chosen.changes],
        "tried": [tried_data(one) for one in chosen.tried],
    }


def tried_data(one: Tried) -> dict[str, Any]:
    """A way that was tried.

    one: the way
    """
    return {
        "words": one.words,
        "mass_kg": number(one.mass, 1),
        "share": number(one.share),
        "stretches_m": [[number(a), number(b)] for a, b in one.candidate.stretches],
        "over_m": [[number(a), number(b)] for a, b in one.over],
        "breaks": list(one.breaks),
        "holds": one.holds,
    }


def scheme_data(row: SchemeRow) -> dict[str, Any]:
    """A mounting scheme.

    row: what it does
    """
    known = not row.trouble
    return {
        "key": row.key,
        "name": row.name,
        "mounts": row.mounts,
        "trouble": row.trouble,
        "rail_rest_mpa": number(row.rail_rest / _MPA, 1) if known else None,
        "rail_mpa": number(row.rail / _MPA, 1) if known else None,
        "rail_state": row.rail_state,
        "subframe_mpa": None if row.subframe is None else number(row.subframe / _MPA, 1),
        "press_kn": number(row.press / _KN, 1) if known else None,
        "press_state": row.press_state,
        "pull_kn": number(row.pull / _KN, 1) if known else None,
        "pull_state": row.pull_state,
        "lift_mm": number(1000 * row.lift, 1) if known else None,
        "twist_deg": None if row.twist is None else number(math.degrees(row.twist), 2),
        "over": list(row.over),
        "no_rating": list(row.unrated),
        "no_travel": list(row.free),
        "not_known": list(row.unknown),
        "holds": row.holds,
    }


def change_line(one: Change) -> str:
    """A change to the build file on one line.

    one: the change
    """
    path = key_path(one.path)
    return f"take away {path}" if one.value is None else f"{path} = {as_toml(one.value)}"
