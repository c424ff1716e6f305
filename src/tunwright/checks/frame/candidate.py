"""A way to strengthen a frame: rails lined, larger members for the subframe, or both, as a changed build."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tunwright.build.frame import Liner
from tunwright.build.model import Build, Subframe
from tunwright.build.shown import show
from tunwright.build.units import Quantity, System
from tunwright.checks.frame.load import Span
from tunwright.tables.read import shop_value
from tunwright.tables.reinforcements import LinerKind, MemberKind, reinforcements
from tunwright.truck.liners import linings
from tunwright.truck.weights import subframe_mass

Path = tuple[str | int, ...]
_HAIR = 1e-6


@dataclass(frozen=True)
class Change:
    """A change to the build file.

    path: keys, and list positions counted from 0
    value: what is to stand there, as it is typed; None where the key or the entry goes
    """

    path: Path
    value: object


@dataclass(frozen=True)
class Candidate:
    """A way to strengthen a frame.

    liner: what both rails are lined with, None for none
    stretches: from where to where [m]
    member: members of the subframe in place of the present ones, None to keep those
    """

    liner: LinerKind | None = None
    stretches: tuple[Span, ...] = ()
    member: MemberKind | None = None

    def on(self, build: Build) -> Build:
        """The build strengthened; reinforcements it had planned give way.

        build: the build
        """
        frame = build.chassis.frame.model_copy(update={"liner": [*_weighed(build), *self._liners()]})
        changed = build.model_copy(update={"chassis": build.chassis.model_copy(update={"frame": frame})})
        sub = build.subframe
        if self.member is None or sub is None:
            return changed
        larger = _larger(sub, self.member)
        bottom = _metres(float(build.tank.bottom) + _rise(sub, self.member))
        tank = build.tank.model_copy(update={"bottom": bottom})
        return changed.model_copy(update={"subframe": larger, "tank": tank})

    def mass(self, build: Build) -> float:
        """What it adds to a build without planned reinforcements [kg].

        build: the build
        """
        after, sub = self.on(build), build.subframe
        found = sum(one.mass for _, one in linings(after.chassis.frame, top=0.0))
        if self.member is not None and sub is not None and after.subframe is not None:
            now = subframe_mass(sub) if sub.mass is None else float(sub.mass)
            found += subframe_mass(after.subframe) - now
        return found

    def words(self, build: Build) -> str:
        """What to do.

        build: the build
        """
        units = build.order.units
        said = []
        if self.liner is not None:
            runs = " and ".join(f"from {_place(a, units)} to {_place(b, units)}" for a, b in self.stretches)
            said.append(f"line both rails {runs} with {liner_words(self.liner, units)}")
        if self.member is not None and build.subframe is not None:
            rise = _rise(build.subframe, self.member)
            lift = f", the tank {show(rise, 'length', system=units)} higher with it" if rise else ""
            said.append(f"make the subframe of {member_words(self.member, units)}{lift}")
        return " and ".join(said)

    def changes(self, build: Build) -> Iterator[Change]:
        """What writes it into the build file, in the order to be made.

        build: the build as it stands
        """
        old = build.chassis.frame.liner
        gone = [i for i, one in enumerate(old) if not one.weighed]
        yield from (Change(("chassis", "frame", "liner", i), None) for i in reversed(gone))
        for i, one in enumerate(self._liners()):
            value = {"from": one.start.text, "to": one.end.text, "shape": one.shape, "thickness": one.thickness.text}
            yield Change(("chassis", "frame", "liner", len(old) - len(gone) + i), value)
        sub = build.subframe
        if self.member is None or sub is None:
            return
        own = [key for key in ("mass", "mass_per_length") if getattr(sub, key) is not None]
        yield from (Change(("subframe", key), None) for key in own)
        larger = _larger(sub, self.member)
        yield from (Change(("subframe", key), getattr(larger, key).text) for key in ("height", "flange", "thickness"))
        if larger.shape != sub.shape:
            yield Change(("subframe", "shape"), larger.shape)
        if _rise(sub, self.member):
            yield Change(("tank", "bottom"), self.on(build).tank.bottom.text)

    def _liners(self) -> list[Liner]:
        if self.liner is None:
            return []
        shape, thickness = self.liner.shape, _mm(self.liner.thickness)
        return [
            Liner.model_construct(start=_metres(a), end=_metres(b), shape=shape, thickness=thickness)
            for a, b in self.stretches
        ]


def bare(build: Build) -> Build:
    """The build without the reinforcements that are planned but not there yet.

    build: the build
    """
    return Candidate().on(build) if len(_weighed(build)) < len(build.chassis.frame.liner) else build


def liners_for(build: Build, *, on_flange: bool) -> tuple[LinerKind, ...]:
    """Reinforcements no thicker than the rail.

    build: the build
    on_flange: also those that are joined to a flange
    """
    most = float(build.chassis.frame.rail_thickness or 0.0) + _HAIR
    return tuple(kind for kind in _joined(on_flange=on_flange) if kind.thickness <= most)


def too_thick(build: Build, *, on_flange: bool) -> str:
    """Why no reinforcement suits the rail, in a sentence.

    build: the build
    on_flange: also those that are joined to a flange
    """
    rail = show(float(build.chassis.frame.rail_thickness or 0.0), "length", system=build.order.units)
    least = min(kind.thickness for kind in _joined(on_flange=on_flange))
    thinnest = show(least, "length", system=build.order.units)
    return f"No liner is tried: it may be no thicker than the rail, which is {rail}; the thinnest is {thinnest}."


def _joined(*, on_flange: bool) -> tuple[LinerKind, ...]:
    """Reinforcements joined to the web, and those joined to a flange where that is allowed."""
    return tuple(kind for kind in reinforcements().liners if on_flange or not kind.on_flange)


def members_for(build: Build) -> tuple[MemberKind, ...]:
    """Members heavier than the present ones, no lower, whose flange suits the rail's.

    build: the build
    """
    sub, flange = build.subframe, float(build.chassis.frame.rail_flange or 0.0)
    if sub is None:
        return ()
    plain = sub.model_copy(update={"mass": None, "mass_per_length": None})
    now, least = subframe_mass(plain), shop_value("subframe_flange_least") * flange
    return tuple(
        kind
        for kind in reinforcements().members
        if subframe_mass(_larger(sub, kind)) > now + _HAIR
        and kind.height >= float(sub.height) - _HAIR
        and least - _HAIR <= kind.flange <= flange + _HAIR
    )


def liner_words(kind: LinerKind, units: System) -> str:
    """A reinforcement in words: a channel of 6 mm.

    kind: the reinforcement
    units: of the order
    """
    named = {"channel": "a channel", "angle": "an angle", "strip": "a strip under the flange,"}[kind.shape]
    return f"{named} of {show(kind.thickness, 'length', system=units)}"


def member_words(kind: MemberKind, units: System) -> str:
    """A member in words: channels 140 x 60 x 6 mm.

    kind: the member
    units: of the order
    """
    sizes = [show(x, "length", system=units) for x in (kind.height, kind.flange, kind.thickness)]
    return f"{'boxes' if kind.shape == 'box' else 'channels'} {' × '.join(sizes)}"


def _weighed(build: Build) -> list[Liner]:
    return [one for one in build.chassis.frame.liner if one.weighed]


def _larger(sub: Subframe, kind: MemberKind) -> Subframe:
    sizes = {key: _mm(getattr(kind, key)) for key in ("height", "flange", "thickness")}
    return sub.model_copy(update={**sizes, "shape": kind.shape, "mass": None, "mass_per_length": None})


def _rise(sub: Subframe, kind: MemberKind) -> float:
    """How much higher the tank comes to stand [m]."""
    return max(0.0, round(kind.height - float(sub.height), 6))


def _place(x: float, units: System) -> str:
    return show(x, "length", unit="m") if units == "metric" else show(x, "length", system=units)


def _metres(value: float) -> Quantity:
    text = f"{value:.3f}"
    return Quantity(float(text), f"{text} m", "length")


def _mm(value: float) -> Quantity:
    return Quantity(value, f"{1000 * value:g} mm", "length")
