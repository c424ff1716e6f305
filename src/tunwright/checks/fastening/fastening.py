"""How tank and subframe are fastened: is the tank held every way, do bolts, plates, rail and welds bear it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

from tunwright.build.fields import slug
from tunwright.build.model import Build
from tunwright.build.mounting import Mount
from tunwright.build.typed import capital
from tunwright.checks.assumed import resting_on
from tunwright.checks.fastening.bolts import bolt_findings
from tunwright.checks.fastening.clamp import clamp_findings
from tunwright.checks.fastening.weld import weld_finding
from tunwright.checks.finding import Finding, Rule, Step, not_known
from tunwright.checks.frame.frame import Framework
from tunwright.handbook.grillage import Mechanism
from tunwright.handbook.one_sided import Lifted
from tunwright.truck.fastening.clamp import Clamp
from tunwright.truck.fastening.held import by_friction, holds_along
from tunwright.truck.fastening.joint import Joint, web_at
from tunwright.truck.fastening.securing import Securing
from tunwright.truck.fastening.sides import Side, mount_sides
from tunwright.truck.ladder.ladder import Ladder

STATICS = Rule("statics: what is held has to be held every way", mark="derived")
BOLTS = Rule("EN 1993-1-8:2005, 3.6 to 3.9", mark="memory")
READ = (
    r"mount\[",
    r"tank\.",
    r"subframe",
    r"chassis\.frame\.",
    r"chassis\.axle\[\d+\]\.(spring|tyre)_r",
    r"item\[\d+\]\.(mass|at|y|height)",
    r"states\.",
)
"""What forces on mounts rest on."""


class Fastenings:
    """The mounts of a build with their forces.

    framework: the frame, loaded
    build: the build, its mounts those of the frame but for bolts and welds; None for the frame's own
    """

    def __init__(self, framework: Framework, build: Build | None = None) -> None:
        self.framework, self.build = framework, build or framework.truck.build
        self.securing = Securing(framework.truck)
        self._sides: dict[str, tuple[Side, ...]] = {}

    @cached_property
    def trouble(self) -> str:
        """Why nothing can be said of the forces, in a sentence; empty where all is held."""
        try:
            self.securing.forces  # noqa: B018  # worked out here to see whether it can be
        except (Mechanism, Lifted) as error:
            return f"{capital(str(error))}."
        return ""

    @cached_property
    def ladder(self) -> Ladder | None:
        """The frame model where there is one."""
        return None if self.framework.missing or self.framework.trouble else self.framework.ladder

    @property
    def note(self) -> str:
        """A word on what the forces rest on."""
        if self.ladder is not None:
            return ""
        why = "Not enough is known of the frame for its model." if self.framework.missing else self.framework.trouble
        return f"Forces of the stiff tank on its mounts alone. {why}"

    def sides(self, mount: Mount) -> tuple[Side, ...]:
        """Forces on both sides of a mount.

        mount: the mount
        """
        if mount.name not in self._sides:
            self._sides[mount.name] = mount_sides(self.securing, mount, self.ladder)
        return self._sides[mount.name]

    def joint(self, mount: Mount) -> Joint | Clamp | None:
        """The bolts of a mount, loaded; None where it has none.

        mount: the mount
        """
        if mount.bolts is None:
            return None
        if mount.kind == "clamp":
            return Clamp(mount.bolts, self.sides(mount))
        return Joint(mount.bolts, mount.kind, self.sides(mount), web_at(self.build, float(mount.at)))


def fastening_findings(fastenings: Fastenings, assumed: Sequence[str]) -> Iterator[Finding]:
    """Findings about the fastenings; none where no mount is stated, the frame asks for those.

    fastenings: the mounts with their forces
    assumed: paths of the assumed inputs
    """
    mounts = fastenings.build.mount
    if not mounts:
        return
    held = _held(fastenings, resting_on(assumed, (r"mount\[",)))
    yield held
    for i, mount in enumerate(mounts):
        if mount.kind != "pivot" and mount.bolts is None:
            key, question = f"fastening-{slug(mount.name)}", f"Do the bolts of {mount.name} hold?"
            yield not_known(key, question, BOLTS, "share", (f"mount[{i + 1}].bolts",), limit=1.0)
    if held.verdict != "holds":
        return
    rests = resting_on(assumed, READ)
    for i, mount in enumerate(mounts):
        joint = fastenings.joint(mount)
        if isinstance(joint, Clamp):
            yield from clamp_findings(mount, joint, fastenings.securing, rests, fastenings.note)
        elif joint is not None:
            yield from bolt_findings(mount, i, joint, fastenings.securing, rests, fastenings.note)
        if mount.weld is not None:
            sides = fastenings.sides(mount)
            yield weld_finding(mount, mount.weld, i, sides, fastenings.securing, rests, fastenings.note)


def _held(fastenings: Fastenings, rests: tuple[str, ...]) -> Finding:
    """Fore and aft, sideways and upwards, and against turning."""
    key, question = "fastening-held", "Do the mounts hold the tank fore and aft, sideways and upwards?"
    mounts, securing = fastenings.build.mount, fastenings.securing
    along = [one.name for one in mounts if holds_along(one) or (one.kind == "clamp" and by_friction(mounts))]
    up = [one.name for one in mounts if one.kind != "spring"]
    steps = tuple(
        Step(f"held {way}", "by", ", ".join(names) or "nothing", "yes" if names else "no")
        for way, names in (("fore and aft", along), ("sideways", [one.name for one in mounts]), ("upwards", up))
    )
    value = (bool(along) + 1 + bool(up)) / 3.0
    if value < 1.0:
        lost = [way for way, names in (("fore and aft", along), ("upwards", up)) if not names]
        note = (
            f"Nothing holds the tank {' and '.join(lost)}. Springs give upwards; neither springs nor brackets "
            "hold fore and aft. One mount at least, mostly the rearmost, has to be plates, or a pivot."
        )
        return Finding(
            key, question, "", value, 1.0, "share", "at_least", "fails", STATICS, steps, assumed=rests, note=note
        )
    if securing.missing:
        return not_known(key, question, STATICS, "share", securing.missing, sense="at_least", limit=1.0)
    if fastenings.trouble:
        note = fastenings.trouble
        return Finding(key, question, "", None, None, "", "at_least", "fails", STATICS, steps, assumed=rests, note=note)
    return Finding(key, question, "", value, 1.0, "share", "at_least", "holds", STATICS, steps, assumed=rests)

