"""Looks at a draft, findings explained, the form."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Any

from tunwright.build.kind import System
from tunwright.checks.remedy import Remedies
from tunwright.desk import drafts, store
from tunwright.desk.api import looking
from tunwright.desk.api.route import Call, route
from tunwright.desk.form import form as form_of
from tunwright.desk.judging import apart, judged
from tunwright.desk.live import Change, assessed, changed
from tunwright.desk.preferences import units_of
from tunwright.desk.refusal import Refusal
from tunwright.sheets.data import finding_data


@route("POST", "/api/builds/{slug}/look", asks=looking.LookAt, answers=looking.Looked)
def looked(call: Call, slug: str) -> looking.Looked:
    """The draft, or a text that is sent, with some values changed: drawn and judged in one load state."""
    body = call.body
    if body.text is None:
        body.text = drafts.held(store.find(slug), call.owner).text
    store.checked_size(body.text)
    changes = [Change(tuple(one.path), one.value) for one in body.changes]
    state = {**body.state.model_dump(), "units": units_of(call.owner)}
    found = judged(body.page, body.text, changes, state, body.parts, hurry=body.hurry)
    if "form" in body.parts and not found["problems"]:
        found["form"] = form_of(changed(body.text, changes))
    return looking.Looked(**found)


@route("GET", "/api/builds/{slug}/explain/{key}", query=looking.Explain, answers=looking.Explained)
def explained(call: Call, slug: str, key: str) -> looking.Explained:
    """A finding with its working, rule, remedy and the assumed values it rests on."""
    build = store.find(slug)
    text = drafts.held(build, call.owner).text if call.query.text == "draft" else store.newest(build).text
    units = units_of(call.owner)
    found = _at_hand(text, key, units) or apart(partial(_explained, key=key, units=units), text)
    if found is None:
        raise Refusal(404, f"There is no finding called {key[:80]} in this build.")
    return looking.Explained(**found)


@route("GET", "/api/builds/{slug}/form", answers=looking.Form)
def form(call: Call, slug: str) -> looking.Form:
    """Every key of the draft with its value as typed, by part of the build."""
    return looking.Form(parts=form_of(drafts.held(store.find(slug), call.owner).text))


def _at_hand(text: str, key: str, units: System | None) -> dict[str, Any] | None:
    """A finding as data that takes neither the frame nor a remedy, so that nobody has to wait for it; else None."""
    soon = {one.key: one for one in assessed(text, units).first_findings}
    return finding_data(soon[key]) if key in soon and soon[key].verdict != "fails" else None


def _explained(text: str, key: str, units: System | None) -> dict[str, Any] | None:
    """A finding as data, with a remedy where it fails; None where there is none of that name."""
    assessment = assessed(text, units)
    finding = next((one for one in assessment.findings if one.key == key), None)
    if finding is not None and finding.verdict == "fails":
        finding = replace(finding, remedy=Remedies(assessment).remedy(finding))
    return None if finding is None else finding_data(finding)
