"""What is made in the background: a build file in, the bytes of a sheet out, with word of how far it is."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tunwright.build.reading import Document
from tunwright.checks.assess import Assessment
from tunwright.desk.book import workbook
from tunwright.desk.figures import document
from tunwright.desk.live import assessed
from tunwright.sheets.data import assessment_data, loads_data
from tunwright.sheets.dips import dip_rows
from tunwright.sheets.dossier import dossier_pdf, lifting_pdf, torque_pdf
from tunwright.sheets.drawing import Drawing
from tunwright.sheets.dxf import write_dxf
from tunwright.sheets.frame.files import DRAWINGS, frame_pdf, mounting_pdf
from tunwright.sheets.output import VIEWS, lifting_view, view_drawing
from tunwright.sheets.pipework.files import pipework_pdf, pipework_xlsx
from tunwright.sheets.pipework.schematic.drawing import schematic_drawing
from tunwright.sheets.svg import write_svg
from tunwright.sheets.views import general_arrangement

Told = Callable[[float, str], None]


@dataclass(frozen=True)
class Kind:
    """One kind of sheet.

    title: what it is
    file: name of the file
    media: its media type
    words: what is said while it is made
    make: assessment and document in, bytes out
    """

    title: str
    file: str
    media: str
    words: str
    make: Callable[[Assessment, Document], bytes]


def make(kind: str, text: str, told: Told) -> bytes:
    """Make a sheet. Raises BuildProblems, ValueError where it cannot be drawn.

    kind: key of KINDS
    text: the build file
    told: called with how far it is (0 to 1) and what is being done
    """
    told(0.05, "reading the build file")
    read, chosen = document(text), KINDS[kind]
    told(0.15, "assessing")
    assessment = assessed(text)
    _ = assessment.findings, assessment.window
    told(0.4, chosen.words)
    made = chosen.make(assessment, read)
    told(0.95, "putting it away")
    return made


def _dossier(assessment: Assessment, read: Document) -> bytes:
    return dossier_pdf(assessment, document=read)


def _lifting(assessment: Assessment, read: Document) -> bytes:
    return lifting_pdf(assessment, document=read)


def _torque(assessment: Assessment, read: Document) -> bytes:
    return torque_pdf(assessment, document=read)


def _frame(assessment: Assessment, read: Document) -> bytes:
    return frame_pdf(assessment, build_hash=read.sha256)


def _mounting(assessment: Assessment, read: Document) -> bytes:
    return mounting_pdf(assessment, build_hash=read.sha256)


def _pipes(assessment: Assessment, read: Document) -> bytes:
    return pipework_pdf(assessment, document=read)


def _pipe_book(assessment: Assessment, read: Document) -> bytes:
    return pipework_xlsx(assessment, document=read)


def _drawing(name: str) -> Callable[[Assessment, Document], Drawing]:
    if name in DRAWINGS:
        return lambda assessment, read: DRAWINGS[name][1](assessment, read.sha256)
    if name == "pipes":
        return lambda assessment, _: schematic_drawing(assessment)
    if name == "lifting":
        return lambda assessment, _: lifting_view(assessment)
    if name in VIEWS:
        return lambda assessment, _: view_drawing(assessment, name)
    return lambda assessment, read: general_arrangement(assessment, build_hash=read.sha256)


def _svg(name: str) -> Callable[[Assessment, Document], bytes]:
    return lambda assessment, read: write_svg(_drawing(name)(assessment, read)).encode()


def _dxf(name: str) -> Callable[[Assessment, Document], bytes]:
    def made(assessment: Assessment, read: Document) -> bytes:
        with TemporaryDirectory() as folder:
            return write_dxf(_drawing(name)(assessment, read), Path(folder) / "drawing.dxf").read_bytes()

    return made


def _csv(rows: Iterable[Iterable[Any]]) -> bytes:
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerows(rows)
    return out.getvalue().encode()


def dip_table(assessment: Assessment, _: Document) -> list[list[Any]]:
    """Level [mm] and litres of each compartment, standing level, with a head.

    assessment: the assessment
    """
    table = dip_rows(assessment)
    head = ["level_mm", *(f"{one.compartment}_litres" if one.compartment else "litres" for one in table.columns)]
    rows = zip(table.levels, table.volumes, strict=True)
    return [head, *([round(1000 * z, 1), *(round(1000 * v, 1) for v in held)] for z, held in rows)]


def loads_table(assessment: Assessment, read: Document) -> list[list[Any]]:
    """Axle loads [kg] in every load state, with a head.

    assessment: the assessment
    read: the build file
    """
    data = loads_data(assessment, read, every=True)
    plain = ("id", "fill", "water_l", "grade", "slope", "braking", "surface", "crew")
    groups = [group.name for group, _ in assessment.truck.axles.groups]
    rows = [
        [*(s[key] for key in plain), *s["axle_loads_kg"], *(s["group_loads_kg"][g] for g in groups), s["gross_kg"]]
        for s in data["states"]
    ]
    return [[*plain, *(f"{name}_kg" for name in (*data["axles"], *groups)), "gross_kg"], *rows]


def _data(assessment: Assessment, read: Document) -> bytes:
    return json.dumps(assessment_data(assessment, read), ensure_ascii=False, indent=2, allow_nan=False).encode()


def _book(assessment: Assessment, read: Document) -> bytes:
    return workbook(assessment, read, loads=loads_table(assessment, read), dip=dip_table(assessment, read))


def _drawings() -> dict[str, Kind]:
    titles = {"arrangement": "general arrangement", **{name: words for name, (words, _) in VIEWS.items()}}
    titles |= {"lifting": "lifting drawing", "pipes": "pipe schematic"}
    titles |= {name: words for name, (words, _) in DRAWINGS.items()}
    found = {}
    for name, title in titles.items():
        found[f"{name}.svg"] = Kind(title, f"{name}.svg", "image/svg+xml", "drawing", _svg(name))
        found[f"{name}.dxf"] = Kind(title, f"{name}.dxf", "image/vnd.dxf", "drawing", _dxf(name))
    return found


_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
KINDS: dict[str, Kind] = {
    "dossier": Kind("dossier", "dossier.pdf", "application/pdf", "trying remedies and printing", _dossier),
    "lifting.pdf": Kind("lifting plan", "lifting.pdf", "application/pdf", "hanging it on the hook", _lifting),
    "torque.pdf": Kind("torque sheet", "torque.pdf", "application/pdf", "printing", _torque),
    "frame.pdf": Kind("frame diagrams", "frame.pdf", "application/pdf", "loading the frame", _frame),
    "mounting.pdf": Kind("mounting sheet", "mounting.pdf", "application/pdf", "drawing", _mounting),
    "pipes.pdf": Kind("pipework sheets", "pipes.pdf", "application/pdf", "letting water flow", _pipes),
    "pipes.xlsx": Kind("pipework lists", "pipes.xlsx", _XLSX, "letting water flow", _pipe_book),
    **_drawings(),
    "dip.csv": Kind("dip chart", "dip.csv", "text/csv", "writing", lambda a, d: _csv(dip_table(a, d))),
    "loads.csv": Kind("axle loads", "loads.csv", "text/csv", "writing", lambda a, d: _csv(loads_table(a, d))),
    "data.json": Kind("all findings", "data.json", "application/json", "trying remedies and writing", _data),
    "book.xlsx": Kind("workbook", "book.xlsx", _XLSX, "trying remedies and writing", _book),
}
"""Kinds of sheets."""
