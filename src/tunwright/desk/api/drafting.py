"""Drafts: read, write, set values, save as a revision."""

from __future__ import annotations

from tunwright.desk import drafts, store
from tunwright.desk.api import draft_shapes, shapes
from tunwright.desk.api.route import Call, route

DRAFT = "/api/builds/{slug}/draft"


@route("GET", DRAFT, answers=draft_shapes.DraftWhole)
def read(call: Call, slug: str) -> draft_shapes.DraftWhole:
    """The asker's draft; version 0 is the newest revision, untouched. Names who else is at work on the build."""
    build = store.find(slug)
    mine = drafts.held(build, call.owner)
    others = drafts.others(build, call.owner)
    return draft_shapes.DraftWhole(
        text=mine.text,
        version=mine.version,
        base=mine.base,
        updated=mine.updated,
        others=[draft_shapes.OtherDraft.model_validate(one, from_attributes=True) for one in others],
        newest=store.newest(build).number,
    )


@route("PUT", DRAFT, asks=draft_shapes.WriteDraft, answers=draft_shapes.Version)
def write(call: Call, slug: str) -> draft_shapes.Version:
    """Write the draft. A text that does not read is kept all the same; a stale version is refused (409)."""
    body = call.body
    version = drafts.write(store.find(slug), call.owner, body.text, version=body.version, base=body.base)
    return draft_shapes.Version(version=version)


@route("DELETE", DRAFT, answers=shapes.Nothing)
def drop(call: Call, slug: str) -> shapes.Nothing:
    """Give the draft up; the newest revision stands in its place."""
    drafts.drop(store.find(slug), call.owner)
    return shapes.Nothing()


@route("POST", DRAFT + "/set", asks=draft_shapes.SetValues, answers=draft_shapes.SetDone)
def set_values(call: Call, slug: str) -> draft_shapes.SetDone:
    """Put values into the draft and leave every comment as it is; says what is wrong with the text it becomes."""
    build = store.find(slug)
    text = drafts.set_values(drafts.held(build, call.owner).text, call.body.changes)
    version = drafts.write(build, call.owner, text, version=call.body.version)
    wrong = [shapes.WrongPlace(**vars(problem)) for problem in drafts.problems(text)]
    return draft_shapes.SetDone(text=text, version=version, problems=wrong)


@route("POST", "/api/builds/{slug}/revisions", asks=draft_shapes.SaveRevision, answers=draft_shapes.Saved, status=201)
def save(call: Call, slug: str) -> draft_shapes.Saved:
    """Save the draft as the next revision, which never changes again."""
    body = call.body
    made = drafts.save(
        store.find(slug), call.owner, version=body.version, base=body.base, note=body.note, over=body.over
    )
    return draft_shapes.Saved(number=made.number, sha256=made.sha256)
