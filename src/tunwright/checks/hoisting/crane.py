"""The crane or the forklift of a lift, at the distance it works at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.build.lifting import Forklift
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Rule, Step, not_known, verdict
from tunwright.checks.hoisting.working import against, weight_steps
from tunwright.tables.read import shop_values
from tunwright.truck.hoisting import Hoisting, Lift

CHART = Rule("the crane's chart", mark="maker's")
FORKS = Rule(
    "the forklift's plate; farther out its rating falls as load centre over distance",
    mark="common practice, no source",
)


def crane_findings(hoisting: Hoisting, rests: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about crane and forklift; where neither is stated, the open one about the crane.

    hoisting: the lift
    rests: paths of the assumed inputs they rest on
    """
    if hoisting.lifting.crane or hoisting.lifting.forklift is None:
        yield _crane(hoisting, rests)
    if hoisting.lifting.forklift is not None:
        yield _forklift(hoisting, hoisting.lifting.forklift, rests)


def _found(
    key: str, question: str, lift: Lift, total: float, limit: float, rule: Rule, steps: Sequence[Step],
    rests: tuple[str, ...], note: str,
) -> Finding:  # fmt: skip
    held, working = verdict(total, limit, "at_most"), (*steps, against(total, limit, "kg"))
    return Finding(
        key, question, lift.name, total, limit, "kg", "at_most", held, rule, working=working, assumed=rests, note=note
    )


def _on_hook(hoisting: Hoisting) -> tuple[Lift, float, list[Step]]:
    """The heaviest lift, what hangs on the crane [kg], and how that comes about."""
    lift = max(hoisting.lifts, key=lambda one: one.load.mass)
    total = lift.load.mass + hoisting.rigging
    own = hoisting.lifting.rigging_mass is not None
    source = "" if own else shop_values()["hoist_rigging"].source
    steps = [
        *weight_steps(hoisting, lift),
        Step("hook block, slings and shackles", "m", "", f"{n(hoisting.rigging)} kg", source),
        Step("on the hook", "sum", f"{n(lift.load.mass)} + {n(hoisting.rigging)}", f"{n(total)} kg"),
    ]
    return lift, total, steps


def _crane(hoisting: Hoisting, rests: tuple[str, ...]) -> Finding:
    key, question = "hoist-crane", "Does the crane lift it at its radius?"
    chart, radius = hoisting.lifting.crane, hoisting.lifting.radius
    lift, total, steps = _on_hook(hoisting)
    missing = [] if chart else ["lifting.crane"]
    missing += ["lifting.radius"] if radius is None else []
    row = None if radius is None else next((one for one in chart if one.radius >= radius), None)
    if missing or row is None or radius is None:
        note = f"{n(total)} kg hang on it, hook block, slings and shackles with them."
        return not_known(key, question, CHART, "kg", tuple(missing), note=note)
    limit = float(row.capacity)
    words = "the chart's line at the radius, or at the next farther one; never between two lines"
    steps += [
        Step("capacity", words, f"{n(float(radius), 1)} m, line of {n(float(row.radius), 1)} m", f"{n(limit)} kg"),
    ]
    note = "The chart allows for a gentle hoist, so the dynamic factor is not applied here."
    return _found(key, question, lift, total, limit, CHART, steps, rests, note)


def _forklift(hoisting: Hoisting, fork: Forklift, rests: tuple[str, ...]) -> Finding:
    key, question = "hoist-forklift", "Does the forklift lift it at its distance?"
    lift, total, steps = _on_hook(hoisting)
    if fork.at is None:
        note = f"{n(total)} kg hang on it, slings and shackles with them."
        return not_known(key, question, FORKS, "kg", ("lifting.forklift.at",), note=note)
    limit = float(fork.capacity) * min(1.0, float(fork.load_centre) / float(fork.at))
    values = f"{n(float(fork.capacity))} × {n(float(fork.load_centre), 2)} / {n(float(fork.at), 2)}"
    steps += [
        Step("capacity", "rating × load centre / distance from the fork face, never above the rating", values,
             f"{n(limit)} kg", FORKS.mark),
    ]  # fmt: skip
    note = "A plate for the hook on the forks comes first where the forklift has one; drive with the load low."
    return _found(key, question, lift, total, limit, FORKS, steps, rests, note)
