"""The axles of a chassis: who stands on the ground, what each carries bare, and how added loads are shared."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from tunwright.build.chassis import Axle, Chassis, Group
from tunwright.handbook.axle_statics import Sharing, StiffnessMissing, Support, SupportError, sharing

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Stance:
    """The chassis with some axles lifted.

    lifted: indexes of the lifted axles
    kerb: bare load on each axle (axles,) [kg]
    shares: how added loads are shared
    missing: what has to be known before loads can be shared, empty where nothing is missing
    """

    lifted: tuple[int, ...]
    kerb: Floats
    shares: Sharing | None
    missing: tuple[str, ...] = ()

    @property
    def shared(self) -> Sharing:
        """How added loads are shared; ValueError where that cannot be known."""
        if self.shares is None:
            raise ValueError(f"added loads cannot be shared between the axles without {', '.join(self.missing)}")
        return self.shares


class Axles:
    """The axles of a build.

    chassis: the chassis of the build
    """

    def __init__(self, chassis: Chassis) -> None:
        self.chassis = chassis
        self.axle = chassis.axle
        self.places = np.array([float(axle.at) for axle in chassis.axle])
        names = [axle.name for axle in chassis.axle]
        self.groups = [(group, tuple(names.index(n) for n in group.axles)) for group in chassis.group]

    @property
    def count(self) -> int:
        """Number of axles."""
        return len(self.axle)

    @cached_property
    def weighed(self) -> Floats:
        """Load on each axle as weighed [kg]; a group weighed as one is parted by its sharing."""
        loads = np.array([float(axle.kerb_load or 0.0) for axle in self.axle])
        for group, members in self.groups:
            if group.kerb_load is not None:
                standing = [m for m in members if not self.axle[m].raised_when_weighed]
                shares = _shares(group, members, standing)
                for member, share in zip(standing, shares, strict=True):
                    loads[member] = share * float(group.kerb_load)
        return loads

    @property
    def kerb_mass(self) -> float:
        """Mass of the bare chassis as weighed [kg]."""
        return float(self.weighed.sum())

    @property
    def kerb_x(self) -> float:
        """Its centre behind the first axle [m]."""
        return float(self.weighed @ self.places / self.weighed.sum())

    @cached_property
    def stances(self) -> tuple[Stance, ...]:
        """Every choice of lifted axles the vehicle can stand with, none lifted before some."""
        liftable = [i for i, axle in enumerate(self.axle) if axle.lift]
        as_weighed = tuple(i for i in liftable if self.axle[i].raised_when_weighed)
        choices = [c for n in range(len(liftable) + 1) for c in combinations(liftable, n)]
        return tuple(self._stance(c, as_weighed) for c in choices if c == as_weighed or self._can_stand(c))

    def _can_stand(self, lifted: tuple[int, ...]) -> bool:
        return len({self._support_of(i) for i in range(self.count) if i not in lifted}) >= 2

    def _support_of(self, axle: int) -> int:
        for i, (_, members) in enumerate(self.groups):
            if axle in members:
                return -1 - i
        return axle

    def supports(self, lifted: tuple[int, ...]) -> list[Support]:
        """What stands on the ground, front to rear.

        lifted: indexes of lifted axles
        """
        found: list[Support] = []
        done: set[int] = set()
        for i in range(self.count):
            if i in lifted or i in done:
                continue
            group, members = next(((g, m) for g, m in self.groups if i in m), (None, (i,)))
            standing = [m for m in members if m not in lifted]
            done.update(standing)
            shares = _shares(group, members, standing) if group else (1.0,)
            at = tuple(float(self.places[m]) for m in standing)
            found.append(Support(tuple(standing), shares, at, self._rate(group, standing)))
        return found

    def _rate(self, group: Group | None, standing: list[int]) -> float | None:
        """Vertical rate of both sides, springs and tyres in series [N/m]."""
        if group is not None and group.spring_rate is not None and len(standing) == len(group.axles):
            return _with_tyres(2.0 * float(group.spring_rate), [self.axle[i] for i in standing])
        rates = [self.axle[i].spring_rate for i in standing]
        if any(rate is None for rate in rates):
            return None
        each = [_with_tyres(2.0 * float(self.axle[i].spring_rate or 0.0), [self.axle[i]]) for i in standing]
        if group is None:
            return each[0]
        members = self._members(group)
        shares = _shares(group, members, standing)  # the lever sinks by sum s (s P / k), so 1 / K = sum s^2 / k
        return 1.0 / sum(share**2 / rate for share, rate in zip(shares, each, strict=True))

    def _members(self, group: Group) -> tuple[int, ...]:
        return next(members for own, members in self.groups if own is group)

    def _stance(self, lifted: tuple[int, ...], as_weighed: tuple[int, ...]) -> Stance:
        try:
            shares = sharing(self.supports(lifted), self.count)
        except StiffnessMissing as error:
            missing = tuple(f"chassis.axle[{i + 1}].spring_rate" for i in error.which)
            return Stance(lifted, self.weighed, None, missing)
        except SupportError:
            return Stance(lifted, self.weighed, None, ("chassis.group",))
        if lifted == as_weighed:
            return Stance(lifted, self.weighed, shares)
        return self._moved(lifted, as_weighed, shares)

    def _moved(self, lifted: tuple[int, ...], as_weighed: tuple[int, ...], shares: Sharing) -> Stance:
        """Bare loads with axles lifted or lowered since the weighing."""
        lowered = [i for i in as_weighed if i not in lifted]
        if lowered:
            if len(self.supports(lifted)) > 2:
                return Stance(lifted, self.weighed, None, tuple(f"chassis.axle[{i + 1}].kerb_load" for i in lowered))
            return Stance(lifted, shares.of_force(self.kerb_mass, self.kerb_x), shares)
        kerb = self.weighed.copy()
        for i in lifted:
            if i not in as_weighed:
                kerb[i] = 0.0
                kerb = kerb + shares.of_force(float(self.weighed[i]), float(self.places[i]))
        return Stance(lifted, kerb, shares)


def _shares(group: Group, members: tuple[int, ...], standing: list[int]) -> tuple[float, ...]:
    """Sharing of a group among the axles that stand."""
    whole = [1.0 / len(members)] * len(members) if group.sharing == "equal" else [float(s) for s in group.sharing]
    kept = [whole[members.index(m)] for m in standing]
    return tuple(share / sum(kept) for share in kept)


def _with_tyres(springs: float, axles: list[Axle]) -> float:
    """Springs in series with the tyres, where their rate is known [N/m]."""
    if any(axle.tyre_rate is None for axle in axles):
        return springs
    tyres = sum(axle.tyres * float(axle.tyre_rate or 0.0) for axle in axles)
    return springs * tyres / (springs + tyres)
