"""Flow in a network of pipes, pumps, valves and nozzles: heads at the points, flows in the links.

A link loses head with its flow: h(q), rising with q; a pump loses less than nothing. Some points have a head that is
given (a water surface, a hydrant, free air), at all others what flows in flows out. Newton's method on all flows and
heads at once; its steps are shortened to where the content of the network, the sum of the integrals of h, is least on
the way, which makes it find the one solution from anywhere (the content is convex).

Source: E. Todini and S. Pilati, A gradient algorithm for the analysis of pipe networks (1988), for the equations;
W. G. Millar, Some general theorems for non-linear systems possessing resistance (1951), for the content. Both from
memory; the tests compare with EPANET.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

FLOW = 1e-9
"""Error allowed in the flows [m3/s]."""

HEAD = 1e-6
"""Error allowed in the head a link loses [m]."""

_ROUNDS, _SWITCHES, _SHORTENED = 100, 20, 30
_LEAST_SLOPE = 1e-3  # of a link's head over its flow [s/m2]; less is taken as this much in a step, not in the answer
_NEAR = 1e-7  # a step this small is gone as it is [m3/s]
_FLAT = 0.5  # the content may rise at the end of a step at this part of the rate it falls with at its beginning
_BEGIN = 0.003  # flow a search begins with [m3/s]


class Loss(Protocol):
    """What loses head. A part that lets nothing back says so by an attribute `one_way` that is true."""

    def loss(self, flow: float) -> tuple[float, float]:
        """Head lost and its rate with the flow [m], [s/m2].

        flow: the flow, negative backwards [m3/s]
        """


class NoFlow(ValueError):
    """A network that cannot be solved; the message says why."""


@dataclass(frozen=True)
class Link:
    """Something water flows through, from one point to another.

    name: what it is called
    start, end: names of its points
    part: what loses head
    sets: head at its end that it lets through at most [m], for a pressure regulator; None for any other
    """

    name: str
    start: str
    end: str
    part: Loss
    sets: float | None = None


@dataclass(frozen=True)
class Flowing:
    """A solved network.

    flow: of each link by name, negative backwards [m3/s]
    head: of each point by name [m]; NaN where it is cut off from every given head
    rounds: Newton steps it took
    """

    flow: Mapping[str, float]
    head: Mapping[str, float]
    rounds: int = 0
    working: frozenset[str] = field(default_factory=frozenset)
    """Names of the regulators that hold their pressure."""


def flowing(links: Sequence[Link], given: Mapping[str, float], start: Mapping[str, float] | None = None) -> Flowing:
    """Solve a network. Raises NoFlow where no point has a given head, or where no answer is found.

    links: what water can flow through; what is shut is left out
    given: heads that are given, by point [m]
    start: flows to begin with, by link [m3/s]
    """
    known = [name for name in given if any(name in (one.start, one.end) for one in links)]
    if not known:
        raise NoFlow("Nothing in the network has a given pressure: there is neither tank, hydrant nor open end.")
    reached = _reached(links, known)
    live = [one for one in links if one.start in reached and one.end in reached]
    solver = _Solver(live, {name: given[name] for name in known}, start or {})
    flow, head, rounds, working = solver.solve()
    dry = {name: math.nan for one in links for name in (one.start, one.end) if name not in head}
    still = {one.name: 0.0 for one in links if one.name not in flow}
    return Flowing({**flow, **still}, {**head, **dry}, rounds, working)


def _reached(links: Iterable[Link], known: Iterable[str]) -> set[str]:
    """Points whose head is told by a given one; what is trapped before a one-way part is not."""
    beside: dict[str, set[str]] = {}
    for one in links:
        beside.setdefault(one.start, set()).add(one.end)
        if not getattr(one.part, "one_way", False):
            beside.setdefault(one.end, set()).add(one.start)
    found, waiting = set(known), list(known)
    while waiting:
        fresh = beside.get(waiting.pop(), set()) - found
        found |= fresh
        waiting += fresh
    return found


class _Solver:
    """The equations of a network: first the links', then the continuity of the free points."""

    def __init__(self, links: Sequence[Link], given: Mapping[str, float], start: Mapping[str, float]) -> None:
        self.links, self.given = links, given
        points = dict.fromkeys(name for one in links for name in (one.start, one.end))
        self.free = [name for name in points if name not in given]
        self.row = {name: i for i, name in enumerate(self.free)}
        self.ways = self._ways()
        self.fixed = np.array([given.get(one.start, 0.0) - given.get(one.end, 0.0) for one in links])
        self.q = np.array([start.get(one.name, _BEGIN) for one in links], dtype=float)
        self.h = np.zeros(len(self.free))
        self.working = {i for i, one in enumerate(links) if one.sets is not None}
        self.shut: set[int] = set()

    def _ways(self) -> Floats:
        """+1 where a link begins at a free point, -1 where it ends (links, free points)."""
        found = np.zeros((len(self.links), len(self.free)))
        for i, one in enumerate(self.links):
            for name, sign in ((one.start, 1.0), (one.end, -1.0)):
                if name in self.row:
                    found[i, self.row[name]] += sign
        return found

    def solve(self) -> tuple[dict[str, float], dict[str, float], int, frozenset[str]]:
        """Flows, heads, steps taken, and regulators at work; regulators are tried at work, open and shut."""
        rounds = 0
        for _ in range(_SWITCHES):
            rounds += self._settled()
            if not self._switched():
                break
        else:
            raise NoFlow("The regulators of the network work against each other: no state of them holds.")
        flow = {one.name: float(q) for one, q in zip(self.links, self.q, strict=True)}
        head = {**self.given, **{name: float(h) for name, h in zip(self.free, self.h, strict=True)}}
        return flow, head, rounds, frozenset(self.links[i].name for i in self.working)

    def _settled(self) -> int:
        """Newton steps until nothing moves; gives how many."""
        for turn in range(1, _ROUNDS + 1):
            loss, slope = self._losses(self.q)
            step, heads = self._step(loss, slope)
            part = self._shortened(step, heads) if turn > 1 else 1.0
            self.q, self.h = self.q + part * step, heads
            if part == 1.0 and np.abs(step).max(initial=0.0) < FLOW and self._off() < HEAD:
                return turn
        raise NoFlow("No flow was found that fits everywhere: check the heights, the pump curve and the valves.")

    def _losses(self, q: Floats) -> tuple[Floats, Floats]:
        pairs = [one.part.loss(flow) for one, flow in zip(self.links, q.tolist(), strict=True)]
        found = np.array(pairs, dtype=float).reshape(-1, 2)
        return found[:, 0], np.maximum(found[:, 1], _LEAST_SLOPE)

    def _step(self, loss: Floats, slope: Floats) -> tuple[Floats, Floats]:
        """Change of all flows, and all heads after it."""
        m, n = len(self.links), len(self.free)
        matrix, right = np.zeros((m + n, m + n)), np.zeros(m + n)
        matrix[:m, :m], matrix[:m, m:], matrix[m:, :m] = np.diag(slope), -self.ways, self.ways.T
        right[:m], right[m:] = self.fixed - loss, -self.ways.T @ self.q
        for i in self.working | self.shut:
            matrix[i], right[i] = 0.0, 0.0
            if i in self.shut:
                matrix[i, i], right[i] = 1.0, -self.q[i]
            else:
                matrix[i, m + self.row[self.links[i].end]], right[i] = 1.0, self.links[i].sets or 0.0
        try:
            found = np.linalg.solve(matrix, right)
        except np.linalg.LinAlgError:
            raise NoFlow("A regulator has nothing behind it that takes its water.") from None
        return np.asarray(found[:m], dtype=float), np.asarray(found[m:], dtype=float)

    def _excess(self, q: Floats, heads: Floats) -> Floats:
        """Head lost more than there is, of the links that go by their loss."""
        off: Floats = self._losses(q)[0] - self.fixed - self.ways @ heads
        off[list(self.working | self.shut)] = 0.0
        return off

    def _off(self) -> float:
        return float(np.abs(self._excess(self.q, self.h)).max(initial=0.0))

    def _shortened(self, step: Floats, heads: Floats) -> float:
        """The part of a step to go: all of it where the content falls, or hardly rises, to its end."""
        if self.working or np.abs(step).max(initial=0.0) < _NEAR:
            return 1.0
        rates = [float(self._excess(self.q + part * step, heads) @ step) for part in (0.0, 1.0)]
        if rates[1] <= -_FLAT * rates[0]:
            return 1.0
        low, high = 0.0, 1.0
        for _ in range(_SHORTENED):
            middle = 0.5 * (low + high)
            rate = float(self._excess(self.q + middle * step, heads) @ step)
            if abs(rate) <= -_FLAT * rates[0]:
                return middle
            low, high = (middle, high) if rate <= 0.0 else (low, middle)
        return high

    def _switched(self) -> bool:
        """Whether a regulator had to be opened, shut or set to work."""
        for i, one in enumerate(self.links):
            if one.sets is None:
                continue
            before, after = self._heads_of(one)
            spare = before - after - one.part.loss(float(self.q[i]))[0]
            if i in self.working and (self.q[i] < -FLOW or spare < -HEAD):
                self.working.discard(i)
                if self.q[i] < -FLOW:
                    self.shut.add(i)
                return True
            if i in self.shut and before > after + HEAD and after < one.sets - HEAD:
                self.shut.discard(i)
                return True
            if i not in self.working | self.shut and after > one.sets + HEAD:
                (self.working if before > one.sets else self.shut).add(i)
                return True
            if i not in self.working | self.shut and self.q[i] < -FLOW:
                self.shut.add(i)
                return True
        return False

    def _heads_of(self, one: Link) -> tuple[float, float]:
        def head(name: str) -> float:
            return self.given[name] if name in self.given else float(self.h[self.row[name]])

        return head(one.start), head(one.end)
