"""One look at a draft: the text with a few values changed, drawn and judged in one load state."""

from __future__ import annotations

import time
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from threading import Lock
from typing import Any

from tunwright.build.edit import NotEditable, with_values
from tunwright.build.problems import BuildProblems, Problem
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment, worst_first
from tunwright.checks.capacity import volumes_litres
from tunwright.checks.finding import Finding
from tunwright.checks.remedy import Remedies
from tunwright.sheets import words
from tunwright.sheets.chart_screen import screen_charts
from tunwright.sheets.data import fill_limit_data, usual_stance, window_data
from tunwright.sheets.drawing import Entity
from tunwright.sheets.figures import dip_chart, loads_over_fill, position_sensitivity
from tunwright.sheets.frame.screen import frame_data
from tunwright.sheets.layout import compose
from tunwright.sheets.svg import write_svg
from tunwright.sheets.views import plan_view, rear_view, side_view
from tunwright.sheets.views.loads import carried
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.states import LoadState

SCALE = 50.0
"""Scale the views on the screen are lettered for."""

_KEPT = 24
_assessments: OrderedDict[tuple[str, str | None], Assessment] = OrderedDict()
_lock = Lock()


@dataclass(frozen=True)
class Change:
    """A value put in place of what the text says.

    path: keys, and list positions counted from 0
    value: as it would be typed
    """

    path: tuple[str | int, ...]
    value: Any


def changed(text: str, changes: Sequence[Change]) -> str:
    """The text with values put in place, comments kept.

    text: the draft
    changes: the values
    NotEditable: a path leads nowhere
    """
    return with_values(text, [(change.path, change.value) for change in changes])


def assessed(text: str, units: str | None = None) -> Assessment:
    """The assessment of a text, kept for the next look. Raises BuildProblems.

    text: a build file
    units: metric or us in place of the order's own; None keeps those
    """
    key = (text, units)
    with _lock:
        if key in _assessments:
            _assessments.move_to_end(key)
            return _assessments[key]
    build = read_text(text, name="draft").build
    if units and units != build.order.units:
        build = build.model_copy(update={"order": build.order.model_copy(update={"units": units})})
    found = Assessment(build)
    with _lock:
        _assessments[key] = found
        while len(_assessments) > _KEPT:
            _assessments.popitem(last=False)
    return found


def load_state(assessment: Assessment, state: Mapping[str, Any]) -> LoadState:
    """The load state the page asks for.

    assessment: the assessment
    state: fill (part of net), grade, slope, braking (over g), crew
    """
    count = len(assessment.truck.solid.compartments)
    fill = min(max(float(state.get("fill", 1.0)), 0.0), 1.0)
    braking = float(state.get("braking", 0.0))
    return LoadState(
        "even",
        fill,
        (fill,) * count,
        crew=bool(state.get("crew", True)),
        grade=float(state.get("grade", 0.0)),
        slope=float(state.get("slope", 0.0)),
        braking=braking,
        surface="braked" if braking else "settled",
        stance=usual_stance(assessment),
    )


def look(
    text: str, changes: Sequence[Change], state: Mapping[str, Any], parts: Sequence[str], *, hurry: bool = False
) -> dict[str, Any]:
    """What the page shows of a draft.

    text: the draft
    changes: values to put in place first
    state: the load state, see `load_state`, and the units of whoever looks
    parts: which of side, rear, plan, loads, first, findings, remedies, window, charts, frame
    hurry: a side view of a tank of a new shape is drawn without the permitted window; `later` then names it
    """
    start = time.perf_counter()
    try:
        assessment = assessed(changed(text, changes), state.get("units"))
    except BuildProblems as broken:
        return {"problems": [problem_data(problem) for problem in broken.problems], "ms": _since(start)}
    except NotEditable as broken:
        problem = Problem(None, "", "", str(broken), "", "")
        return {"problems": [problem_data(problem)], "ms": _since(start)}
    shown = load_state(assessment, state)
    found: dict[str, Any] = {"problems": [], "state_words": shown.words}
    later = ["side"] if hurry and "side" in parts and not assessment.truck.at_hand else []
    for part in parts:
        if part in _PARTS:
            found.update(_PARTS["bare" if part in later else part](assessment, shown, float(state.get("scale", SCALE))))
    if later:
        found["later"] = later
    return {**found, "ms": _since(start)}


def _since(start: float) -> float:
    return round(1000.0 * (time.perf_counter() - start), 1)


def problem_data(problem: Problem) -> dict[str, Any]:
    """A problem of a build file as data.

    problem: the problem
    """
    return vars(problem).copy()


def _view(name: str, draw: Callable[..., list[Entity]]) -> Callable[[Assessment, LoadState, float], dict[str, Any]]:
    def make(assessment: Assessment, state: LoadState, scale: float) -> dict[str, Any]:
        title = f"{assessment.build.order.title}, {name} view"
        drawing = compose(title, draw(assessment, state=state, scale=scale), scale=scale, description=state.words)
        return {name: {"svg": write_svg(drawing, theme="css")}}

    return make


def _loads(assessment: Assessment, state: LoadState, _: float) -> dict[str, Any]:
    """Loads under the wheels against the least limit each has in the state."""
    table = assessment.truck.loading.table([state])
    axles = assessment.truck.axles
    gross, limit = float(table.gross[0]), float(assessment.build.chassis.gross_rating)
    names = [axle.name for axle in axles.axle]
    return {
        "loads": {
            "axles": [
                _load(assessment, name, float(load), float(axle.rating))
                for name, axle, load in zip(names, axles.axle, table.axles[0], strict=True)
            ],
            "supports": [
                _load(assessment, one.name, one.load, one.limit) for one in carried(Vehicle(assessment), table)
            ],
            "gross": _load(assessment, "gross", gross, limit),
            "water": words.volume(float(table.volumes[0].sum()), assessment),
            "water_l": round(float(table.litres[0]), 1),
        }
    }


def _load(assessment: Assessment, name: str, load: float, limit: float) -> dict[str, Any]:
    known, held = load == load, limit == limit  # noqa: PLR0124  # NaN is not equal to itself
    return {
        "name": name,
        "kg": round(load, 1) if known else None,
        "limit_kg": round(limit, 1) if held else None,
        "shown": words.mass(load, assessment) if known else "not known",
        "limit_shown": words.mass(limit, assessment) if held else "",
        "part": round(load / limit, 4) if known and held and limit else None,
    }


def _first(assessment: Assessment, _: LoadState, __: float) -> dict[str, Any]:
    """The findings that take no model of the frame."""
    return {"first": [finding_row(assessment, finding) for finding in worst_first(assessment.first_findings)]}


def _findings(assessment: Assessment, _: LoadState, __: float) -> dict[str, Any]:
    return {
        "findings": [finding_row(assessment, finding) for finding in assessment.findings],
        "verdict": assessment.worst,
        "counts": dict(assessment.counts),
        "answer": words.answer(assessment),
        "assumed": list(assessment.assumed),
    }


def _remedies(assessment: Assessment, _: LoadState, __: float) -> dict[str, Any]:
    found = Remedies(assessment).findings()
    return {"remedies": {f.key: vars(f.remedy) for f in found if f.remedy is not None}}


def finding_row(assessment: Assessment, finding: Finding) -> dict[str, Any]:
    """One finding as a row of the list.

    assessment: the assessment
    finding: the finding
    """
    return {
        "key": finding.key,
        "question": finding.question,
        "state": finding.state,
        "value_shown": words.value_of(finding, assessment),
        "limit_shown": words.limit_words(finding, assessment) if finding.limit is not None else "",
        "verdict": finding.verdict,
        "missing": list(finding.missing),
        "note": finding.note if finding.value is None else "",
        "remedy": finding.remedy.words if finding.remedy else None,
    }


def _window(assessment: Assessment, _: LoadState, __: float) -> dict[str, Any]:
    return {
        "window": window_data(assessment),
        "fill_limit": fill_limit_data(assessment),
        "volumes": {name: words.volume(v / 1000, assessment) for name, v in volumes_litres(assessment.truck).items()},
    }


def _charts(assessment: Assessment, _: LoadState, __: float) -> dict[str, Any]:
    made = {"loads": loads_over_fill, "position": position_sensitivity, "dip": dip_chart}
    return {"charts": {name: screen_charts(draw(assessment)) for name, draw in made.items()}}


def _frame(assessment: Assessment, _: LoadState, scale: float) -> dict[str, Any]:
    return {"frame": frame_data(assessment, scale=scale)}


_PARTS: dict[str, Callable[[Assessment, LoadState, float], dict[str, Any]]] = {
    "side": _view("side", side_view),
    "bare": _view("side", partial(side_view, window=False)),
    "rear": _view("rear", rear_view),
    "plan": _view("plan", plan_view),
    "loads": _loads,
    "first": _first,
    "findings": _findings,
    "remedies": _remedies,
    "window": _window,
    "charts": _charts,
    "frame": _frame,
}
