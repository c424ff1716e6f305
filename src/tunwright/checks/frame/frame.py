"""The frame under the tank: is it known, is everything held, do rails, subframe and mounts bear what comes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

from tunwright.build.typed import capital
from tunwright.checks.finding import Finding, Rule, not_known
from tunwright.checks.frame.mounts import mount_findings
from tunwright.checks.frame.rules import rule_findings
from tunwright.checks.frame.stress import stress_findings
from tunwright.handbook.grillage import Mechanism
from tunwright.truck.ladder.ladder import Ladder
from tunwright.truck.ladder.stress import Stresses
from tunwright.truck.ladder.structure import NoPlace
from tunwright.truck.truck import Truck

KEY, QUESTION = "frame", "Does the frame bear the tank at rest, on rough ground, braking, in curves and in twist?"
MODEL = Rule("model of the ladder frame", mark="derived")


class Framework:
    """The frame of a build, loaded, with both bounds of its warping.

    truck: the truck
    """

    def __init__(self, truck: Truck) -> None:
        self.truck = truck

    @cached_property
    def ladder(self) -> Ladder:
        """Warping of the rails free of what joins them."""
        return Ladder(self.truck)

    @cached_property
    def stresses(self) -> Stresses:
        """Stresses with warping free."""
        return Stresses(self.ladder)

    @cached_property
    def held(self) -> Stresses:
        """Stresses with warping held at every cross-member."""
        return Stresses(Ladder(self.truck, held=True))

    @cached_property
    def trouble(self) -> str:
        """Why there is no equilibrium at all, in a sentence; empty where there is."""
        try:
            self.ladder.trials  # noqa: B018  # worked out here to see whether it can be
        except (Mechanism, NoPlace) as error:
            return f"{capital(str(error))}."
        return ""

    @property
    def missing(self) -> tuple[str, ...]:
        """What has to be known before there is a model."""
        if self.truck.axles.stances[0].shares is None:
            return (*self.ladder.missing, *self.truck.axles.stances[0].missing)
        return self.ladder.missing


def frame_findings(framework: Framework, assumed: Sequence[str]) -> Iterator[Finding]:
    """Findings about frame, subframe and mounts.

    framework: the frame, loaded
    assumed: paths of the assumed inputs
    """
    yield from rule_findings(framework.truck)
    if framework.missing:
        yield not_known(KEY, QUESTION, MODEL, "MPa", framework.missing)
        return
    if framework.trouble:
        yield Finding(
            "frame-held", "Is everything on the frame held?", "", None, None, "", "at_most", "fails", MODEL,
            note=framework.trouble,
        )  # fmt: skip
        return
    yield from _lost(framework.ladder)
    yield from stress_findings(framework.stresses, framework.held, assumed)
    yield from mount_findings(framework.ladder, assumed)


def _lost(ladder: Ladder) -> Iterator[Finding]:
    """Cases in which the vehicle falls over or the tank leaves its mounts."""
    question = "Do tank and wheels stay where they are in every case the frame is tried with?"
    lost = [trial for trial in ladder.trials if trial.lost]
    words = "; ".join(f"{trial.case.words}: {trial.lost}" for trial in lost)
    yield Finding(
        "frame-stands", question, words, float(len(lost)), 0.0, "cases", "at_most", "fails" if lost else "holds", MODEL
    )  # fmt: skip
    if ladder.truck.build.chassis.cg_height is None:
        question = "Does the frame bear braking and curves?"
        yield not_known("frame-pulled", question, MODEL, "MPa", ("chassis.cg_height",))
    if ladder.missing_for_twist:
        question = "Does the frame bear curves and one wheel lifted?"
        yield not_known("frame-twist", question, MODEL, "MPa", ladder.missing_for_twist)
