"""The assessment of a build: every question asked once, worst answers first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from functools import cached_property

from tunwright.build.model import Build
from tunwright.checks.assumed import assumed
from tunwright.checks.braking import braking_findings
from tunwright.checks.capacity import capacity_findings
from tunwright.checks.fastening.fastening import Fastenings, fastening_findings
from tunwright.checks.fill_limit import FillLimit, fill_limit
from tunwright.checks.finding import ORDER, Finding, Verdict
from tunwright.checks.footing import footing_findings
from tunwright.checks.frame.frame import Framework, frame_findings
from tunwright.checks.hoisting.hoisting import hoisting_findings
from tunwright.checks.lifting import lifting_findings
from tunwright.checks.load_findings import load_findings
from tunwright.checks.load_limit import LoadLimit, load_limits
from tunwright.checks.pipework.pipes import Pipes, pipe_findings
from tunwright.checks.sides import side_findings
from tunwright.checks.space import space_findings
from tunwright.checks.window import Placing, Window
from tunwright.truck.truck import Truck


class Assessment:
    """What the checks find of a build.

    build: the build
    cap: volume the tank is filled to at most [m3], None for the brim; for trying a fill limit
    fill: the one filling the pipework is looked at [-]; None for all of them
    frame: ask about frame, fastenings and pipework too; left out where many changes are tried for findings without them
    """

    def __init__(
        self, build: Build, *, cap: float | None = None, frame: bool = True, fill: float | None = None
    ) -> None:
        self.build, self.cap, self.asks_frame, self.fill = build, cap, frame, fill
        self.truck = Truck(build, cap=cap)

    @cached_property
    def limits(self) -> list[LoadLimit]:
        """Limits on the axle loads."""
        return load_limits(self.truck)

    @cached_property
    def assumed(self) -> tuple[str, ...]:
        """Paths of all assumed inputs."""
        return assumed(self.build)

    @cached_property
    def framework(self) -> Framework:
        """The frame, loaded."""
        return Framework(self.truck)

    @cached_property
    def fastenings(self) -> Fastenings:
        """The mounts, their bolts and welds, loaded."""
        return Fastenings(self.framework)

    @cached_property
    def pipes(self) -> Pipes:
        """The pipework, every duty worked out when it is asked for."""
        return Pipes(self.truck, fill=self.fill)

    @cached_property
    def first_findings(self) -> tuple[Finding, ...]:
        """The findings that take no model of the frame, in the order of the questions; they are soon there."""
        return (
            *load_findings(self.truck, self.limits, self.assumed),
            *braking_findings(self.truck, self.assumed),
            *footing_findings(self.truck, self.assumed),
            *lifting_findings(self.truck, self.limits),
            *side_findings(self.truck, self.assumed),
            *capacity_findings(self.truck),
            *space_findings(self.truck),
            *hoisting_findings(self.truck, self.assumed),
        )

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Every finding, worst first, else in the order of the questions."""
        late = (
            (
                *frame_findings(self.framework, self.assumed),
                *fastening_findings(self.fastenings, self.assumed),
                *pipe_findings(self.pipes, self.assumed),
            )
            if self.asks_frame
            else ()
        )
        return worst_first([*self.first_findings, *late])

    def finding(self, key: str) -> Finding:
        """One finding; KeyError where there is none of that key.

        key: its key
        """
        return {finding.key: finding for finding in self.findings}[key]

    @property
    def unknown(self) -> tuple[str, ...]:
        """Inputs without which no axle load can be worked out, so that there is neither window nor fill limit."""
        return next((stance.missing for stance in self.truck.axles.stances if not stance.lifted), ())

    @cached_property
    def open_limits(self) -> tuple[Finding, ...]:
        """Limits on axle loads that could not be judged, and so are not in the window and the fill limit."""
        keys = {limit.key for limit in self.limits}
        return tuple(f for f in self.first_findings if f.verdict == "open" and (f.key in keys or f.key == "tyres"))

    @property
    def no_grades(self) -> tuple[str, ...]:
        """Inputs without which grades cannot be judged, so that window and fill limit rest on level states alone."""
        return () if self.build.chassis.cg_height is not None else ("chassis.cg_height",)

    @cached_property
    def placing(self) -> Placing:
        """Where the tank may stand."""
        return Placing(self.truck, self.limits)

    @cached_property
    def window(self) -> Window:
        """The permitted window: to the brim, else to net, else of the most water that has one."""
        return self.placing.best()

    @cached_property
    def fill_limit(self) -> FillLimit:
        """The litres at which the first limit is reached."""
        return fill_limit(self.truck, self.limits)

    @cached_property
    def counts(self) -> Counter[Verdict]:
        """How many findings have each verdict."""
        return Counter(finding.verdict for finding in self.findings)

    @property
    def worst(self) -> Verdict:
        """The worst verdict."""
        return next((v for v in ORDER if self.counts[v]), "holds")

    @property
    def exit_code(self) -> int:
        """0 all hold or are close, 1 something fails, 3 only open ones remain."""
        return 1 if self.counts["fails"] else 3 if self.counts["open"] else 0


def worst_first(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings sorted by verdict, worst first, else in the order given.

    found: the findings
    """
    return tuple(sorted(found, key=lambda finding: ORDER.index(finding.verdict)))
