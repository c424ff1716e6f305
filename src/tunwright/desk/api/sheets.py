"""Sheets made in the background."""

from __future__ import annotations

from typing import Annotated, Literal
from uuid import UUID

from django.http import FileResponse
from pydantic import Field

from tunwright.desk import drafts, jobs, store
from tunwright.desk.api.route import Call, route
from tunwright.desk.api.shapes import Asked, Given
from tunwright.desk.api.shapes import Job as Shown
from tunwright.desk.makers import KINDS
from tunwright.desk.models import Job
from tunwright.desk.refusal import Refusal

_PICTURE = "default-src 'none'; style-src 'unsafe-inline'"
"""What a drawing opened by itself may load: nothing."""


class AskSheet(Asked):
    """Which sheet, of which text."""

    kind: str = Field(max_length=40, description=f"One of: {', '.join(KINDS)}.")
    revision: Annotated[int, Field(ge=1)] | Literal["draft"] | None = Field(
        default=None, description="A revision, or the draft; null takes the newest revision."
    )
    draft: bool = Field(default=False, description='The same as revision "draft".')


class Begun(Given):
    """The job."""

    job: UUID


class Sheets(Given):
    """The latest sheets of a build, newest first."""

    jobs: list[Shown]


class Download(Asked):
    """How a file is given."""

    download: bool = Field(default=False, description="To be kept, not shown.")


def shown(job: Job) -> Shown:
    """A job as the API gives it.

    job: the job
    """
    url = f"/api/jobs/{job.pk}/file" if job.state == "done" else None
    kept = {key: getattr(job, key) for key in ("id", "kind", "of", "state", "progress", "words", "created", "finished")}
    return Shown(url=url, **kept)


@route("GET", "/api/builds/{slug}/sheets", answers=Sheets)
def listed(_: Call, slug: str) -> Sheets:
    """The latest sheets of a build, newest first."""
    found = store.find(slug).jobs.select_related("build").defer("text")[:50]
    return Sheets(jobs=[shown(job) for job in found])


@route("POST", "/api/builds/{slug}/sheets", asks=AskSheet, answers=Begun, status=202)
def begun(call: Call, slug: str) -> Begun:
    """Have a sheet made. One already made of the same text is given again."""
    body, build = call.body, store.find(slug)
    if body.draft or body.revision == "draft":
        return Begun(job=jobs.ask(build, body.kind, drafts.held(build, call.owner).text, of="draft").pk)
    last = store.newest(build) if body.revision is None else store.revision(build, body.revision)
    return Begun(job=jobs.ask(build, body.kind, last.text, of=f"r{last.number}").pk)


def _job(key: UUID) -> Job:
    found = Job.objects.select_related("build").filter(pk=key).first()
    if found is None:
        raise Refusal(404, "There is no such sheet; ask for it again.")
    return found


@route("GET", "/api/jobs/{id}", answers=Shown)
def job(_: Call, id: UUID) -> Shown:  # noqa: A002  # the name in the address
    """How far a sheet is."""
    return shown(_job(id))


@route("GET", "/api/jobs/{id}/file", query=Download, answers="application/octet-stream")
def file(call: Call, id: UUID) -> FileResponse:  # noqa: A002  # the name in the address
    """The sheet itself, to be shown or with download=1 to be kept."""
    found = _job(id)
    path = jobs.path_of(found)
    if found.state != "done" or not path.is_file():
        raise Refusal(404, f"This sheet is not there ({found.state}); ask for it again.")
    media = KINDS[found.kind].media
    response = FileResponse(
        path.open("rb"), content_type=media, filename=jobs.named(found), as_attachment=call.query.download
    )
    if media == "image/svg+xml":
        response.headers["Content-Security-Policy"] = _PICTURE
    return response
