"""An assessment as plain data: always metric, never NaN, the same keys every time."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

import numpy as np

from tunwright import __version__
from tunwright.build.reading import Document
from tunwright.checks.assess import Assessment
from tunwright.checks.capacity import volumes_litres
from tunwright.checks.finding import Finding
from tunwright.checks.remedy import Remedies
from tunwright.handbook.inertia import Mass
from tunwright.sheets.words import answer, fill_words, window_words
from tunwright.tables.read import tables_hash
from tunwright.truck.loads import LoadTable
from tunwright.truck.parts import Part


def number(value: float | None, digits: int = 3) -> float | None:
    """A number for JSON: rounded, None where it is missing or not finite.

    value: the value
    digits: decimals kept
    """
    if value is None or not math.isfinite(value):
        return None
    return round(float(value), digits) + 0.0


def provenance(document: Document) -> dict[str, str]:
    """What a result was made with.

    document: the build file
    """
    return {"program": __version__, "build_sha256": document.sha256, "tables_sha256": tables_hash()}


def assessment_data(assessment: Assessment, document: Document) -> dict[str, Any]:
    """Everything the checks found.

    assessment: the assessment
    document: the build file
    """
    return {
        **provenance(document),
        "title": assessment.build.order.title,
        "verdict": assessment.worst,
        "answer": answer(assessment),
        "findings": [finding_data(finding) for finding in Remedies(assessment).findings()],
        "window": window_data(assessment),
        "fill_limit": fill_limit_data(assessment),
        "volumes_l": {name: number(value, 1) for name, value in volumes_litres(assessment.truck).items()},
        "weights": weights_data(assessment),
        "assumed": list(assessment.assumed),
    }


def finding_data(finding: Finding) -> dict[str, Any]:
    """One finding.

    finding: the finding
    """
    remedy = finding.remedy
    return {
        "key": finding.key,
        "question": finding.question,
        "state": finding.state,
        "value": None if finding.verdict == "open" else number(finding.value, 4),
        "limit": number(finding.limit, 4),
        "unit": finding.unit,
        "sense": finding.sense,
        "verdict": finding.verdict,
        "rule": vars(finding.rule).copy(),
        "working": [vars(step).copy() for step in finding.working],
        "remedy": None
        if remedy is None
        else {"words": remedy.words, "breaks": list(remedy.breaks), "cures": list(remedy.cures)},
        "assumed": list(finding.assumed),
        "missing": list(finding.missing),
        "note": finding.note,
    }


def window_data(assessment: Assessment) -> dict[str, Any]:
    """The permitted window; its ends are None where it is empty, `water_l` then is the most water that has one.

    assessment: the assessment
    """
    full, found = assessment.placing.full(), assessment.window
    fits = found.filled != "most" and not assessment.unknown
    shown = found if fits else full
    return {
        "from_m": number(found.low, 4) if fits else None,
        "to_m": number(found.high, 4) if fits else None,
        "binds_from": shown.binds_low,
        "binds_to": shown.binds_high,
        "water_l": None if assessment.unknown else 0.0 if found.empty else number(1000 * found.water, 1),
        "filled": found.filled,
        "empty": not fits and not assessment.unknown,
        "never": shown.never,
        "most_at_m": None if fits or found.empty else number(found.low, 4),
        "missing": [*assessment.unknown, *assessment.no_grades],
        "words": window_words(assessment),
    }


def fill_limit_data(assessment: Assessment) -> dict[str, Any]:
    """The fill limit; its litres are None where axle loads are not known.

    assessment: the assessment
    """
    found, missing = assessment.fill_limit, [*assessment.unknown, *assessment.no_grades]
    return {
        "water_l": None if assessment.unknown else number(1000 * found.water, 1),
        "binds": found.binds,
        "fails_empty": list(found.fails_dry),
        "missing": missing,
        "words": fill_words(assessment),
    }


def weights_data(assessment: Assessment) -> dict[str, Any]:
    """What everything weighs.

    assessment: the assessment
    """
    truck = assessment.truck
    weights, kerb = truck.weights, truck.axles
    return {
        "kerb": {
            "mass_kg": number(kerb.kerb_mass, 1),
            "x_m": number(kerb.kerb_x),
            "z_m": number(truck.loading.cg_height),
        },
        "added": [
            {"key": lump.key, "name": lump.name, "on": lump.of, **place_data(lump.mass)} for lump in weights.lumps
        ],
        "crew_aboard": place_data(weights.crew_aboard),
        "tank_parts": [part_data(part) for part in weights.parts],
        "tank_calculated_kg": {name: number(value, 1) for name, value in weights.tank_calculated.items()},
        "replaced": [
            {
                "key": swap.key,
                "calculated_kg": number(swap.calculated, 1),
                "given_kg": number(swap.given, 1),
                "difference_kg": number(swap.given - swap.calculated, 1),
            }
            for swap in weights.replaced
        ],
        "body": {str(fill): mass_data(truck.body(fill)) for fill in (0.0, 0.5, 1.0)},
    }


def part_data(part: Part) -> dict[str, Any]:
    """One part to be made.

    part: the part
    """
    return {
        "key": part.key,
        "name": part.name,
        "material": part.material,
        "thickness_mm": number(1000 * part.thickness, 2),
        "area_m2": number(part.area),
        "mass_kg": number(part.mass.mass, 1),
    }


def place_data(mass: Mass) -> dict[str, float | None]:
    """Mass and centre of a lump.

    mass: the lump
    """
    x, y, z = (number(float(v)) for v in mass.centre)
    return {"mass_kg": number(mass.mass, 1), "x_m": x, "y_m": y, "z_m": z}


def mass_data(mass: Mass) -> dict[str, Any]:
    """Mass, centre and inertia of a lump about its own centre.

    mass: the lump
    """
    tensor = mass.inertia
    names = {"xx": (0, 0), "yy": (1, 1), "zz": (2, 2), "xy": (0, 1), "xz": (0, 2), "yz": (1, 2)}
    return {**place_data(mass), "inertia_kg_m2": {name: number(float(tensor[at]), 1) for name, at in names.items()}}


def loads_data(assessment: Assessment, document: Document, *, every: bool) -> dict[str, Any]:
    """Axle loads over fill.

    assessment: the assessment
    document: the build file
    every: all load states, not only level, crew aboard and evenly filled
    """
    return {
        **provenance(document),
        "title": assessment.build.order.title,
        "axles": [axle.name for axle in assessment.truck.axles.axle],
        "states": list(_states(assessment, chosen_states(assessment, every=every))),
    }


def chosen_states(assessment: Assessment, *, every: bool) -> LoadTable:
    """All load states, or the even sweep standing level with the crew aboard, axles lifted as weighed.

    assessment: the assessment
    every: all of them
    """
    table = assessment.truck.table
    if every:
        return table
    return table.only(
        np.array(
            [s.level and s.crew and s.sort == "even" and s.stance == usual_stance(assessment) for s in table.states]
        )
    )


def usual_stance(assessment: Assessment) -> int:
    """Index of the choice with no axle lifted, or where that cannot be worked out of the one it was weighed in.

    assessment: the assessment
    """
    stances = assessment.truck.axles.stances
    known = [i for i, stance in enumerate(stances) if stance.shares is not None]
    return next((i for i in known if not stances[i].lifted), known[0] if known else 0)


def _states(assessment: Assessment, table: LoadTable) -> Iterable[dict[str, Any]]:
    truck = assessment.truck
    names = [part.name for part in truck.solid.compartments]
    for i, state in enumerate(table.states):
        stance = truck.axles.stances[state.stance]
        loads = table.axles[i]
        yield {
            "id": state.id,
            "fill": number(float(table.volumes[i].sum() / truck.volumes.net.sum()), 6),
            "water_l": number(float(table.litres[i]), 2),
            "grade": state.grade,
            "slope": state.slope,
            "braking": state.braking,
            "surface": state.surface,
            "crew": state.crew,
            "lifted": [truck.axles.axle[k].name for k in stance.lifted],
            "compartments": {name: number(1000 * float(v), 2) for name, v in zip(names, table.volumes[i], strict=True)},
            "axle_loads_kg": [number(float(load), 2) for load in loads],
            "gross_kg": number(float(table.gross[i]), 2),
            "group_loads_kg": {
                group.name: number(float(loads[list(members)].sum()), 2) for group, members in truck.axles.groups
            },
        }
