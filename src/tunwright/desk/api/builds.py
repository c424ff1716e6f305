"""Builds: list, start, put away, and their revisions."""

from __future__ import annotations

from django.http import HttpResponse

from tunwright.desk import drafts, store
from tunwright.desk.api import shapes
from tunwright.desk.api.route import Call, route
from tunwright.desk.compare import figure_changes, text_changes
from tunwright.desk.models import Build, Revision
from tunwright.desk.preferences import units_of


@route("GET", "/api/builds", query=shapes.BuildQuery, answers=shapes.BuildList)
def listed(call: Call) -> shapes.BuildList:
    """The builds, the last changed first; with archived=1 those put away as well."""
    found = Build.objects.order_by("-updated", "-pk")
    if not call.query.archived:
        found = found.filter(archived=False)
    return shapes.BuildList(builds=[_row(build, last) for build, last in _with_newest(list(found))])


def _with_newest(found: list[Build]) -> list[tuple[Build, Revision]]:
    """Builds with their newest revision, its text left out."""
    last: dict[int, Revision] = {}
    for one in Revision.objects.filter(build__in=found).defer("text").order_by("number"):
        last[one.build_id] = one
    return [(build, last[build.pk]) for build in found if build.pk in last]


def _row(build: Build, last: Revision) -> shapes.BuildRow:
    return shapes.BuildRow(
        slug=build.slug,
        title=build.title,
        stage=build.stage,
        archived=build.archived,
        updated=build.updated,
        author=last.author,
        verdict=last.summary["verdict"],
        counts=last.summary["counts"],
        revision=last.number,
        side_svg_url=f"/b/{build.slug}/side.svg?r={last.number}",
    )


@route("POST", "/api/builds", asks=shapes.NewBuild, answers=shapes.Named, status=201)
def started(call: Call) -> shapes.Named:
    """A new build: from a demo, a build file, a copy of another build, or an explained file to fill in."""
    way, owner = call.body.root, call.owner
    match way:
        case shapes.FromDemo():
            build = store.from_demo(way.demo, author=owner)
        case shapes.FromText():
            build = store.from_text(way.text, author=owner, name=way.name, note=f"from the file {way.name}")
        case shapes.FromCopy():
            build = store.from_copy(way.build, author=owner)
        case _:
            build = store.from_starter(layout=way.layout, units=way.units, title=way.title, author=owner)
    return shapes.Named(slug=build.slug)


@route("GET", "/api/builds/{slug}", answers=shapes.BuildWhole)
def whole(call: Call, slug: str) -> shapes.BuildWhole:
    """A build with its revisions, newest first, and the head of the asker's draft."""
    build = store.find(slug)
    rows = build.revisions.defer("text")
    kept = {key: getattr(build, key) for key in ("slug", "title", "stage", "archived")}
    return shapes.BuildWhole(
        **kept,
        revisions=[shapes.RevisionRow.model_validate(one, from_attributes=True) for one in rows],
        draft=shapes.DraftHead.model_validate(drafts.held(build, call.owner), from_attributes=True),
        chain_faults=store.chain_faults(build),
    )


@route("POST", "/api/builds/{slug}/archive", asks=shapes.Archive, answers=shapes.Nothing)
def archived(call: Call, slug: str) -> shapes.Nothing:
    """Put a build away, or take it back. Nothing is ever deleted."""
    store.archive(store.find(slug), archived=call.body.archived)
    return shapes.Nothing()


@route("GET", "/api/builds/{slug}/revisions/{n}/text", answers="text/plain")
def text(_: Call, slug: str, n: int) -> HttpResponse:
    """The build file of a revision, word for word, as {slug}-r{n}.toml."""
    one = store.revision(store.find(slug), n)
    disposition = {"Content-Disposition": f'attachment; filename="{slug}-r{n}.toml"'}
    return HttpResponse(one.text.encode(), content_type="text/plain; charset=utf-8", headers=disposition)


@route("GET", "/api/builds/{slug}/diff", query=shapes.Diff, answers=shapes.Changes)
def diff(call: Call, slug: str) -> shapes.Changes:
    """What changed between two revisions, or a revision and the draft: the lines, the figures, the verdicts."""
    build, to = store.find(slug), call.query.to
    before = store.revision(build, call.query.before).text
    after = drafts.held(build, call.owner).text if to == "draft" else store.revision(build, to).text
    figures = figure_changes(before, after, units=units_of(call.owner))
    return shapes.Changes.model_validate(
        {
            "text": [{**row, "before": row["from"]} for row in text_changes(before, after)],
            "figures": [{**row, "before": row["from"]} for row in figures],
        }
    )
