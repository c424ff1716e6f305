"""The command line: `tunwright COMMAND BUILD`. Heavy parts are loaded by the command that needs them."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

import click

from tunwright import __version__

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small systems of equations: threads cost more than they bring

BUILD = click.argument("build", type=click.Path(path_type=Path))
CODES = (
    "Exit code: 0 all hold or are close, 1 something fails, 2 the file cannot be read, 3 only open questions remain."
)


class Commands(click.Group):
    """The commands, listed in the order a job meets them; what is wrong with the input is said, never traced."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Commands in the order they were added."""
        return list(self.commands)

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; every mistake in the input ends in a sentence and exit code 2."""
        try:
            return super().invoke(ctx)
        except (ValueError, OSError) as error:
            click.echo(_said(error), err=True)
            ctx.exit(2)
        except Exception as error:
            if type(error).__name__ not in ("BuildProblems", "OutlineRefused", "Refusal"):
                raise
            click.echo(str(error), err=True)
            ctx.exit(2)


def _said(error: Exception) -> str:
    """An error as one sentence."""
    if isinstance(error, OSError) and error.filename:
        return f"{error.filename}: {error.strerror or error}."
    return str(error)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="tunwright")
def program() -> None:
    """The build desk for water carriers on truck chassis.

    How much water can this chassis carry, where must the tank stand, and what stands on each axle: full, empty and at
    every level between, on the flat, on a grade, braking. Results are aids for a competent person, never approvals.
    """


@program.command()
@BUILD
@click.option("--json", "as_json", is_flag=True, help="Print everything as JSON (always metric).")
@click.option("--failing", is_flag=True, help="List only what fails, is open or is close.")
@click.pass_context
def assess(ctx: click.Context, build: Path, as_json: bool, failing: bool) -> None:
    """Judge a build: every question, its worst state, the permitted window, the fill limit."""
    from tunwright.cli.reports import print_assessment, print_json, read

    document, assessment = read(build)
    if as_json:
        from tunwright.sheets.data import assessment_data

        print_json(assessment_data(assessment, document))
    else:
        print_assessment(assessment, document, only_troubles=failing)
    ctx.exit(assessment.exit_code)


assess.epilog = CODES


@program.command()
@BUILD
@click.argument("key", required=False)
@click.pass_context
def explain(ctx: click.Context, build: Path, key: str | None) -> None:
    """Show the working of one finding; without KEY, list the keys."""
    from tunwright.cli.reports import print_keys, print_working, read

    _, assessment = read(build)
    if key is None:
        print_keys(assessment)
    elif not print_working(assessment, key):
        ctx.exit(2)


@program.command()
@BUILD
@click.option("--json", "as_json", is_flag=True, help="Print as JSON (always metric).")
@click.option("--csv", "as_csv", is_flag=True, help="Print as CSV (always metric).")
@click.option(
    "--states", type=click.Choice(["even", "all"]), default="even", help="The even sweep, or every load state."
)
def loads(build: Path, as_json: bool, as_csv: bool, states: str) -> None:
    """Axle loads over fill: level, crew aboard; with --states all every load state."""
    from tunwright.cli.reports import print_json, print_loads, read
    from tunwright.sheets.data import loads_data

    document, assessment = read(build)
    data = loads_data(assessment, document, every=states == "all")
    if as_json:
        print_json(data)
    else:
        print_loads(assessment, data, as_csv=as_csv)


@program.command()
@BUILD
@click.option("--csv", "as_csv", is_flag=True, help="Print as CSV.")
@click.option("--grade", default="0 %", help='Slope of the road the truck stands on, nose up: "3 %".')
@click.option("--step", default=None, help='Step of the level: "25 mm".')
def dip(build: Path, as_csv: bool, grade: str, step: str | None) -> None:
    """Dip chart: level read at the dip point, litres in the tank."""
    from tunwright.build.units import parse
    from tunwright.cli.reports import print_dip, read

    _, assessment = read(build)
    print_dip(
        assessment, float(parse(grade, "slope")), None if step is None else float(parse(step, "length")), as_csv=as_csv
    )


@program.command()
@BUILD
@click.option("--choose", is_flag=True, help="Choose the lightest reinforcement or subframe that holds.")
@click.option("--schemes", is_flag=True, help="Compare ways of mounting the tank.")
@click.option("--flange", is_flag=True, help="The maker allows holes or welds in the rails' flanges: try strips too.")
@click.option("-o", "--into", type=click.Path(path_type=Path), default=None, help="Write the build with the choice.")
@click.option("--json", "as_json", is_flag=True, help="Print as JSON (always metric).")
@click.pass_context
def frame(
    ctx: click.Context, build: Path, choose: bool, schemes: bool, flange: bool, into: Path | None, as_json: bool
) -> None:
    """Stress in rails and subframe, case by case; reinforcements and mounting schemes."""
    from tunwright.cli.frame import report

    ctx.exit(report(build, choose=choose, schemes=schemes, on_flange=flange, into=into, as_json=as_json))


frame.epilog = CODES


@program.command()
@BUILD
@click.option("-o", "--into", type=click.Path(path_type=Path), default=None, help="Folder for the drawings.")
def draw(build: Path, into: Path | None) -> None:
    """Draw side, rear and plan, the loaded frame and its mounting, as SVG and DXF, to scale; the frame as PDF too."""
    from tunwright.cli.reports import read
    from tunwright.sheets.frame.files import write_frame_drawings
    from tunwright.sheets.output import write_drawings

    document, assessment = read(build)
    folder = into or Path(f"{build.stem}-drawings")
    for path in write_drawings(assessment, folder, build_hash=document.sha256):
        click.echo(path)
    made, left_out = write_frame_drawings(assessment, folder, build_hash=document.sha256)
    for path in made:
        click.echo(path)
    for sentence in left_out:
        click.echo(sentence, err=True)


@program.command()
@BUILD
@click.option("-o", "--into", type=click.Path(path_type=Path), default=None, help="The PDF to write.")
def dossier(build: Path, into: Path | None) -> None:
    """Print the dossier: order, data, weights, loads, window, drawings, findings with their working."""
    from tunwright.cli.reports import read
    from tunwright.sheets.dossier import write_dossier

    document, assessment = read(build)
    click.echo(write_dossier(assessment, document, into or Path(f"{build.stem}-dossier.pdf")))


@program.command()
@BUILD
@click.option("-o", "--into", type=click.Path(path_type=Path), default=None, help="Write the sheet to sign as PDF.")
@click.option("--csv", "as_csv", is_flag=True, help="Print one line a bolt as CSV (always metric).")
def torque(build: Path, into: Path | None, as_csv: bool) -> None:
    """Torque sheet: every bolted connection with its bolts, torque and preload."""
    from tunwright.cli.torque import run_torque

    run_torque(build, into, as_csv=as_csv)


@program.command()
@BUILD
@click.option("--duty", default=None, help="Only this duty, by its name; the sheets hold all.")
@click.option("--json", "as_json", is_flag=True, help="Print as JSON (always metric).")
@click.option("--pdf", type=click.Path(path_type=Path), default=None, help="Write the sheets to print as PDF.")
@click.option("--xlsx", type=click.Path(path_type=Path), default=None, help="Write the lists as a workbook.")
@click.option("--csv", "folder", type=click.Path(path_type=Path), default=None, help="Folder for the lists as CSV.")
@click.pass_context
def pipework(
    ctx: click.Context,
    build: Path,
    duty: str | None,
    as_json: bool,
    pdf: Path | None,
    xlsx: Path | None,
    folder: Path | None,
) -> None:
    """Pump, pipes and sprays: what flows in every duty; lists, operating plate and pump test for the shop."""
    from tunwright.cli.pipework import report

    ctx.exit(report(build, duty=duty, as_json=as_json, pdf=pdf, xlsx=xlsx, folder=folder))


pipework.epilog = CODES


@program.command()
@click.argument("runs", type=click.Path(path_type=Path))
@click.option("--k", default=None, help='K-factor the display is set to: "120 pulses/L".')
@click.option("--pdf", type=click.Path(path_type=Path), default=None, help="Write the sheet to sign as PDF.")
@click.option("--json", "as_json", is_flag=True, help="Print as JSON (always metric).")
@click.pass_context
def calibrate(ctx: click.Context, runs: Path, k: str | None, pdf: Path | None, as_json: bool) -> None:
    """Calibrate a flow meter: K-factor and deviations from RUNS, a CSV file of logged runs."""
    from tunwright.cli.calibrate import report

    ctx.exit(report(runs, k=k, pdf=pdf, as_json=as_json))


calibrate.epilog = CODES


@program.command()
@click.argument("log", type=click.Path(path_type=Path))
@click.argument("build", type=click.Path(path_type=Path), required=False)
@click.option("--k", default=None, help='K-factor of a meter whose pulses were logged: "120 pulses/L".')
@click.option("--pdf", type=click.Path(path_type=Path), default=None, help="Write the sheet to sign as PDF.")
@click.option("--csv", "folder", type=click.Path(path_type=Path), default=None, help="Folder for the tables as CSV.")
@click.option("--json", "as_json", is_flag=True, help="Print as JSON (always metric).")
@click.pass_context
def deliveries(
    ctx: click.Context,
    log: Path,
    build: Path | None,
    k: str | None,
    pdf: Path | None,
    folder: Path | None,
    as_json: bool,
) -> None:
    """Read the LOG of a pump control: litres by time and by place, gaps, and what the tank lost besides."""
    from tunwright.cli.deliveries import report

    ctx.exit(report(log, build, k=k, pdf=pdf, folder=folder, as_json=as_json))


deliveries.epilog = CODES


@program.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--layout", type=click.Choice(["4x2", "6x4", "8x4"]), default="6x4", help="Axle layout of the chassis.")
@click.option("--units", type=click.Choice(["metric", "us"]), default="metric", help="Units the file is written in.")
@click.option("--title", default="New water carrier", help="Title of the order.")
@click.option(
    "--demo",
    type=click.Choice(["quarry-carrier", "village-carrier", "brush-carrier", "ridge-carrier", "lane-carrier"]),
    help="Start from a demo build instead.",
)
def new(file: Path, layout: str, units: str, title: str, demo: str | None) -> None:
    """Start a build file, with a word on every key and on what to measure."""
    from tunwright.build.starter import starter_text
    from tunwright.cli.files import write_new
    from tunwright.demos import demo_text

    text = demo_text(demo) if demo else starter_text(layout=layout, units=units, title=title)  # type: ignore[arg-type]
    write_new(file, text)
    click.echo(f"{file} is written. Open it in an editor, fill in what you measured, then: tunwright assess {file}")


@program.command()
@click.argument("drawing", type=click.Path(path_type=Path))
@click.argument("build", type=click.Path(path_type=Path), required=False)
@click.option(
    "--unit", type=click.Choice(["mm", "cm", "m", "in"]), default=None, help="Unit of a drawing that has none."
)
@click.option("--layer", default=None, help="Layer the outline is on, where the drawing has several outlines.")
def outline(drawing: Path, build: Path | None, unit: str | None, layer: str | None) -> None:
    """Take the tank section from a DXF drawing and write it into a build file; without BUILD, print it."""
    from tunwright.cli.files import take_outline

    for line in take_outline(drawing, build, unit=unit, layer=layer):
        click.echo(line)


@program.command()
def schema() -> None:
    """Print the JSON Schema of the build file, for editors."""
    from tunwright.build.model import schema as made
    from tunwright.cli.reports import print_json

    print_json(made())


@program.command()
@click.option("--port", default=8321, show_default=True, type=click.IntRange(0, 65535), help="Port; 0 for a free one.")
@click.option("--data", type=click.Path(path_type=Path, file_okay=False), default=None, help="Folder of the data.")
@click.option("--no-open", is_flag=True, help="Do not open the browser.")
@click.option("--lan", is_flag=True, help="Open to the network, with accounts and HTTPS.")
@click.option("--cert", type=click.Path(path_type=Path, dir_okay=False), default=None, help="Certificate, PEM.")
@click.option("--key", type=click.Path(path_type=Path, dir_okay=False), default=None, help="Its private key, PEM.")
def serve(port: int, data: Path | None, no_open: bool, lan: bool, cert: Path | None, key: Path | None) -> None:
    """Open the desk: the bench, findings, sheets and revisions in the browser."""
    from tunwright.desk.start import serve as run

    run(port, data, open_browser=not no_open, lan=lan, cert=cert, key=key)


@program.command()
@click.argument("name")
@click.option("--data", type=click.Path(path_type=Path, file_okay=False), default=None, help="Folder of the data.")
def account(name: str, data: Path | None) -> None:
    """Make an account of the desk, or give one a new password, and print the password once."""
    from tunwright.desk.start import account as made

    click.echo(f"Password of {name}: {made(name, data)}")


@program.command()
@click.argument("backup", type=click.Path(path_type=Path))
@click.option("--data", type=click.Path(path_type=Path, file_okay=False), default=None, help="Folder of the data.")
def restore(backup: Path, data: Path | None) -> None:
    """Put a backup of the desk in its database's place; the desk must be stopped."""
    from tunwright.desk.start import restored

    before = restored(backup, data)
    click.echo(f"{backup} is in place." + (f" What stood there is kept as {before}." if before else ""))


@program.command()
@click.option(
    "-o", "--into", type=click.Path(path_type=Path), default=Path("demo-output"), help="Folder for what is made."
)
def demo(into: Path) -> None:
    """Run the whole job on the demo builds: assess, draw, print the dossiers."""
    from tunwright.cli.demo import run_demos

    run_demos(into)


def main() -> None:
    """Entry point."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    program(prog_name="tunwright")
