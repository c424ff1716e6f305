"""Forces of the tank on each side of each mount, in the hard and the daily cases and those of the frame model."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.build.model import Build
from tunwright.build.mounting import Mount
from tunwright.truck.fastening.held import sides
from tunwright.truck.fastening.securing import Securing
from tunwright.truck.ladder.ladder import Ladder

Floats = NDArray[np.float64]
_LIES = ("steel", "plastic")  # between subframe and rail: stiffer than any bolted joint beside it


@dataclass(frozen=True, eq=False)
class Side:
    """One side of a mount.

    name: left, right or middle
    words: what happens in each case
    daily: cases of daily use (cases,)
    force: force of the body on the mount along, across and up (cases, 3) [N]
    carried: the same without what presses on the rail by itself
    """

    name: str
    words: tuple[str, ...]
    daily: NDArray[np.bool_]
    force: Floats
    carried: Floats


def lies_on_rail(build: Build) -> bool:
    """Whether the subframe lies on the rail stiffly, so that what presses goes past the bolts.

    build: the build
    """
    return build.subframe is not None and build.subframe.bearing in _LIES


def mount_sides(securing: Securing, mount: Mount, ladder: Ladder | None) -> tuple[Side, ...]:
    """Forces on both sides of a mount in all cases.

    securing: the tank on its mounts
    mount: the mount
    ladder: the frame model, None where there is none
    """
    lies = lies_on_rail(securing.truck.build)
    cases = [(throw.words, throw.daily) for throw in securing.throws]
    framed = {} if ladder is None else _framed(ladder, mount)
    if ladder is not None:
        trials = [trial for trial in ladder.trials if not trial.lost]
        cases += [(trial.state(i), not trial.case.jack) for trial in trials for i in range(len(trial.fills))]
    found = []
    for side in sides(mount):
        own = {word: f for (name, at, word), f in securing.forces.items() if (name, at) == (mount.name, side)}
        if ladder is not None:
            there = framed[side]
            own = {word: np.concatenate([f, there.get(word, np.zeros(len(cases) - len(f)))]) for word, f in own.items()}
        words, daily = tuple(word for word, _ in cases), np.array([yes for _, yes in cases])
        found.append(Side(side, words, daily, _whole(own), _carried(own, lies=lies and mount.kind != "rubber")))
    return tuple(found)


def _framed(ladder: Ladder, mount: Mount) -> dict[str, dict[str, Floats]]:
    """Forces of the frame model by side and word, all trials at all fills one after another."""
    links = {i: ladder.frame.links[i].name.rsplit(", ", 2)[1:] for i in ladder.structure.mounted[mount.name]}
    forces = [ladder.link_forces(trial) for trial in ladder.trials if not trial.lost]
    found: dict[str, dict[str, Floats]] = {side: {} for side in sides(mount)}
    for i, (side, word) in links.items():
        found[side][word] = np.concatenate([force[i] for force in forces]) if forces else np.zeros(0)
    return found


def _whole(own: dict[str, Floats]) -> Floats:
    count = len(next(iter(own.values())))
    upright = sum((own[word] for word in ("up", "seat", "spring") if word in own), np.zeros(count))
    return np.column_stack([own.get("along", np.zeros(count)), own["across"], upright])


def _carried(own: dict[str, Floats], *, lies: bool) -> Floats:
    """What the joint has to carry: where the subframe lies on the rail, only the pull."""
    whole = _whole(own)
    if lies:
        whole[:, 2] = own["spring"] if "spring" in own else np.maximum(whole[:, 2], 0.0)
    return whole
