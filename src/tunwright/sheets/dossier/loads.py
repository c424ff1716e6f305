"""Axle loads: over fill, in the worst states, and under braking with the water free, frozen and levelled."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.assess import Assessment
from tunwright.sheets.data import usual_stance
from tunwright.sheets.dossier.amounts import NOT_KNOWN, Amounts
from tunwright.sheets.dossier.blocks import (
    Block,
    Cell,
    Part,
    cell,
    column,
    head,
    note,
    row,
    table,
    unknown,
    words,
)
from tunwright.sheets.dossier.charts import chart_block
from tunwright.sheets.figures import loads_over_fill
from tunwright.sheets.input_words import labels
from tunwright.sheets.lifted import lifted_words, state_words
from tunwright.sheets.views.surfaces import full_state
from tunwright.truck.loads import LoadTable
from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
OVER = "†"
_MOST_STANCES = 4
_ABREAST = 4  # axles or groups side by side in the braking table
_EVERY = 2  # steps of the sweep between rows of the braking table


@dataclass(frozen=True)
class Carrier:
    """An axle or a group of axles whose load is printed.

    name: what it is called
    axles: indexes of its axles
    rating: its rating [kg], NaN where it has none
    dynamic: its rating while braking [kg], NaN where it has none
    """

    name: str
    axles: tuple[int, ...]
    rating: float
    dynamic: float = float("nan")

    def load(self, table: LoadTable) -> Floats:
        """What it carries in each state [kg].

        table: the load states
        """
        carried: Floats = table.axles[:, self.axles].sum(axis=1)
        return carried


def carriers(truck: Truck) -> list[Carrier]:
    """Every axle, then every group.

    truck: the truck
    """
    found = [
        Carrier(axle.name, (i,), float(axle.rating), _or_nan(axle.dynamic_rating))
        for i, axle in enumerate(truck.axles.axle)
    ]
    for group, members in truck.axles.groups:
        found.append(Carrier(f"{group.name} group", members, _or_nan(group.rating)))
    return found


def _or_nan(value: float | None) -> float:
    return float("nan") if value is None else float(value)


def supports(truck: Truck) -> list[Carrier]:
    """What stands on the ground as one: groups, and axles in no group.

    truck: the truck
    """
    grouped = {i for _, members in truck.axles.groups for i in members}
    return [one for one in carriers(truck) if len(one.axles) > 1 or one.axles[0] not in grouped]


def loads_known(truck: Truck) -> bool:
    """Whether any axle load can be worked out.

    truck: the truck
    """
    return bool(np.isfinite(truck.table.axles).any())


def what_is_missing(assessment: Assessment) -> str:
    """What has to be measured before loads are known, in words; empty where nothing is missing.

    assessment: the assessment
    """
    paths = [path for stance in assessment.truck.axles.stances for path in stance.missing]
    if assessment.build.chassis.cg_height is None:
        paths.append("chassis.cg_height")
    return "; ".join(labels(assessment.build, paths))


def loads_part(assessment: Assessment, amounts: Amounts) -> Part:
    """The part on axle loads.

    assessment: the assessment
    amounts: how quantities are printed
    """
    truck, missing = assessment.truck, what_is_missing(assessment)
    blocks: list[Block] = []
    if missing:
        blocks.append(unknown(f"Not known until it is measured: {missing}."))
    if loads_known(truck):
        blocks += [chart_block(partial(loads_over_fill, assessment)), *_chart_note(truck), *_sweeps(truck, amounts)]
        blocks += [head("Worst states on grades, under braking and part filled"), *_worst(truck, amounts)]
        blocks += [head("Braking: what the water does to the loads"), *_braking(assessment, amounts)]
    else:
        blocks.append(words("No axle load is given, because how the axles share an added load is not known."))
    return Part("Axle loads", blocks)


def _chart_note(truck: Truck) -> Iterator[Block]:
    """Which axles are lifted in the chart of loads over fill."""
    lifted = lifted_words(truck, full_state(truck).stance)
    if lifted:
        yield note(f"The chart is drawn with the {lifted}.")


def _sweeps(truck: Truck, amounts: Amounts) -> Iterator[Block]:
    """The loads at every level, for every choice of lifted axles."""
    stances = truck.axles.stances
    for number in range(min(len(stances), _MOST_STANCES)):
        said = lifted_words(truck, number)
        lifted = f", {said}" if said else ", no axle lifted" if len(stances) > 1 else ""
        yield head(f"Loads at every level, standing level, crew aboard{lifted}")
        yield _sweep(truck, amounts, number)
    if len(stances) > _MOST_STANCES:
        yield note(f"{len(stances) - _MOST_STANCES} more choices of lifted axles are judged under the findings.")


def _sweep(truck: Truck, amounts: Amounts, stance: int) -> Block:
    every = carriers(truck)
    level = truck.table.mask(sort="even", crew=True, stance=stance, grade=0.0, slope=0.0, braking=0.0)
    states = truck.table.only(level)
    mass = amounts.unit("mass")
    heads = ["fill", f"water, {amounts.unit('volume')}", *(f"{one.name}, {mass}" for one in every)]
    columns = [*(column(text, "1fr", right=True) for text in heads), column(f"gross, {mass}", "1fr", right=True)]
    ratings = [float(truck.build.chassis.gross_rating) if one is None else one.rating for one in (*every, None)]
    loads = np.column_stack([*(one.load(states) for one in every), states.gross])
    rows = [row([cell("rated", tone="soft"), "", *(_rating(r, amounts) for r in ratings)])]
    for state, litres, figures in zip(states.states, states.litres, loads, strict=True):
        cells = [_load(f, r, amounts) for f, r in zip(figures, ratings, strict=True)]
        rows.append(row([_fill(state), amounts.bare(float(litres) / 1000, "volume"), *cells]))
    return table(columns, rows, size=7.5 if len(columns) < 9 else 6.5)


def _rating(value: float, amounts: Amounts) -> Cell:
    return cell(amounts.bare(value, "mass") if np.isfinite(value) else "", tone="soft")


def _load(value: float, rating: float, amounts: Amounts) -> Cell:
    """A load; above its rating it is bold and carries a dagger."""
    text = amounts.bare(float(value), "mass")
    over = bool(np.isfinite(rating) and value > rating * (1 + 1e-9))
    return cell(text + OVER, bold=True, tone="bad") if over else text


def _fill(state: LoadState) -> str:
    return "brim" if state.brim else f"{100 * state.fill:.3g} %"


def _worst(truck: Truck, amounts: Amounts) -> Iterator[Block]:
    """Greatest and least load of every axle and group in every sort of state."""
    states = truck.table.states
    sorts: tuple[tuple[str, Callable[[LoadState], bool]], ...] = (
        ("level", lambda s: s.level and s.sort == "even"),
        ("grade", lambda s: bool(s.grade) and s.sort == "even"),
        ("braking", lambda s: s.surface == "braked"),
        ("pattern", lambda s: s.sort != "even"),
    )
    mass = amounts.unit("mass")
    columns = [
        column("axle", "20mm"),
        column("states", "14mm"),
        column(f"most, {mass}", "15mm", right=True),
        column("in which state", "1fr"),
        column(f"least, {mass}", "15mm", right=True),
        column("in which state", "1fr"),
    ]
    rows = []
    for one in carriers(truck):
        name = one.name
        for word, wanted in sorts:
            mine = np.array([wanted(s) for s in states])
            if mine.any():
                held = one.rating if word != "braking" else one.dynamic
                rows.append(row([name, word, *_extremes(truck, one, truck.table.only(mine), held, amounts)]))
                name = ""
    tried = truck.tried
    foot = (
        f"Grade {amounts.full(tried.grade, 'ratio')} nose up and nose down, braking at {tried.braking:g} g, with and "
        f"without crew. {OVER} above the rating; loads under braking are held only against a maker's rating for that. "
        "Pattern: compartments full and empty in every combination and every emptying order of the build."
    )
    yield table(columns, rows, size=7.5, foot=foot)


def _extremes(truck: Truck, one: Carrier, table_of: LoadTable, rating: float, amounts: Amounts) -> list[Cell]:
    loads = one.load(table_of)
    if not np.isfinite(loads).any():
        return [NOT_KNOWN, "", NOT_KNOWN, ""]
    most, least = int(np.nanargmax(loads)), int(np.nanargmin(loads))
    found: list[Cell] = []
    for at in (most, least):
        found += [_load(float(loads[at]), rating, amounts), state_words(truck, table_of.states[at])]
    return found


def _braking(assessment: Assessment, amounts: Amounts) -> Iterator[Block]:
    """Loads under braking: each bay on its own, the water frozen, the water levelled through all bays."""
    truck, stance = assessment.truck, usual_stance(assessment)
    rows_of = {s: truck.table.mask(surface=s, crew=True, stance=stance) for s in ("braked", "frozen", "levelled")}
    tables = {s: truck.table.only(mask) for s, mask in rows_of.items()}
    if not np.isfinite(tables["braked"].axles).any():
        yield words("Not known until the height of the centre of gravity of the weighed chassis is measured.")
        return
    every = supports(truck)
    foot = (
        f"Braking at {truck.tried.braking:g} g, crew aboard. Each bay: every bay keeps the water it holds and its "
        "surface tilts; frozen: the water does not move; levelled: one tilted surface through all bays, as without "
        "baffles. Brake torques inside an axle group are not shared out; the group acts at its centre."
    )
    for start in range(0, len(every), _ABREAST):
        last = start + _ABREAST >= len(every)
        yield _braking_table(every[start : start + _ABREAST], tables, amounts, foot if last else "")


def _braking_table(every: Sequence[Carrier], tables: dict[str, LoadTable], amounts: Amounts, foot: str) -> Block:
    unit = amounts.unit("mass")
    columns = [column("fill", "13mm", right=True)]
    for one in every:
        columns += [
            column(f"{one.name}\n{how}, {unit}", "1fr", right=True) for how in ("each bay", "frozen", "levelled")
        ]
    loads = [one.load(t) for one in every for t in tables.values()]
    states = tables["braked"].states
    rows = []
    for i, state in enumerate(states):
        if i % _EVERY == 0 or i == len(states) - 1:
            rows.append(row([_fill(state), *(amounts.bare(float(load[i]), "mass") for load in loads)]))
    return table(columns, rows, size=7.5, foot=foot)
