"""The first pages: the plain answer, the volumes, the verdicts, the worst findings, cautions and hashes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from tunwright import __version__
from tunwright.build.model import Build
from tunwright.build.reading import Document
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import ORDER, Finding
from tunwright.sheets.dossier.amounts import NOT_KNOWN, Amounts
from tunwright.sheets.dossier.answer import plain_answer
from tunwright.sheets.dossier.blocks import Block, column, row, table, verdict_cell
from tunwright.sheets.dossier.findings import sides
from tunwright.sheets.dossier.place import fill_line, window_lines
from tunwright.sheets.input_words import labels
from tunwright.tables.read import rule_set, tables_hash

NOT_STATED = "not stated"
_WORST_ROWS = 8
_NEAREST = 3  # findings shown where all hold

AID = (
    "This dossier is an aid for a competent person, never an approval. Local codes, the written limits of the chassis "
    "maker and licensed practice come first. A rule marked as read from memory or as common practice has to be checked "
    "in its own text before anybody relies on it."
)
_CAUTIONS = {
    "Driving part-filled": (
        "Water runs forward when braking and outward in bends, most of all half full. Drive slower than the load would "
        "need if it stood still, steer gently, and never above the fill limit."
    ),
    "Confined space": (
        "Nobody goes into the tank, or leans in through a manhole, without a permit: every bay opened and tested, "
        "air blown in, somebody outside who stays there, a way to bring a person out. Rust, coating and former "
        "contents use up or poison the air."
    ),
    "Hot work": (
        "No welding, cutting or grinding on a coated or used tank, near fuel, hoses or wiring, without a permit. "
        "Before welding on the vehicle isolate its battery and control units as the maker writes."
    ),
    "Lifting": (
        "Lift the tank empty, by the points made for it, with gear for its mass under Weights and for what was left "
        "in it; nobody stands beneath. Its centre is not its middle."
    ),
    "On top of the tank": (
        "Dipping and filling from above is work at height on a wet roof: ladder, catwalk, handhold, and not while "
        "the engine can move the vehicle."
    ),
}
_POTABLE = {
    "Drinking water": (
        "Chlorine for disinfection burns skin and eyes, and with acids gives off a poisonous gas: gloves, goggles, "
        "moving air. Water from the tank is fit to drink only once the local authority's sampling says so."
    ),
}


def cover_data(
    assessment: Assessment, document: Document, amounts: Amounts, findings: Sequence[Finding]
) -> dict[str, Any]:
    """Everything on the first pages.

    assessment: the assessment
    document: the build file
    amounts: how quantities are printed
    findings: the findings, worst first, with their remedies
    """
    build = assessment.build
    answer = plain_answer(assessment, amounts, findings)
    return {
        "facts": [list(fact) for fact in _facts(build, amounts)],
        "answer": {"verdict": assessment.worst, "head": answer.head, "rest": answer.rest, "lines": list(answer.lines)},
        "figures": [list(figure) for figure in _figures(assessment, amounts)],
        "counts": [[verdict, assessment.counts[verdict]] for verdict in ORDER],
        "window": window_lines(assessment, amounts),
        "fill": fill_line(assessment),
        "worst": _worst(build, findings, amounts),
        "aid": AID,
        "cautions": [list(one) for one in _cautions(build).items()],
        "hashes": [
            ["build file, SHA-256", document.sha256],
            ["tables and rules, SHA-256", tables_hash()],
            ["program", f"Tunwright {__version__}"],
        ],
    }


def _facts(build: Build, amounts: Amounts) -> Iterator[tuple[str, str]]:
    """What was ordered."""
    order = build.order
    yield "job", order.number or NOT_STATED
    yield "customer", order.customer or NOT_STATED
    yield "date of order", order.date or NOT_STATED
    yield "use", order.use
    yield "terrain", order.terrain
    asked = NOT_STATED if order.volume is None else f"{amounts.volume(float(order.volume))} {order.volume_means}"
    yield "volume ordered", asked
    yield "chassis", build.chassis.name
    yield "gross rating", amounts.mass(float(build.chassis.gross_rating))
    yield "rule sets", "; ".join(rule_set(name).title for name in order.rules)


def _figures(assessment: Assessment, amounts: Amounts) -> Iterator[tuple[str, str, str]]:
    """The volumes and the masses: what, figure, a word on it."""
    volumes, truck = assessment.truck.volumes, assessment.truck
    yield "gross volume", amounts.volume(float(volumes.gross.sum())), "to the roof"
    yield "net volume", amounts.volume(float(volumes.net.sum())), _net_by(assessment)
    yield "usable volume", amounts.volume(float(volumes.usable.sum())), "above what stays in it"
    limit = assessment.fill_limit
    if assessment.unknown:
        fill = NOT_KNOWN, "axle loads are open"
    elif limit.fails_dry:
        fill = "none", "a limit is passed empty"
    else:
        fill = amounts.volume(limit.water), "no limit is reached" if limit.binds is None else "where the tank stands"
    yield "fill limit by mass", *fill
    yield "most it can weigh", amounts.mass(float(np.max(truck.table.gross))), "to the brim, crew aboard"


def _net_by(assessment: Assessment) -> str:
    if assessment.build.tank.overflow_lip is not None:
        return "to the overflow lip"
    return f"gross less {100 * assessment.truck.volumes.ullage:g} % air"


def _worst(build: Build, findings: Sequence[Finding], amounts: Amounts) -> Block:
    """The findings that need attention; where none does, those with the least room, the nearest to its limit first."""
    every = list(enumerate(findings, start=1))
    needing = [one for one in every if one[1].verdict != "holds"]
    title = "worst findings" if needing else "nearest to their limits"
    needing = needing or sorted(every, key=lambda one: _room(one[1]))[:_NEAREST]
    rows, before = [], ""
    for number, finding in needing[:_WORST_ROWS]:
        value, limit = sides(finding, amounts)
        said = _helping(build, finding)
        rows.append(
            row([str(number), verdict_cell(finding.verdict), finding.question, value, limit, _once(said, before)])
        )
        before = said
    if len(needing) > _WORST_ROWS:
        rows.append(row(["", "", f"and {len(needing) - _WORST_ROWS} more under Findings", "", "", ""]))
    columns = [
        column("no.", "7mm", right=True),
        column("verdict", "15mm"),
        column(title, "1.1fr"),
        column("value", "20mm", right=True),
        column("limit", "22mm", right=True),
        column("worst state, and what would help", "1.4fr"),
    ]
    return table(columns, rows, size=7.5)


def _room(finding: Finding) -> float:
    """How far a finding is from its limit, as a part of the limit; without end where it has no number or no limit."""
    value, limit = finding.value, finding.limit
    if value is None or limit is None or not math.isfinite(value) or not limit:
        return math.inf
    return abs(limit - value) / abs(limit)


def _helping(build: Build, finding: Finding) -> str:
    """The worst state of a finding, and what would help."""
    if finding.verdict == "open":
        return f"measure or give: {'; '.join(labels(build, finding.missing))}"
    state = finding.state or (finding.note if finding.value is None else "")
    return f"{state}. Remedy: {finding.remedy.words}" if finding.remedy else state


def _once(said: str, before: str) -> str:
    """What was said on the line above is not said again."""
    return "the same" if said and said == before else said


def _cautions(build: Build) -> dict[str, str]:
    """The cautions that belong to the build."""
    return _CAUTIONS | (_POTABLE if build.order.use == "potable" else {})
