"""Drinking water: what it touches, with the approvals of that, and taps to take samples at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tunwright.build.pipework import PipeRun
from tunwright.build.typed import listed
from tunwright.checks.finding import Finding, Remedy, Rule, Step, shop_rule
from tunwright.checks.pipework.wetted_parts import Part, parts
from tunwright.checks.pipework.worked import STILL, Worked
from tunwright.tables.pipes import pipe_series
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing

TOUCHES = Rule(
    "approval for drinking water of every part, such as NSF/ANSI/CAN 61", mark="common practice",
    clause="which one counts is for the local water authority to say",
)  # fmt: skip
UNFIT = Rule(
    "common practice, no source: no bare steel, lead, coal tar or fire hose in drinking water", mark="common practice",
    clause="the local water authority says what is allowed",
)  # fmt: skip
RAW = Rule("common practice, no source: a drinking-water tank never carries raw water", mark="common practice")
_SHOWN = 12  # parts named at most


def drinking_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about materials, approvals and sample taps; none where the water is not for drinking.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    if plumbing.truck.build.order.use == "potable":
        found = parts(plumbing)
        yield _fit(plumbing, found, assumed)
        yield _approved(found, assumed)
        yield from _foreign(worked, assumed)
        yield from _sampled(plumbing, worked, assumed)


def _foreign(worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Water of a pond or river that gets into the tank."""
    if not worked:
        return
    names = [one.duty.name for one in worked if any(_from_open(state) for state in one.states)]
    remedy = Remedy(f"take away {', '.join(names)}: fill from a main alone; raw water is for another vehicle")
    yield Finding(
        "raw-water", "Does no water of a pond or river get into the drinking-water tank?", ", ".join(names),
        float(len(names)), 0.0, "duties", "at_most", "fails" if names else "holds", RAW, assumed=assumed,
        remedy=remedy if names else None,
    )  # fmt: skip


def _from_open(state: DutyState) -> bool:
    """Whether open water flows into the tank."""
    waters = [one.name for one in state.plumbing.work.point if one.open_water]
    return state.from_tank < -STILL and any(state.leaves(name) > STILL for name in waters)


# materials and approvals


def _approved(found: Sequence[Part], assumed: tuple[str, ...]) -> Finding:
    """Parts without a stated approval: open, never failing; what is not stated may well be there."""
    without = [one for one in found if not one.approval]
    more = len(without) - _SHOWN
    note = "The approval covers all that water touches: pipe, seals, grease, coating." if without else ""
    if more > 0:
        note += f" {more} more parts need theirs stated; the list of parts that water touches names all."
    steps = tuple(Step(one.name, one.what, one.material or "material not stated", "no approval") for one in without)
    return Finding(
        "approvals", "Is every part that drinking water touches approved for it?", "", float(len(without)), 0.0,
        "parts", "at_most", "open" if without else "holds", TOUCHES, working=steps, assumed=assumed, note=note,
        missing=tuple(one.path for one in without[:_SHOWN]),
    )  # fmt: skip


def _fit(plumbing: Plumbing, found: Sequence[Part], assumed: tuple[str, ...]) -> Finding:
    """Parts of a material that is known not to be for drinking water."""
    bad = [one for one in found if one.unfit]
    steps = tuple(Step(one.name, one.what, one.material, one.unfit) for one in bad)
    return Finding(
        "wetted-materials", "Is nothing that drinking water touches of a material unfit for it?",
        ", ".join(one.name for one in bad), float(len(bad)), 0.0, "parts", "at_most", "fails" if bad else "holds",
        UNFIT, working=steps, assumed=assumed, remedy=_better(plumbing, bad) if bad else None,
    )  # fmt: skip


def _better(plumbing: Plumbing, bad: Sequence[Part]) -> Remedy:
    """Stainless pipe of the same size for bare steel; for all else an approved part."""
    words, rest = [], []
    for one in bad:
        run = plumbing.runs[one.name] if one.path.startswith("pipework.run") else None
        size = None if run is None else _stainless(plumbing, run)
        if size is None:
            rest.append(one.name)
        else:
            words.append(f"make {one.name} of stainless pipe, {size}")
    if rest:
        words.append(f"take parts approved for drinking water for {listed(rest, 'and')}, and state their approval")
    return Remedy("; ".join(words))


def _stainless(plumbing: Plumbing, run: PipeRun) -> str | None:
    """Series and size of stainless pipe of the same nominal size, None where there is none; hose stays hose."""
    size = plumbing.size(run)
    rows = [one for series in pipe_series().values() if series.material == "stainless" for one in series.sizes]
    same = [one for one in rows if one.nps == size.nps] if size.material == "steel" else []
    thick = max(same, key=lambda one: one.wall, default=None)
    return None if thick is None else f"{thick.series} {thick.name}"


# samples


@dataclass(frozen=True)
class Place:
    """A place a sample has to be had of.

    words: what it is
    taps: points a tap may stand at for it
    """

    words: str
    taps: frozenset[str]


def places(plumbing: Plumbing, worked: Sequence[Worked]) -> list[Place]:
    """The tank, behind each of its outlets, and every outlet water is delivered at; a tap may stand one run before.

    plumbing: the pipework
    worked: the duties that were worked out
    """
    work = plumbing.work
    found = [Place(one.name, _beside(plumbing, one.name)) for one in work.point if one.outlet is not None]
    used = {name for one in worked for state in one.states for name in state.to_sprays}
    return found + [Place(one.name, _beside(plumbing, one.on)) for one in work.spray if one.name in used]


def _beside(plumbing: Plumbing, point: str) -> frozenset[str]:
    """A point and those one run away from it, not through a hydrant or a mouth."""
    runs = [one for one in plumbing.work.run if point in (one.start, one.end)]
    near = {end for one in runs for end in (one.start, one.end)}
    clean = {one.name for one in plumbing.work.point if one.hydrant is None and not one.mouth and not one.open_water}
    return frozenset((near & clean) | {point})


def _sampled(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Places without a sample tap."""
    wanted = places(plumbing, worked)
    if not wanted:
        return
    taps = {one.name for one in plumbing.work.point if one.sample}
    without = [one for one in wanted if not one.taps & taps]
    limit = shop_value("sample_missing")
    steps = tuple(
        Step(one.words, "a tap there, or one run from it", "", ", ".join(sorted(one.taps & taps)) or "none")
        for one in wanted
    )
    fails = len(without) > limit
    words = f"fit a sample tap at {listed(_fewest(plumbing, without), 'and')}: sample = true"
    yield Finding(
        "sample-points", "Can a sample be taken at the tank and wherever water is delivered?",
        ", ".join(one.words for one in without), float(len(without)), limit, "places", "at_most",
        "fails" if fails else "holds", shop_rule("sample_missing"), working=steps, assumed=assumed,
        remedy=Remedy(words) if fails else None,
    )  # fmt: skip


def _fewest(plumbing: Plumbing, without: Sequence[Place]) -> list[str]:
    """Points that serve all places, each chosen for the most places left, the first in the build where alike."""
    order, left, found = [one.name for one in plumbing.work.point], list(without), []
    while left:
        best = max(order, key=lambda name: sum(name in one.taps for one in left))
        found.append(best)
        left = [one for one in left if best not in one.taps]
    return found
