"""Limits on axle loads: one shape for ratings, shares and law, so that verdicts, the permitted window and the fill
limit all read the same list.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.build.fields import slug
from tunwright.checks.finding import Rule, Sense, shop_rule
from tunwright.checks.legal import legal_limits
from tunwright.checks.legal_limit import LegalLimit
from tunwright.handbook.axle_law import LawAxle
from tunwright.tables.read import rule_set, shop_value, shop_values
from tunwright.truck.loads import LoadTable, Rows, Where
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]

RATING = Rule("rating of the chassis", mark="maker's")


@dataclass(frozen=True)
class LoadLimit:
    """A limit on what some axles carry together.

    key: stable key
    question: what is asked
    axles: indexes of the axles
    sense: at_most or at_least
    kg: limit [kg], None where it is a share
    share: limit as part of the gross mass [-], None where it is a mass
    where: standing level, or on the tried grades
    rule: where it comes from
    stance: index of the choice of lifted axles it belongs to, None for all
    raised: higher limit [kg], with the axles that each must stay under a mass [kg] for it to hold
    on_gross: judged on the mass of the vehicle rather than on the sum of the axle loads
    sided: the heavier side of the axle counts, twice
    note: a word on it
    missing: what must be known before it can be called held
    """

    key: str
    question: str
    axles: tuple[int, ...]
    sense: Sense
    kg: float | None
    share: float | None
    where: Where
    rule: Rule
    stance: int | None = None
    raised: tuple[float, tuple[int, ...], float] | None = None
    on_gross: bool = False
    sided: bool = False
    note: str = ""
    missing: tuple[str, ...] = ()

    def part(self, table: LoadTable) -> tuple[Rows, LoadTable]:
        """The states it is judged in, and their row numbers.

        table: the load states
        """
        return table.part(self.where, self.stance)

    def value(self, table: LoadTable) -> Floats:
        """What the axles carry in each state [kg].

        table: the load states
        """
        if self.on_gross:
            return table.gross
        carried: Floats = table.axles[:, self.axles].sum(axis=1)
        return carried

    def slope(self, table: LoadTable) -> Floats:
        """Change of that for the tank moved 1 m rearwards [kg/m].

        table: the load states
        """
        moved: Floats = table.per_metre[:, self.axles].sum(axis=1)
        return np.zeros(len(table.states)) if self.on_gross else moved

    def plain(self, table: LoadTable, track: float | None = None) -> Floats:
        """The limit in each state [kg], without the higher value it may have under a condition.

        table: the load states
        track: track of the axle [m], for limits on the heavier side
        """
        if self.share is not None:
            total: Floats = self.share * table.axles.sum(axis=1)
            return total
        limit = np.full(len(table.states), float(self.kg if self.kg is not None else np.nan))
        if self.sided and track:
            limit = limit / (1.0 + 2.0 * np.abs(table.centre[:, 1]) / track)
        return limit

    def limit(self, table: LoadTable, track: float | None = None) -> Floats:
        """The limit in each state [kg].

        table: the load states
        track: track of the axle [m], for limits on the heavier side
        """
        if self.raised is None:
            return self.plain(table, track)
        kg, axles, each = self.raised
        light = (table.axles[:, axles] <= each * (1 + 1e-9)).all(axis=1)
        return np.where(light, kg, self.plain(table, track))


def load_limits(truck: Truck) -> list[LoadLimit]:
    """Every limit on the axle loads of a truck.

    truck: the truck
    """
    legal = list(_legal(truck))
    found = [*_ratings(truck), *_gross(truck), *_shares(truck, legal), *_tyres(truck), *legal]
    return [limit for limit in found if limit.where == "standing" or truck.tried.grade]


def _grade_factor() -> float:
    return shop_value("rating_factor_on_grade")


def _ratings(truck: Truck) -> Iterator[LoadLimit]:
    """Axles and groups against their ratings, level and on grades."""
    grade_rule = Rule(
        "rating of the chassis", f"times the shop's factor on grades, {_grade_factor():g}", mark="maker's and shop's"
    )
    for i, axle in enumerate(truck.axles.axle):
        rating = float(axle.rating)
        yield LoadLimit(
            f"axle-{slug(axle.name)}",
            f"Load on {axle.called} within its rating?",
            (i,),
            "at_most",
            rating,
            None,
            "standing",
            RATING,
        )
        yield LoadLimit(
            f"axle-{slug(axle.name)}-grade",
            f"Load on {axle.called} on a grade within its rating?",
            (i,),
            "at_most",
            rating * _grade_factor(),
            None,
            "grades",
            grade_rule,
        )
    for group, members in truck.axles.groups:
        if group.rating is None:
            continue
        yield LoadLimit(
            f"group-{slug(group.name)}",
            f"Load on the {group.name} group within its rating?",
            members,
            "at_most",
            float(group.rating),
            None,
            "standing",
            RATING,
        )
        yield LoadLimit(
            f"group-{slug(group.name)}-grade",
            f"Load on the {group.name} group on a grade within its rating?",
            members,
            "at_most",
            float(group.rating) * _grade_factor(),
            None,
            "grades",
            grade_rule,
        )


def _gross(truck: Truck) -> Iterator[LoadLimit]:
    everything = tuple(range(truck.axles.count))
    yield LoadLimit(
        "gross",
        "Mass of the whole vehicle within its gross rating?",
        everything,
        "at_most",
        float(truck.build.chassis.gross_rating),
        None,
        "standing",
        RATING,
        on_gross=True,
    )


def _shares(truck: Truck, legal: list[LoadLimit]) -> Iterator[LoadLimit]:
    """Least shares on the steered and driven axles: the maker's, else the shop's where no rule set has one."""
    chassis = truck.build.chassis
    by_law = {limit.axles for limit in legal if limit.share is not None}
    for word, own, shop, picked in (
        ("front", chassis.front_share, "front_share", [a.steered for a in chassis.axle]),
        ("driven", chassis.driven_share, "driven_share", [a.driven for a in chassis.axle]),
    ):
        axles = tuple(i for i, yes in enumerate(picked) if yes)
        if own is None and axles in by_law:
            continue
        usual = shop_values()[shop]
        rule = RATING if own is not None else shop_rule(shop)
        name = "steered" if word == "front" else "driven"
        yield LoadLimit(
            f"{word}-share",
            f"Enough of the mass on the {name} axles?",
            axles,
            "at_least",
            None,
            float(usual.value if own is None else own),
            "standing",
            rule,
        )


def _tyres(truck: Truck) -> Iterator[LoadLimit]:
    """The heavier side of each axle against its tyres, level and on grades."""
    for i, axle in enumerate(truck.axles.axle):
        if axle.tyre_rating is None:
            continue
        both = float(axle.tyre_rating) * axle.tyres
        rule = Rule("load rating of the tyres", f"{axle.tyres} tyres, the heavier side twice", mark="maker's")
        note = "" if axle.track else "Track not given: the load is taken as even from side to side."
        roads: tuple[tuple[Where, str, float], ...] = (("standing", "", 1.0), ("grades", "-grade", _grade_factor()))
        for where, tail, factor in roads:
            on = " on a grade" if tail else ""
            yield LoadLimit(
                f"tyres-{slug(axle.name)}{tail}",
                f"Load on the tyres of {axle.called}{on} within their rating?",
                (i,),
                "at_most",
                both * factor,
                None,
                where,
                rule,
                sided=True,
                note=note,
            )


def law_axles(truck: Truck, lifted: tuple[int, ...] = ()) -> tuple[list[LawAxle], list[int]]:
    """The axles as a road law sees them, and their indexes.

    truck: the truck
    lifted: indexes of lifted axles
    """
    groups = {member: group for group, members in truck.axles.groups for member in members}
    seen, index = [], []
    for i, axle in enumerate(truck.axles.axle):
        if i not in lifted:
            group = groups.get(i)
            air = None if axle.suspension is None else axle.suspension == "air"
            seen.append(
                LawAxle(
                    at=float(axle.at),
                    steered=axle.steered,
                    driven=axle.driven,
                    tyres=axle.tyres,
                    tyre_width=None if axle.tyre_width is None else float(axle.tyre_width),
                    air_suspension=air,
                    group=group.name if group else None,
                    load_sharing=True if group else None,
                )
            )
            index.append(i)
    return seen, index


def _legal(truck: Truck) -> Iterator[LoadLimit]:
    """What the rule sets ask, for every choice of lifted axles."""
    several = len(truck.axles.stances) > 1
    for name in truck.build.order.rules:
        for number, stance in enumerate(truck.axles.stances):
            axles, index = law_axles(truck, stance.lifted)
            for limit in legal_limits(rule_set(name), axles):
                yield _of_law(limit, index, number if several else None)


def _of_law(limit: LegalLimit, index: list[int], stance: int | None) -> LoadLimit:
    axles = tuple(index[i] for i in limit.axles)
    raised = None
    if limit.raised is not None:
        raised = (limit.raised.value_kg, tuple(index[i] for i in limit.raised.axles), limit.raised.each_kg)
    rule = Rule(limit.document, limit.clause, limit.edition, limit.mark)
    key = f"{limit.rules}-{slug(limit.key)}" + (f"-lift{stance}" if stance else "")
    return LoadLimit(
        key,
        limit.question,
        axles,
        limit.sense,
        limit.value_kg,
        limit.share,
        "standing",
        rule,
        stance,
        raised,
        on_gross=False,
        note=limit.note,
        missing=(limit.missing,) if limit.missing else (),
    )
