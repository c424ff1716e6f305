"""Jets: can they be held, do they push the vehicle over, do they reach as far as is wanted."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.factors import BAR, LITRES_A_MINUTE
from tunwright.build.fields import slug
from tunwright.build.pipework import Spray
from tunwright.build.shown import show_number as n
from tunwright.checks.assumed import MASSES, resting_on
from tunwright.checks.finding import Finding, Rule, Step, not_known, shop_rule, verdict
from tunwright.checks.pipework import jet_remedies as remedies
from tunwright.checks.pipework.jet_remedies import Thrown
from tunwright.checks.pipework.worked import MEANT, WANTED, Worked, at
from tunwright.tables.read import shop_value, shop_values
from tunwright.truck.pipework.jets import Jet, Righting, holder, is_jet, jet_in, righting, too_much
from tunwright.truck.pipework.plumbing import Plumbing

MOUNT = Rule("force its mount bears", mark="maker's")
_PERSONS = {"one person": "jet_one_person", "two persons": "jet_two_persons"}
_STEEP = math.radians(35.5)  # the allowance for the air was measured up to 35 degrees
_HARDEST = 6.2e5  # before the nozzle, measured by Theobald, 1981 [Pa]
_STEEPER = "It points steeper than the air's share was measured for, and may come down up to a fifth shorter."
_MINE = (r"pipework", r"tank")


def jet_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about monitors and hose reels, in the duties in which they work.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    for i, spray in enumerate(plumbing.work.spray, start=1):
        thrown = list(_thrown(spray, worked)) if is_jet(spray) else []
        if thrown:
            yield _reaction(plumbing, spray, i, thrown, assumed)
            if holder(spray) == "mount":
                yield _sideways(plumbing, spray, thrown, assumed)
            if spray.reaches is not None:
                yield _reach(plumbing, spray, thrown, assumed)


def _thrown(spray: Spray, worked: Sequence[Worked]) -> Iterator[Thrown]:
    """The jet at every filling of every duty in which it works."""
    for one in worked:
        for state in one.states:
            jet = jet_in(state, spray)
            if jet is not None:
                yield jet, state, one


def _reaction(
    plumbing: Plumbing, spray: Spray, number: int, thrown: Sequence[Thrown], assumed: tuple[str, ...]
) -> Finding:
    """The greatest reaction, against what holds the jet."""
    key, holds = f"jet-reaction-{slug(spray.name)}", holder(spray)
    person = _PERSONS.get(holds)
    question = f"Can {holds} hold {spray.name}?" if person else f"Does the mount of {spray.name} bear its jet?"
    if person is None and spray.bears is None:
        return not_known(key, question, MOUNT, "N", (f"pipework.spray[{number}].bears",), note=_push(thrown))
    limit, rule = (shop_value(person), shop_rule(person)) if person else (float(spray.bears or 0.0), MOUNT)
    jet, state, one = max(thrown, key=lambda row: row[0].reaction)
    judged = verdict(jet.reaction, limit, "at_most")
    remedy = remedies.softer(plumbing, thrown, limit) if judged == "fails" else None
    return Finding(
        key, question, at(one, state), jet.reaction, limit, "N", "at_most", judged, rule,
        working=tuple(_pushing(plumbing, (jet, state, one))), remedy=remedy, note=_odd(plumbing, spray),
        assumed=resting_on(assumed, _MINE),
    )  # fmt: skip


def _push(thrown: Sequence[Thrown]) -> str:
    """How hard a jet pushes, said where no limit is known."""
    jet, state, one = max(thrown, key=lambda row: row[0].reaction)
    told = f"Its jet pushes with up to {n(jet.reaction)} N: {at(one, state)}. The mount's maker says what it bears."
    return f"{told} {_odd(state.plumbing, jet.spray)}".strip()


def _odd(plumbing: Plumbing, spray: Spray) -> str:
    """A word on a flow that the bore cannot pass."""
    most = too_much(spray, plumbing.liquid.density)
    if most is None or spray.bore is None:
        return ""
    passes, said = n(LITRES_A_MINUTE * most), n(LITRES_A_MINUTE * float(spray.flow))
    return (
        f"A bore of {spray.bore.text} passes {passes} L/min at {spray.pressure.text} at most, and {said} are stated: "
        "one of the two is wrong. The greater push was taken."
    )


def _pushing(plumbing: Plumbing, row: Thrown) -> Iterator[Step]:
    """How the reaction comes about."""
    jet = row[0]
    many = f", each of {jet.spray.count}" if jet.spray.count > 1 else ""
    flow, bar = f"{n(LITRES_A_MINUTE * jet.flow)} L/min", f"{n(jet.pressure / BAR, 2)} bar"
    yield Step("pressure before its nozzle", "the network, p0 (q / q0)²", f"{flow}{many}", bar)
    if jet.spray.bore is not None and too_much(jet.spray, plumbing.liquid.density) is None:
        how = ("2 A p", f"bore {jet.spray.bore.text}", "momentum of a smooth jet as wide as its bore")
    else:
        how = ("Q √(2 ρ p)", flow, "momentum of the flow, no loss in the nozzle; a wide cone pushes less")
    yield Step("reaction", how[0], f"{how[1]}, {bar}", f"{n(jet.reaction)} N", how[2])


def _sideways(plumbing: Plumbing, spray: Spray, thrown: Sequence[Thrown], assumed: tuple[str, ...]) -> Finding:
    """The moment of the jets pointed sideways, against what keeps the empty vehicle on its wheels."""
    key, limit = f"jet-sideways-{slug(spray.name)}", shop_value("jet_righting")
    question = f"Does {spray.name}, pointed sideways, leave the empty vehicle firmly on its wheels?"
    found = righting(plumbing.truck)
    if not isinstance(found, Righting):
        return not_known(key, question, shop_rule("jet_righting"), "share", found, limit=limit)
    jet, state, one = max(thrown, key=lambda row: row[0].reaction)
    value = spray.count * jet.reaction * jet.above / found.moment
    judged = verdict(value, limit, "at_most")
    remedy = remedies.softer(plumbing, thrown, jet.reaction * limit / value) if judged == "fails" else None
    return Finding(
        key, question, at(one, state), value, limit, "share", "at_most", judged, shop_rule("jet_righting"),
        working=tuple(_tipping(plumbing, (jet, state, one), found)), remedy=remedy,
        assumed=resting_on(assumed, (*_MINE, *MASSES, r"chassis\.axle\[\d+\]\.track", r"item\[\d+\]\.y")),
    )  # fmt: skip


def _tipping(plumbing: Plumbing, row: Thrown, found: Righting) -> Iterator[Step]:
    """How the share of the righting moment comes about."""
    jet = row[0]
    over, many = jet.spray.count * jet.reaction * jet.above, f"{jet.spray.count} × " if jet.spray.count > 1 else ""
    yield from _pushing(plumbing, row)
    pushed = f"{many}{n(jet.reaction)} N × {n(jet.above, 2)} m"
    yield Step("pushes it over with", "R z, the jet level and square to the vehicle", pushed, f"{n(over)} N m")
    held = f"{n(found.mass)} kg × 9.80665 × ({n(found.track, 2)} / 2 − {n(found.off, 3)}) m"
    yield Step(
        "kept on its wheels by", "m g (T / 2 − y), tank dry, nobody aboard, narrowest track", held,
        f"{n(found.moment)} N m", "statics of a stiff vehicle on level ground; springs, tyres and a slope take from it",
    )  # fmt: skip
    yield Step("share", "", f"{n(over)} / {n(found.moment)}", f"{n(100 * over / found.moment, 1)} %")


def _reach(plumbing: Plumbing, spray: Spray, thrown: Sequence[Thrown], assumed: tuple[str, ...]) -> Finding:
    """The shortest reach in the duties that are about this jet; in all where there are none of these."""
    meant = [row for row in thrown if spray.kind in MEANT.get(row[2].duty.kind, ())] or list(thrown)
    jet, state, one = min(meant, key=lambda row: row[0].reach)
    limit = float(spray.reaches or 0.0)
    judged = verdict(jet.reach, limit, "at_least")
    remedy = remedies.farther(plumbing, meant, limit) if judged == "fails" else None
    return Finding(
        f"jet-reach-{slug(spray.name)}", f"Does {spray.name} reach as far as is wanted?", at(one, state), jet.reach,
        limit, "m", "at_least", judged, WANTED, working=tuple(_flying(jet)), remedy=remedy,
        note=" ".join(filter(None, (*_beyond(jet), _odd(plumbing, spray)))),
        assumed=resting_on(assumed, _MINE),
    )  # fmt: skip


def _beyond(jet: Jet) -> Iterator[str]:
    """Where the air's share was not measured."""
    if jet.angle > _STEEP:
        yield _STEEPER
    if jet.pressure > _HARDEST:
        yield "The air's share was measured up to 6.2 bar; a harder jet breaks up and may fall shorter."


def _flying(jet: Jet) -> Iterator[Step]:
    """How the reach comes about."""
    usual = ", the usual angle" if jet.spray.angle is None else ""
    given = f"{n(jet.pressure / BAR, 2)} bar, {n(jet.speed, 1)} m/s, {n(math.degrees(jet.angle))}°{usual}, "
    free = "v cos a / g (v sin a + √(v² sin² a + 2 g z))"
    yield Step("without air", free, f"{given}z = {n(jet.above, 2)} m", f"{n(jet.free, 1)} m", "no jet gets beyond that")
    width = "bore" if jet.spray.bore is not None else "bore that just passes its flow"
    yield Step(
        "what the air leaves of it", f"1 / (1 + H / {n(shop_value('jet_air'))} d), H = p / ρg, d = {width}", "",
        f"{n(100 * jet.share)} %", shop_values()["jet_air"].source,
    )  # fmt: skip
    told = "upper bound × allowance; still air, a good nozzle. Wind, a worn nozzle or a spray pattern shorten it"
    yield Step("reach", "product", "", f"{n(jet.reach, 1)} m", told)
