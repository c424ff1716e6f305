"""The whole job on the demo builds, with progress."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.cli.files import write_whole
from tunwright.demos import NAMES, demo_text
from tunwright.sheets.data import assessment_data
from tunwright.sheets.dossier import write_dossier
from tunwright.sheets.frame.files import write_frame_drawings
from tunwright.sheets.output import write_drawings
from tunwright.sheets.words import answer


def run_demos(into: Path) -> None:
    """Assess, draw and print every demo.

    into: folder for what is made
    """
    made: list[tuple[str, Path]] = []
    out = Console(file=sys.stderr)
    columns = (TextColumn("{task.description:44}"), BarColumn(), TextColumn("{task.completed:.0f} of {task.total:.0f}"))
    with Progress(*columns, console=out, transient=True) as progress:
        task = progress.add_task("starting", total=3 * len(NAMES))
        for name in NAMES:
            folder = into / name
            text = demo_text(name)
            write_whole(folder / "build.toml", text)
            document = read_text(text, name=f"{name}.toml")
            assessment = Assessment(document.build)
            progress.update(task, description=f"{name}: assessing")
            write_whole(
                folder / "assessment.json",
                json.dumps(assessment_data(assessment, document), indent=2, ensure_ascii=False),
            )
            progress.update(task, advance=1, description=f"{name}: drawing")
            write_drawings(assessment, folder / "drawings", build_hash=document.sha256)
            write_frame_drawings(assessment, folder / "drawings", build_hash=document.sha256)
            progress.update(task, advance=1, description=f"{name}: printing the dossier")
            write_dossier(assessment, document, folder / "dossier.pdf")
            progress.update(task, advance=1)
            made.append((f"{assessment.build.order.title}\n  {answer(assessment)}", folder))
    for said, folder in made:
        sys.stdout.write(f"{said}\n  {folder.resolve()}\n")
    sys.stdout.write("In each folder: build.toml, assessment.json, drawings (SVG, DXF, PDF), dossier.pdf.\n")
    sys.stdout.write(f"Next: tunwright assess {into / NAMES[0] / 'build.toml'}\n")
