"""What a duty's sheets show of it: the filling they are drawn up at, where water runs, what findings concern it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from tunwright.build.problems import nearest
from tunwright.build.typed import listed, quoted
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.alone import alone
from tunwright.checks.pipework.pipes import pipe_findings
from tunwright.checks.pipework.worked import Worked
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing

NO_PIPEWORK = (
    "This build has no pipework: give it a table [pipework] with its points, runs and duties, as docs/build-file.md "
    "says. `tunwright new FILE --demo quarry-carrier` writes a build that has one."
)
_OF_A_DUTY = ("duty", "duty-time", "engine-speed", "prime", "evenness", "lays")  # what keys of its findings begin with
STILL = 1e-5
"""Flow in a run that counts as none [m3/s]: 0.6 L/min."""


def plumbed(assessment: Assessment) -> Plumbing:
    """The pipework of a build. Raises ValueError where it has none.

    assessment: the assessment
    """
    plumbing = assessment.pipes.plumbing
    if plumbing is None:
        raise ValueError(NO_PIPEWORK)
    return plumbing


def asked(assessment: Assessment, duty: str | None) -> tuple[Worked, ...]:
    """The duties, or one of them. Raises ValueError where there is no pipework, or no such duty.

    assessment: the assessment
    duty: name of the one that is asked for, None for all
    """
    plumbed(assessment)
    worked = assessment.pipes.worked
    if duty is None:
        return worked
    found = tuple(one for one in worked if duty.strip().lower() in (one.duty.name.lower(), one.slug))
    if found:
        return found
    names = [one.duty.name for one in worked]
    near = nearest(duty, names)
    known = f"Known are {listed(list(map(quoted, names)), 'and')}." if names else "The build names none."
    raise ValueError(f"There is no duty {quoted(duty)}. {f'Did you mean {quoted(near)}?' if near else known}")


def half(worked: Worked) -> DutyState:
    """The duty with the tank about half full.

    worked: the duty; one that was worked out
    """
    return min(worked.states, key=lambda state: abs(state.fill - 0.5))


def range_of(worked: Worked, value: Callable[[DutyState], float]) -> tuple[float, float]:
    """Least and greatest over the fillings.

    worked: the duty; one that was worked out
    value: what is asked of each filling
    """
    found = [value(state) for state in worked.states]
    return min(found), max(found)


def wet_runs(state: DutyState) -> list[str]:
    """Runs in which water flows.

    state: a duty at a filling
    """
    return [name for name in state.plumbing.runs if abs(state.flow(name)) > STILL]


def findings_of(assessment: Assessment) -> list[Finding]:
    """What was asked of the pipework.

    assessment: the assessment
    """
    return list(pipe_findings(assessment.pipes, assessment.assumed))


def concerning(findings: Sequence[Finding], worked: Worked) -> list[Finding]:
    """Findings that are about a duty, or whose worst state is in it, and what else of it fails by itself.

    The way in concerns every filling.

    findings: findings of the pipework
    worked: the duty
    """
    state = re.compile(rf"(?:^|[:,] ){re.escape(worked.duty.name)}(?:,|$)")
    ends = tuple(f"{start}-{worked.slug}" for start in _OF_A_DUTY)
    ways_in = ("air-gap", "overflow") if worked.inward else ()
    found = [one for one in findings if one.key in ends or state.search(one.state) or one.key.startswith(ways_in)]
    known = {one.key for one in found}
    return found + [one for one in alone(worked) if one.key not in known and one.verdict == "fails"]


def general(findings: Sequence[Finding], duties: Sequence[Worked]) -> list[Finding]:
    """Findings that concern none of the duties alone.

    findings: findings of the pipework
    duties: the duties
    """
    told = {each.key for one in duties for each in concerning(findings, one)}
    return [one for one in findings if one.key not in told]
