"""Where the water went: along the way that was driven, and where the vehicle stood while it flowed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from tunwright.proof.delivered import Delivered
from tunwright.proof.log import Flags, Floats, Log
from tunwright.proof.series import stretches
from tunwright.tables.read import shop_value

MOST = 200
"""Most segments a way is parted into."""

_LENGTHS = (5.0, 10.0, 20.0, 25.0, 50.0)
_TINY = 1e-9  # water that counts as none [m3]


@dataclass(frozen=True)
class Segment:
    """A piece of the way.

    start, end: way driven at its ends [m]
    volume: water laid on it [m3]
    east, north: place of its middle on a plane [m], not a number where not known
    degrees: latitude and longitude of its middle [deg], None where not logged
    """

    start: float
    end: float
    volume: float
    east: float
    north: float
    degrees: tuple[float, float] | None

    @property
    def per_metre(self) -> float:
        """Water on each metre of way [m3/m]."""
        return self.volume / (self.end - self.start)


@dataclass(frozen=True)
class Pool:
    """Where the vehicle stood while water flowed.

    start, end: since the first row [s]
    volume: water that flowed [m3]
    way: driven so far [m]
    east, north: place on a plane [m], not a number where not known
    degrees: latitude and longitude [deg], None where not logged
    """

    start: float
    end: float
    volume: float
    way: float
    east: float
    north: float
    degrees: tuple[float, float] | None


@dataclass(frozen=True, eq=False)
class Along:
    """The way of a log and the water on it.

    delivered: water through the meter
    """

    delivered: Delivered

    @property
    def log(self) -> Log:
        """The log."""
        return self.delivered.log

    @property
    def known(self) -> bool:
        """Whether anything is known of the way: places, or speeds."""
        return self.log.has_places or bool(np.isfinite(self.log.speed).any())

    @cached_property
    def way_of_steps(self) -> Floats:
        """Way of each step [m], by places where logged, else by speeds; not a number where not known."""
        if self.log.has_places:
            return self.log.gone
        speed = self.log.speed
        made: Floats = 0.5 * (speed[:-1] + speed[1:]) * self.log.step
        return made

    @cached_property
    def speeds(self) -> Floats:
        """Speed of each step [m/s], as logged, else by places."""
        logged = 0.5 * (self.log.speed[:-1] + self.log.speed[1:])
        with np.errstate(divide="ignore", invalid="ignore"):
            moved = np.where(self.log.step > 0.0, self.way_of_steps / self.log.step, 0.0)
        found: Floats = np.where(np.isfinite(logged), logged, moved)
        return found

    @cached_property
    def jumps(self) -> Flags:
        """Steps in which the place moves faster than a vehicle can."""
        far = self.way_of_steps > shop_value("log_jump") * np.maximum(self.log.step, min(1.0, self.log.usual))
        return np.asarray(far & ~self.log.gaps & self.log.has_places, dtype=bool)

    @cached_property
    def placed(self) -> Flags:
        """Steps of which the way is known: outside gaps, places known, no jump."""
        return np.asarray(np.isfinite(self.way_of_steps) & ~self.log.gaps & ~self.jumps, dtype=bool)

    @cached_property
    def stands(self) -> Flags:
        """Steps in which the vehicle stands."""
        return np.asarray(self.placed & (self.speeds < shop_value("log_standing")), dtype=bool)

    @cached_property
    def driven(self) -> Floats:
        """Way driven up to each row [m]; what a place wanders about while the vehicle stands is not counted."""
        moves = np.where(self.placed & ~self.stands, self.way_of_steps, 0.0)
        return np.concatenate([[0.0], np.cumsum(moves)])

    @property
    def length(self) -> float:
        """Way driven [m]."""
        return float(self.driven[-1])

    @cached_property
    def on_the_way(self) -> float:
        """Water laid while driving [m3]."""
        return self.delivered.within(self.placed & ~self.stands)

    @cached_property
    def standing(self) -> float:
        """Water that flowed while the vehicle stood [m3]."""
        return self.delivered.within(self.stands)

    @cached_property
    def nowhere(self) -> float:
        """Water of which the place is not known [m3]; that of gaps is not among it."""
        return self.delivered.within(~self.placed)

    @cached_property
    def wet_length(self) -> float:
        """Way on which water was laid [m]."""
        wet = self.placed & ~self.stands & (self.delivered.each > _TINY)
        return float(self.way_of_steps[wet].sum())

    def segments(self, length: float | None = None) -> tuple[Segment, ...]:
        """The way in pieces of one length, the last one shorter; water is even along each step.

        length: of a piece [m]; None takes a round one that gives at most 200 pieces
        """
        if self.length <= 0.0:
            return ()
        length = round_length(self.length) if length is None else length
        edges = np.append(np.arange(0.0, self.length - 1e-6 * length, length), self.length)
        laid = np.where(self.placed & ~self.stands, self.delivered.each, 0.0)
        so_far = np.concatenate([[0.0], np.cumsum(laid)])
        water = np.interp(edges, self.driven, so_far)
        water[0], water[-1] = 0.0, so_far[-1]  # what is laid without a way belongs to the piece it is laid in
        middles = 0.5 * (edges[:-1] + edges[1:])
        places = [self._place(float(at)) for at in middles]
        return tuple(
            Segment(float(a), float(b), float(v), *place)
            for a, b, v, place in zip(edges[:-1], edges[1:], np.diff(water), places, strict=True)
        )

    def _place(self, way: float) -> tuple[float, float, tuple[float, float] | None]:
        """Place at a way driven."""
        at = min(int(np.searchsorted(self.driven, way)), len(self.driven) - 1)
        before = max(at - 1, 0)
        span = self.driven[at] - self.driven[before]
        part = float((way - self.driven[before]) / span) if span > 0.0 else 0.0

        def between(values: Floats) -> float:
            return float(values[before] + part * (values[at] - values[before]))

        degrees = self.log.degrees
        told = None if degrees is None else (between(degrees[0]), between(degrees[1]))
        return between(self.log.east), between(self.log.north), told

    @cached_property
    def pools(self) -> tuple[Pool, ...]:
        """Where the vehicle stood while water flowed, the most water first."""
        found = []
        for first, last in stretches(self.stands):
            each = self.delivered.each[first:last]
            wet = first + np.flatnonzero(each > _TINY)
            if len(wet):
                start, end = float(self.log.time[wet[0]]), float(self.log.time[wet[-1] + 1])
                found.append(Pool(start, end, float(each.sum()), *self._stood(int(wet[0]))))
        return tuple(sorted(found, key=lambda pool: -pool.volume))

    def _stood(self, row: int) -> tuple[float, float, float, tuple[float, float] | None]:
        degrees = self.log.degrees
        told = None if degrees is None else (float(degrees[0][row]), float(degrees[1][row]))
        return float(self.driven[row]), float(self.log.east[row]), float(self.log.north[row]), told


def round_length(way: float) -> float:
    """A round length that parts a way into at most 200 pieces [m].

    way: the whole [m]
    """
    power = 1.0
    while True:
        for length in _LENGTHS:
            if way <= MOST * length * power:
                return length * power
        power *= 10.0
