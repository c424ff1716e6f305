"""Which case at which fill is drawn, and why nothing can be drawn where something is missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tunwright.checks.assess import Assessment
from tunwright.checks.frame.frame import Framework
from tunwright.sheets.input_words import labels
from tunwright.sheets.ticks import THIN
from tunwright.truck.ladder.ladder import Trial
from tunwright.truck.ladder.stress import Stresses

TWISTS = ("lift", "diagonal")
"""Kinds of cases that twist the frame."""


class FrameNotKnown(ValueError):
    """The frame cannot be drawn loaded; the message says what to measure, or what is not held."""


@dataclass(frozen=True)
class Shown:
    """One case at one fill, with one bound of the warping.

    stresses: the frame with that bound
    trial: the case
    fill: number of the fill
    held: warping of the rails is held at the cross-members
    """

    stresses: Stresses
    trial: Trial
    fill: int
    held: bool = False

    @property
    def words(self) -> str:
        """The state in words."""
        return state_words(self.trial, self.fill)

    @property
    def bound(self) -> str:
        """The bound of the warping in words."""
        return f"warping of the rails {'held' if self.held else 'free'} at the cross-members"


@dataclass(frozen=True)
class Peak:
    """The greatest stress of a kind of member in one state.

    member: its name
    x: place behind the first axle [m]
    value: von Mises stress [Pa]
    """

    member: str
    x: float
    value: float


def state_words(trial: Trial, fill: int) -> str:
    """A case at a fill in words.

    trial: the case
    fill: number of the fill
    """
    return trial.state(fill).replace(" %", f"{THIN}%")


def why_not(assessment: Assessment) -> str:
    """Why the frame cannot be drawn loaded, in a sentence; empty where it can.

    assessment: the assessment
    """
    framework = assessment.framework
    if framework.missing:
        return f"The loaded frame is not known; measure or give: {'; '.join(to_measure(assessment))}."
    return framework.trouble


def to_measure(assessment: Assessment) -> list[str]:
    """What has to be measured or given before the frame can be loaded, in words.

    assessment: the assessment
    """
    return labels(assessment.build, assessment.framework.missing)


def known(assessment: Assessment) -> Framework:
    """The loaded frame of a build. Raises FrameNotKnown where something is missing or nothing holds it.

    assessment: the assessment
    """
    reason = why_not(assessment)
    if reason:
        raise FrameNotKnown(reason)
    return assessment.framework


def standing_trials(framework: Framework, kinds: Sequence[str] = (), *, static: bool | None = None) -> list[Trial]:
    """Cases with an equilibrium.

    framework: the frame, loaded
    kinds: only these kinds, all where left out
    static: only at rest, or only otherwise; None for all
    """
    return [
        trial
        for trial in framework.ladder.trials
        if not trial.lost and static in (None, trial.case.static) and (not kinds or trial.case.kind in kinds)
    ]


def worst(
    framework: Framework, kinds: Sequence[str] = (), *, static: bool | None = None, member: str = "rail"
) -> Shown | None:
    """The state with the greatest stress, over both bounds of the warping; None where there is no such state.

    framework: the frame, loaded
    kinds: kinds of cases, all where left out
    static: only at rest, or only otherwise; None for all
    member: end of the members' name: rail or subframe
    """
    best, found = -1.0, None
    for held, stresses in ((False, framework.stresses), (True, framework.held)):
        rows = rows_of(stresses, member)
        for trial in standing_trials(framework, kinds, static=static):
            table = stresses.mises[trial.case.key][rows]
            fill = int(table.max(axis=(0, 1)).argmax())
            value = float(table[..., fill].max())
            if value > best * (1.0 + 1e-9):
                best, found = value, Shown(stresses, trial, fill, held)
    return found


def peak(shown: Shown, member: str) -> Peak | None:
    """Where a kind of member is stressed most in a state; None where there is none of the kind.

    shown: the state
    member: end of the members' name: rail or subframe
    """
    best: Peak | None = None
    for name in members(shown.stresses, member):
        x, _, stress = shown.stresses.along(name, shown.trial, shown.fill)
        i = int(stress.argmax())
        if best is None or stress[i] > best.value:
            best = Peak(name, float(x[i]), float(stress[i]))
    return best


def members(stresses: Stresses, ending: str = "") -> list[str]:
    """Names of the members, left before right, rails first.

    stresses: the frame
    ending: end of the name: rail or subframe; all where left out
    """
    return [name for name in dict.fromkeys(one.member for one in stresses.stretches) if name.endswith(ending)]


def rows_of(stresses: Stresses, ending: str) -> list[int]:
    """Numbers of the stretches of a kind of member.

    stresses: the frame
    ending: end of the members' name: rail or subframe
    """
    return [i for i, one in enumerate(stresses.stretches) if one.member.endswith(ending)]
