"""Operations on drafts: one a build and owner, every write counted, broken texts kept all the same."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from tunwright.build.edit import NotEditable, with_value, without
from tunwright.build.problems import BuildProblems, Problem, key_path
from tunwright.build.reading import read_text
from tunwright.desk import store
from tunwright.desk.models import Build, Draft, Revision
from tunwright.desk.refusal import Refusal


@dataclass(frozen=True)
class Held:
    """A draft as an owner has it; version 0 is the newest revision, untouched.

    text: the text
    version: writes so far
    base: number of the revision it began with
    updated: last write
    changed: whether it differs from its base
    """

    text: str
    version: int
    base: int
    updated: datetime
    changed: bool


def held(build: Build, owner: str) -> Held:
    """The draft of an owner.

    build: the build
    owner: whose
    """
    draft = Draft.objects.filter(build=build, owner=owner).first()
    if draft is None:
        last = store.newest(build)
        return Held(last.text, 0, last.number, last.created, changed=False)
    began = store.revision(build, draft.base)
    return Held(draft.text, draft.version, draft.base, draft.updated, draft.text != began.text)


def others(build: Build, owner: str) -> list[Draft]:
    """Drafts of other people that differ from what they began with.

    build: the build
    owner: whose drafts are left out
    """
    drafts = list(Draft.objects.filter(build=build).exclude(owner=owner).order_by("-updated"))
    began = build.revisions.filter(number__in={one.base for one in drafts})
    bases: dict[int, str] = dict(began.values_list("number", "text"))
    return [one for one in drafts if one.text != bases.get(one.base)]


def write(build: Build, owner: str, text: str, *, version: int, base: int | None = None) -> int:
    """Write a draft and return its new version. Refusal 409, with the draft as it stands, for a stale version.

    build: the build
    owner: whose
    text: the new text, right or broken
    version: the version it was made from
    base: revision it began with; None keeps it, for a new draft the newest
    """
    store.checked_size(text)
    with transaction.atomic():
        Build.objects.select_for_update().get(pk=build.pk)
        draft = Draft.objects.filter(build=build, owner=owner).first()
        if draft is not None and draft.text == text and base in (None, draft.base):
            return int(draft.version)
        _checked(build, draft, version)
        if base is not None:
            store.revision(build, base)
        if draft is None:
            draft = Draft(build=build, owner=owner, version=0, base=base or store.newest(build).number)
        draft.text, draft.version, draft.base = text, draft.version + 1, base or draft.base
        draft.save()
        return int(draft.version)


def _checked(build: Build, draft: Draft | None, version: int) -> None:
    """Refuse a write that was made from another version."""
    stands = 0 if draft is None else draft.version
    if stands == version:
        return
    text = store.newest(build).text if draft is None else draft.text
    words = (
        f"The draft was changed elsewhere: it stands at version {stands}, this came from version {version}. Compare "
        f"the two, then send again with version {stands}, or take the other."
    )
    raise Refusal(409, words, extra={"draft": {"text": text, "version": stands}})


def drop(build: Build, owner: str) -> None:
    """Give a draft up; the newest revision stands in its place.

    build: the build
    owner: whose
    """
    Draft.objects.filter(build=build, owner=owner).delete()


def set_values(text: str, changes: Sequence[Any]) -> str:
    """A text with values set, comments kept. Raises NotEditable.

    text: the draft
    changes: each with path, value (None takes the key away) and source (None keeps it)
    """
    for change in changes:
        path = tuple(change.path)
        try:
            text = _set(text, path, change.value, change.source)
        except (LookupError, TypeError):
            raise NotEditable(f"There is no place for {key_path(path)} in this build.") from None
    return text


def _set(text: str, path: tuple[str | int, ...], value: Any, source: str | None) -> str:
    if source is not None:
        return _with_source(text, path, value, source)
    return without(text, path) if value is None else with_value(text, path, value)


def _with_source(text: str, path: tuple[str | int, ...], value: Any, source: str) -> str:
    """A text with a value and where it comes from; other keys of the value, such as its note, stay."""
    found = _standing(text, path)
    if isinstance(found, dict):
        text = text if value is None else with_value(text, (*path, "value"), value)
        return with_value(text, (*path, "from"), source)
    return with_value(text, path, {"value": found if value is None else value, "from": source})


def _standing(text: str, path: tuple[str | int, ...]) -> Any:
    """What stands at a path of a TOML text, None where nothing does."""
    try:
        here: Any = tomllib.loads(text)
        for step in path:
            here = here[step]
    except (tomllib.TOMLDecodeError, LookupError, TypeError):
        return None
    return here


def problems(text: str) -> list[Problem]:
    """All that is wrong with a text.

    text: the draft
    """
    try:
        read_text(text, name="draft")
    except BuildProblems as broken:
        return list(broken.problems)
    return []


def save(build: Build, owner: str, *, version: int, base: int, note: str, over: bool) -> Revision:
    """Save a draft as the next revision. Raises BuildProblems, Refusal.

    build: the build
    owner: whose draft, and the author
    version: version of the draft that is meant
    base: revision it began with
    note: what changed, in words
    over: also where somebody saved meanwhile
    """
    draft = Draft.objects.filter(build=build, owner=owner).first()
    if draft is None:
        raise Refusal(400, "There is no draft to save: nothing has been changed since the newest revision.")
    _checked(build, draft, version)
    made = store.add_revision(build, draft.text, author=owner, note=note, after=None if over else base)
    Draft.objects.filter(pk=draft.pk, version__gte=version).update(base=made.number)
    return made
