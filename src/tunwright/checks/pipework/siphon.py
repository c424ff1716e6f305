"""Back out of the fill pipe: a mouth under water through which the tank runs out once the supply has gone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.build.pipework import Duty, Point
from tunwright.build.shown import show_number as n
from tunwright.build.typed import listed
from tunwright.checks.finding import Finding, Remedy, Rule, Step, Verdict
from tunwright.checks.pipework.passing import Passage, one_way_words, passages, reached, way_words
from tunwright.checks.pipework.tank.air_gap import air_gap
from tunwright.checks.pipework.worked import Worked
from tunwright.truck.pipework.overflow import highest_water
from tunwright.truck.pipework.plumbing import Plumbing

SIPHON = Rule("the fill pipe ends above the highest water", mark="derived")


def siphon_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The deepest mouth water could be sucked back through, down to a coupling or a pond; none where nothing fills.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    rows = []
    for duty in (one.duty for one in worked if one.inward):
        for mouth in (one for one in plumbing.work.point if one.mouth):
            rows += [(highest_water(plumbing) - float(mouth.height or 0.0), mouth, duty)]
    used = [row for row in rows if _lower(plumbing, row[1], row[2], past_checks=True)]
    if not used:
        return
    value, mouth, duty = max(used, key=lambda row: (row[0] > 0.0 and bool(_lower(plumbing, row[1], row[2])), row[0]))
    down = _lower(plumbing, mouth, duty)
    judged: Verdict = "holds" if value <= 0.0 else "fails" if down else "close"
    ways = down or _lower(plumbing, mouth, duty, past_checks=True)
    kept = "" if down or value <= 0.0 else f", kept by {one_way_words(plumbing, ways)}"
    height = f"{n(highest_water(plumbing), 3)} - {n(float(mouth.height or 0.0), 3)} m"
    steps = (
        Step("mouth under water", "highest water - mouth", height, f"{n(1000 * value)} mm"),
        Step("down to", "open ways, the hose uncoupled or the pump at rest", way_words(ways), f"{ways[-1].end}{kept}"),
    )
    yield Finding(
        "siphon", "Does no water run back out of the fill pipe once the supply has gone?", f"{mouth.name}: {duty.name}",
        value, 0.0, "m", "at_most", judged, SIPHON, working=steps, assumed=assumed,
        remedy=_raised(plumbing, [(row[1], row[2]) for row in used if row[0] > 0.0]) if judged == "fails" else None,
        note="Only a one-way valve keeps the tank's water from running back." if judged == "close" else "",
    )  # fmt: skip


def _raised(plumbing: Plumbing, deep: Sequence[tuple[Point, Duty]]) -> Remedy:
    """Every mouth that siphons raised to its air gap, or a one-way valve behind it."""
    ways = {mouth.name: way for mouth, duty in deep if (way := _lower(plumbing, mouth, duty))}
    words = []
    for name in ways:
        gap, least = air_gap(plumbing, plumbing.points[name])
        words.append(f"{name} by {n(1000.0 * (least - gap) + 0.5)} mm")
    runs = list(dict.fromkeys(way[0].name for way in ways.values()))
    fitted = f"fit a one-way valve in {listed(runs, 'and')}"
    return Remedy(f"raise {listed(words, 'and')}, which makes an air gap, or {fitted}")


def _lower(plumbing: Plumbing, mouth: Point, duty: Duty, *, past_checks: bool = False) -> tuple[Passage, ...]:
    """The way from a mouth to a coupling or to open water below the highest water, empty where there is none."""
    others = [one.name for one in plumbing.work.point if one.mouth and one is not mouth]
    found = reached(passages(plumbing, duty, past_checks=past_checks), [mouth.name], others)
    for one in plumbing.work.point:
        ends = one.hydrant is not None or one.open_water
        if ends and one.name in found and float(one.height or 0.0) < highest_water(plumbing):
            return found[one.name]
    return ()
