"""The printed dossier of a build: one PDF with the answer, the data, the loads, the drawings and every working.

Where to find what:

- `cover`     the first pages: the plain answer (`answer`), volumes, worst findings, cautions, hashes
- `record`    the order and the data with their origin, and what is still assumed
- `masses`    what everything weighs and where, centre of gravity, moments of inertia
- `loads`     axle loads over fill, in the worst states, under braking
- `place`     the permitted window and the fill limit
- `dip`       the dip chart and table
- `frame`     stresses in frame and subframe, forces on the mounts, diagrams and the frame in its twist
- `lifting`   how the tank is lifted on to the chassis, where the build says so; also a sheet of its own
- `pipework`  what every duty brings, flow and pressure in each run, the schematic, where the build has pipework
- `torque`    the torque sheet, where mounts have bolts; also a sheet of its own
- `drawings`  drawings on landscape pages
- `findings`  every finding with its working
- `press`     plain data to PDF, by the templates beside it

`amounts` prints quantities, `labels` names inputs, `blocks` are what a part is made of.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from tunwright.build.reading import Document
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.remedy import Remedies
from tunwright.sheets.dossier.amounts import Amounts
from tunwright.sheets.dossier.cover import cover_data
from tunwright.sheets.dossier.dip import dip_part
from tunwright.sheets.dossier.drawings import drawings_part
from tunwright.sheets.dossier.findings import findings_part
from tunwright.sheets.dossier.frame import frame_part
from tunwright.sheets.dossier.lifting import lifting_part
from tunwright.sheets.dossier.loads import loads_part
from tunwright.sheets.dossier.masses import weights_part
from tunwright.sheets.dossier.pipework import pipework_part
from tunwright.sheets.dossier.place import place_part
from tunwright.sheets.dossier.press import pressed
from tunwright.sheets.dossier.record import record_part
from tunwright.sheets.dossier.running import running, shortened
from tunwright.sheets.dossier.torque import torque_part
from tunwright.sheets.lifted import named
from tunwright.sheets.whole_file import written

__all__ = ["dossier_pdf", "lifting_pdf", "torque_pdf", "write_dossier"]

_RUNNING = 96  # letters of the title in the head of a page


def dossier_pdf(assessment: Assessment, *, document: Document, drawings: Mapping[str, str] | None = None) -> bytes:
    """The dossier as PDF; the same assessment gives the same bytes.

    assessment: the assessment of the document's build
    document: the build file
    drawings: title to SVG of true size, on a page each; None draws the general arrangement
    """
    return pressed(_data(assessment, document, drawings))


def write_dossier(assessment: Assessment, document: Document, path: Path) -> Path:
    """Write the dossier, whole or not at all, and return where it is.

    assessment: the assessment of the document's build
    document: the build file
    path: the PDF to write; its folders are made where they do not exist
    """
    return written(path, dossier_pdf(assessment, document=document))


def lifting_pdf(assessment: Assessment, *, document: Document) -> bytes:
    """The lifting plan alone as PDF; the same assessment gives the same bytes.

    assessment: the assessment of the document's build
    document: the build file
    Raises ValueError where the build says nothing of a lift.
    """
    part = lifting_part(assessment, Amounts(assessment.build.order.units), _findings(assessment), fresh=False)
    return pressed({**_running(assessment, document), "parts": [part.data()]})


def torque_pdf(assessment: Assessment, *, document: Document) -> bytes:
    """The torque sheet alone as PDF; the same assessment gives the same bytes.

    assessment: the assessment of the document's build
    document: the build file
    Raises ValueError where no mount has bolts.
    """
    part = torque_part(assessment, Amounts(assessment.build.order.units), fresh=False)
    return pressed({**_running(assessment, document), "parts": [part.data()]})


def _findings(assessment: Assessment) -> list[Finding]:
    """The findings with their remedies, lifted axles by name."""
    return [replace(one, state=named(assessment.truck, one.state)) for one in Remedies(assessment).findings()]


def _running(assessment: Assessment, document: Document) -> dict[str, Any]:
    """What stands in the head and the foot of every page."""
    order = assessment.build.order
    return running(order.title, shortened(order.title, _RUNNING), number=order.number, build=document.sha256)


def _data(assessment: Assessment, document: Document, drawings: Mapping[str, str] | None) -> dict[str, Any]:
    """Everything the template prints."""
    amounts, findings = Amounts(assessment.build.order.units), _findings(assessment)
    lifted = assessment.build.lifting is not None
    return {
        **_running(assessment, document),
        "cover": cover_data(assessment, document, amounts, findings),
        "parts": [
            record_part(assessment, amounts).data(),
            weights_part(assessment, amounts).data(),
            loads_part(assessment, amounts).data(),
            place_part(assessment, amounts).data(),
            dip_part(assessment, amounts).data(),
            frame_part(assessment, amounts).data(),
            *([lifting_part(assessment, amounts, findings).data()] if lifted else []),
            *([torque_part(assessment, amounts).data()] if any(one.bolts for one in assessment.build.mount) else []),
            *(pipework_part(assessment) if assessment.build.pipework is not None else []),
            drawings_part(assessment, drawings, document.sha256),
            findings_part(assessment, amounts, findings).data(),
        ],
    }
