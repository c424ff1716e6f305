"""Back into the main, or back out of the fill pipe: can water of the tank run the wrong way?

The network takes a hydrant as one-way and hides this. Here water is followed along every way that is open in a duty,
whatever drives it: a main that has burst sucks. The pump is not counted on as a stop. A mouth with air gap enough ends
a way; what comes out of it falls.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tunwright.build.fields import slug
from tunwright.build.pipework import Duty, Point
from tunwright.build.shown import show_number as n
from tunwright.build.typed import listed
from tunwright.build.units import Quantity
from tunwright.checks.finding import Finding, Remedy, Rule, Step, Verdict
from tunwright.checks.pipework.changed_duty import with_shut
from tunwright.checks.pipework.passing import Passage, one_way_words, passages, reached, way_words
from tunwright.checks.pipework.tank.air_gap import air_gap
from tunwright.checks.pipework.worked import STILL, Worked
from tunwright.handbook.pipe_network import NoFlow
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.overflow import highest_water
from tunwright.truck.pipework.plumbing import Plumbing

NOTHING, CHECK, PREVENTED, GAP = 1, 2, 4, 5
"""Fluid category of EN 1717 that nothing, a one-way valve (EA), a tested backflow preventer (BA) and an air gap (AA,
AB) protect against; from memory."""

FOREIGN = 5
"""Category of water that stood in a tank not kept for drinking water, or comes out of open water; from memory."""

CATEGORIES = Rule("EN 1717", "fluid categories and protection units", "from memory", "the local water authority first")
AUTHORITY = (
    "Most water authorities want an air gap or a tested backflow preventer; ask the local water authority before a "
    "hydrant is used. A preventer is tested every year; show its certificate."
)


@dataclass(frozen=True)
class Back:
    """A hydrant's coupling in a duty, and how water could come back to it.

    point: the coupling
    duty: the duty
    category: fluid category that what stands between protects against
    wanted: fluid category of the water that could come
    ways: the way water takes; where it is stopped, the way it would take past what stops it
    """

    point: Point
    duty: Duty
    category: int
    wanted: int
    ways: tuple[Passage, ...]


def backflow_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about every hydrant that is used.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    duties = [one.duty for one in worked]
    for point in plumbing.work.point:
        if point.hydrant is not None:
            backs = [back for duty in duties for back in _backs(plumbing, point, duty)]
            if backs:
                yield _kept(plumbing, backs, assumed)


def _sources(plumbing: Plumbing) -> Iterator[tuple[list[str], int]]:
    """Where water that is not the main's stands, with its fluid category: the tank, below its water, and open water."""
    points = plumbing.work.point
    clean = plumbing.truck.build.order.use == "potable" and not any(one.open_water for one in points)
    own = CHECK if clean else FOREIGN
    yield [one.name for one in points if one.outlet is not None or (one.mouth and _floods(plumbing, one))], own
    yield [one.name for one in points if one.open_water], FOREIGN


def _floods(plumbing: Plumbing, mouth: Point) -> bool:
    gap, least = air_gap(plumbing, mouth)
    return gap < least


def _gaps(plumbing: Plumbing) -> list[str]:
    """Mouths with air gap enough: a way ends there."""
    return [one.name for one in plumbing.work.point if one.mouth and not _floods(plumbing, one)]


def _backs(plumbing: Plumbing, point: Point, duty: Duty) -> list[Back]:
    """How a coupling is kept in a duty, nothing where it is shut off from tank and open water by valves."""
    stops, found = _gaps(plumbing), []
    bare = passages(plumbing, duty, past_checks=True)
    kept = ((NOTHING, passages(plumbing, duty)), (CHECK, passages(plumbing, duty, preventers=True)), (PREVENTED, bare))
    for sources, wanted in _sources(plumbing):
        for category, ways in kept:
            way = reached(ways, sources, stops).get(point.name)
            if way is not None:
                found.append(Back(point, duty, category, wanted, way))
                break
    falls = reached(bare, [point.name], stops)
    over = next((falls[name] for name in stops if name in falls), None)
    if over is None or found:
        return found
    return [Back(point, duty, GAP, next(wanted for _, wanted in _sources(plumbing)), over)]


def _holds(plumbing: Plumbing, point: Point, duty: Duty) -> bool:
    """Whether a coupling is still used in a duty, and kept as well as it has to be."""
    backs = _backs(plumbing, point, duty)
    return bool(backs) and all(one.category >= one.wanted for one in backs)


def _kept(plumbing: Plumbing, backs: Sequence[Back], assumed: tuple[str, ...]) -> Finding:
    """The duty in which a coupling is kept least."""
    worst = min(backs, key=lambda one: (one.category - one.wanted, one.category))
    judged: Verdict = "fails" if worst.category < worst.wanted else "close" if worst.category < GAP else "holds"
    steps = [_told(plumbing, one) for one in backs]
    water = "drinking water that has stood" if worst.wanted == CHECK else "water that may hold anything"
    steps.append(Step("what could come back", "fluid category", water, f"{worst.wanted}", "EN 1717, from memory"))
    return Finding(
        f"backflow-{slug(worst.point.name)}", f"Is the main at {worst.point.name} safe from the tank's water?",
        worst.duty.name, float(worst.category), float(worst.wanted), "category", "at_least", judged, CATEGORIES,
        working=tuple(steps), assumed=assumed, note="" if judged == "holds" else AUTHORITY,
        remedy=_remedy(plumbing, worst) if judged == "fails" else None,
    )  # fmt: skip


def _told(plumbing: Plumbing, one: Back) -> Step:
    kept = one_way_words(plumbing, one.ways) if one.category < GAP else f"air gap at {_end(one.ways)}"
    category = f"{kept}: protects against category {one.category}" if one.category > NOTHING else "nothing stops it"
    way = way_words(one.ways) if one.category < GAP else f"none past {_end(one.ways)}"
    return Step(one.duty.name, "open ways from the tank's water to the coupling", way, category, "EN 1717, from memory")


def _end(ways: Sequence[Passage]) -> str:
    return ways[-1].end if ways else ""


# remedies, each tried on a copy


def _remedy(plumbing: Plumbing, one: Back) -> Remedy:
    """The first change that keeps the main: a mouth raised, a valve left shut, a mouth made."""
    for words in (_raised(plumbing, one), _shut(plumbing, one), _new_mouth(plumbing, one)):
        if words:
            return Remedy(words)
    return Remedy(
        f"nothing that was tried keeps water out on the way {way_words(one.ways)}: part it, and fill over an air gap "
        "or through a tested backflow preventer"
    )


def _changed(plumbing: Plumbing, **tables: object) -> Plumbing:
    return Plumbing(plumbing.truck, plumbing.work.model_copy(update=tables))


def _lifted(point: Point, height: float) -> Point:
    return point.model_copy(update={"height": Quantity(height, f"{height:.3f} m", "length")})


def _raised(plumbing: Plumbing, one: Back) -> str:
    """The mouths a way begins at, each raised to its air gap."""
    ways, points, words = passages(plumbing, one.duty), list(plumbing.work.point), []
    for i, mouth in enumerate(points):
        if mouth.mouth and _floods(plumbing, mouth) and one.point.name in reached(ways, [mouth.name]):
            gap, least = air_gap(plumbing, mouth)
            points[i] = _lifted(mouth, float(mouth.height or 0.0) + least - gap + 1e-6)
            words.append(f"{mouth.name} by {n(1000 * (least - gap) + 0.5)} mm")
    if words and _holds(_changed(plumbing, point=points), one.point, one.duty):
        return f"raise {listed(words, 'and')}, which makes an air gap"
    return ""


def _shut(plumbing: Plumbing, one: Back) -> str:
    """A valve on the way that is left shut in the duty, which still draws from the hydrant."""
    on_way = {way.name for way in one.ways}
    for valve in plumbing.work.valve:
        duty = with_shut(one.duty, valve.name)
        shut = valve.on in on_way and duty is not one.duty
        if shut and _holds(plumbing, one.point, duty) and _draws(plumbing, one.point, duty):
            return f"leave {valve.name} shut when it is asked to {duty.name}: the hydrant still fills, and is kept"
    return ""


def _draws(plumbing: Plumbing, point: Point, duty: Duty) -> bool:
    try:
        return DutyState(plumbing, duty, 0.5).drawn(point.name) > STILL
    except NoFlow:
        return False


def _new_mouth(plumbing: Plumbing, one: Back) -> str:
    """The run that joins the tank under water, ended in a mouth over it instead."""
    run = plumbing.runs.get(one.ways[0].name) if one.ways else None
    if run is None or plumbing.points[one.ways[0].start].open_water:
        return ""
    height = highest_water(plumbing) + max(2.0 * plumbing.size(run).inside, 0.02) + 1e-6
    mouth = Point(name=f"{run.name} mouth", height=Quantity(height, f"{height:.2f} m", "length"), mouth=True)
    side = "start" if run.start == one.ways[0].start else "end"
    runs = [each.model_copy(update={side: mouth.name}) if each is run else each for each in plumbing.work.run]
    if _holds(_changed(plumbing, run=runs, point=[*plumbing.work.point, mouth]), one.point, one.duty):
        return f"end {run.name} in a mouth {n(height + 0.005, 2)} m above the ground, over the highest water"
    return ""
