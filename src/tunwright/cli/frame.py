"""What `tunwright frame` prints: stresses case by case, the choice of a reinforcement, mounting schemes."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn
from rich.table import Table
from rich.text import Text

from tunwright.build.model import Build
from tunwright.build.reading import Document, read_text
from tunwright.build.shown import MINUS, show, show_number
from tunwright.build.typed import capital
from tunwright.checks.assess import Assessment
from tunwright.checks.frame.choice import KEYS, Choice, choice, written
from tunwright.checks.frame.frame import Framework
from tunwright.checks.frame.load import Span, case_rows, stress_limits
from tunwright.checks.frame.search import Tried
from tunwright.checks.mount_compare import SchemeRow, scheme_rows
from tunwright.cli.files import write_whole
from tunwright.cli.reports import CAUTION, STYLES, console, print_json, read
from tunwright.sheets import words
from tunwright.sheets.frame_data import change_line, frame_data, untried, untried_words, why_words
from tunwright.sheets.input_words import labels

Told = Callable[[float, str], None]


def report(path: Path, *, choose: bool, schemes: bool, on_flange: bool, into: Path | None, as_json: bool) -> int:
    """Print what was asked of a build's frame; the exit code.

    path: the build file
    choose: choose a reinforcement or subframe
    schemes: compare mounting schemes
    on_flange: the maker allows work on the rails' flanges
    into: where to write the build with what was chosen
    as_json: print as JSON
    """
    document, assessment = read(path)
    framework = assessment.framework
    if framework.missing:
        what = "; ".join(labels(assessment.build, framework.missing))
        sys.stderr.write(f"The frame cannot be tried before these are given or measured: {what}.\n")
        return 3
    with _progress() as told:
        chosen = choice(assessment, told, on_flange=on_flange) if choose or into is not None else None
        rows = scheme_rows(framework, told) if schemes else ()
    if as_json:
        print_json(frame_data(framework, chosen, rows))
    else:
        _print(assessment, chosen, rows)
    if into is not None and chosen is not None:
        _write(document, chosen, into)
    mine = {f.verdict for f in assessment.findings if f.key in ("frame-held", "frame-stands", *KEYS)}
    return 1 if "fails" in mine else 3 if "open" in mine or untried(framework) else 0


@contextmanager
def _progress() -> Iterator[Told]:
    columns = (BarColumn(bar_width=20), TextColumn("{task.description}"))
    with Progress(*columns, console=Console(file=sys.stderr), transient=True) as bar:
        task = bar.add_task("", total=1.0)
        yield lambda part, said: bar.update(task, completed=part, description=said)


def _write(document: Document, chosen: Choice, into: Path) -> None:
    """The build file with what was chosen, read back before it is written."""
    if chosen.found is None:
        sys.stderr.write(f"Nothing was chosen, so {into} is not written.\n")
        return
    text = written(document.text, chosen.changes)
    read_text(text, name=str(into))
    write_whole(into, text)
    sys.stderr.write(f"{into}: the build with what was chosen. Next: tunwright assess {into}\n")


def _print(assessment: Assessment, chosen: Choice | None, rows: tuple[SchemeRow, ...]) -> None:
    out, framework = console(), assessment.framework
    out.print(Text(assessment.build.order.title, style="bold"))
    if framework.trouble:
        out.print(framework.trouble, style=STYLES["fails"])
    else:
        out.print(_cases(assessment))
    _print_untried(out, framework)
    if chosen is not None:
        _print_choice(out, assessment, chosen)
    if rows:
        _print_schemes(out, assessment, rows)
    out.print(CAUTION, style="dim")


def _print_untried(out: Console, framework: Framework) -> None:
    if said := untried_words(framework):
        out.print(said, style=STYLES["open"])


def _table(*names: tuple[str, str]) -> Table:
    table = Table(box=None, pad_edge=False)
    for name, justify in names:
        table.add_column(name, justify=justify, no_wrap=justify == "right")  # type: ignore[arg-type]
    return table


def _stress(value: float, build: Build) -> str:
    return show(value, "stress", system=build.order.units)


def _share(part: float) -> Text:
    return Text(_percent(part), style=STYLES["fails"] if part > 1 else STYLES["holds"])


def _percent(part: float) -> str:
    """Whole per cent; one decimal where whole ones would hide that it is over."""
    return f"{show_number(100 * part, 1 if part > 1 and round(100 * part) == 100 else 0)} %"


def _cases(assessment: Assessment) -> Table:
    """Cases and what they do to rails and subframe, the worst of both bounds of warping."""
    framework, build = assessment.framework, assessment.build
    figures = (("stress", "right"), ("limit", "right"), ("", "right"))
    table = _table(("case", "left"), ("member", "left"), *figures, ("worst", "left"))
    before = ""
    for row in case_rows((framework.stresses, framework.held), stress_limits(build)):
        case, before = ("" if row.words == before else row.words), row.words
        limit = "not known" if row.limit is None else _stress(row.limit, build)
        part = Text("") if row.limit is None else _share(row.stress / row.limit)
        worst = f"{row.where.replace('-', MINUS)}, {100 * row.fill:.0f} % full"
        table.add_row(case, row.member, _stress(row.stress, build), limit, part, worst)
    return table


def _print_choice(out: Console, assessment: Assessment, chosen: Choice) -> None:
    out.print()
    out.print(Text("Choice", style="bold"))
    framework = assessment.framework
    if not chosen.needed or chosen.why:
        among = "Among the cases tried nothing" if untried(framework) else "Nothing"
        none = f"{among} is over its limit, planned reinforcements left out: none is needed."
        out.print(why_words(chosen, framework) or none)
        _print_unasked(out, chosen, framework)
        return
    if chosen.found is None:
        ways = f"the {len(chosen.tried)} ways tried makes" if len(chosen.tried) > 1 else "what was tried makes"
        out.print(f"None of {ways} all cases hold.", style=STYLES["fails"])
        if chosen.best is not None:
            out.print(f"Nearest: {chosen.best.words}, with {_result(chosen.best)}.")
    else:
        _print_found(out, assessment, chosen, chosen.found)
    _print_unasked(out, chosen, framework)
    out.print(_tried(assessment, chosen))


def _print_unasked(out: Console, chosen: Choice, framework: Framework) -> None:
    """What the choice leaves open: cases not tried, and why no liner was."""
    if chosen.unlined:
        out.print(chosen.unlined)
    _print_untried(out, framework)


def _print_found(out: Console, assessment: Assessment, chosen: Choice, found: Tried) -> None:
    said = capital(found.words)
    out.print(f"{said}: {words.mass(found.mass, assessment)}, of steel no weaker than the rails'.")
    before = {finding.key: finding for finding in assessment.findings}
    for finding in (one for one in found.after.findings if one.key in KEYS):
        was = words.figure(before[finding.key].value, finding.unit, assessment)
        now = words.figure(finding.value, finding.unit, assessment)
        out.print(f"  {finding.question} {was} before, {now} then, {words.limit_words(finding, assessment)}")
    out.print("In the build file:")
    for one in chosen.changes:
        out.print(Text(f"  {change_line(one)}"), soft_wrap=True)


def _tried(assessment: Assessment, chosen: Choice) -> Table:
    table = _table(("tried, lightest first", "left"), ("adds", "right"), ("result", "left"))
    for one in chosen.tried:
        style = STYLES["holds" if one.holds else "fails"]
        table.add_row(one.words, words.mass(one.mass, assessment), Text(_result(one), style=style))
    return table


def _result(one: Tried) -> str:
    if math.isinf(one.share):
        return "no equilibrium"
    said = f"{_percent(one.share)} of the limit"
    if one.over:
        said += f", rails over it {_spans(one.over)}"
    return said + (f"; then fails: {', '.join(one.breaks)}" if one.breaks else "")


def _spans(spans: tuple[Span, ...]) -> str:
    return " and ".join(f"from {show_number(a, 2)} to {show_number(b, 2)} m" for a, b in spans)


def _print_schemes(out: Console, assessment: Assessment, rows: tuple[SchemeRow, ...]) -> None:
    build = assessment.build
    out.print()
    out.print(Text("Mounting schemes", style="bold"))
    names = ("rails at rest", "rails", "subframe", "press", "pull", "lifts", "twist")
    table = _table(("scheme", "left"), *((name, "right") for name in names), ("over its limit", "left"))
    for row in rows:
        if row.trouble and not row.rail:
            table.add_row(row.name, *("" for _ in names), Text(row.trouble, style=STYLES["fails"]))
            continue
        figures = [_stress(row.rail_rest, build), _stress(row.rail, build)]
        figures.append("" if row.subframe is None else _stress(row.subframe, build))
        figures += [show(force, "force", system=build.order.units) for force in (row.press, row.pull)]
        figures.append(words.length(row.lift, assessment))
        figures.append("" if row.twist is None else f"{show_number(math.degrees(row.twist), 1)}°")
        table.add_row(row.name, *figures, _over(row))
    out.print(table)
    for row in rows:
        if row.mounts:
            bare = (("rating", row.unrated), ("travel", row.free))
            said = "".join(f"; no {what}: {', '.join(names)}" for what, names in bare if names)
            out.print(f"{row.name}: {row.mounts}{said}", style="dim")
    out.print(
        "Press and pull are of one side of a mount; twist is that of the frame between the outer axles, wheels raised "
        "crosswise. Rates are those of the shop values. A mount is held against its rating, a proposed one against "
        "that of the build's own mount at its place; one with no rating is held against none.",
        style="dim",
    )


def _over(row: SchemeRow) -> Text:
    """What of a scheme is over its limit, and what has none that is known."""
    over = ", ".join((*row.over, *((row.trouble,) if row.trouble else ())))
    said = [over] if over else [] if row.unknown else ["nothing"]
    said += [f"no limit known: {', '.join(row.unknown)}"] if row.unknown else []
    return Text("; ".join(said), style=STYLES["fails" if over else "open" if row.unknown else "holds"])
