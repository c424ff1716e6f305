"""Operations on builds and their revisions. A build file is stored word for word; nothing here keeps a second truth."""

from __future__ import annotations

from itertools import count, pairwise

from django.db import transaction
from django.utils.text import slugify

from tunwright.build.edit import with_value
from tunwright.build.reading import LARGEST, read_text
from tunwright.build.starter import LayoutName, System, starter_text
from tunwright.demos import NAMES, demo_text
from tunwright.desk.figures import summary
from tunwright.desk.judging import apart
from tunwright.desk.models import Build, Revision, sha256
from tunwright.desk.refusal import Refusal

BYTE_ORDER_MARK = "\ufeff"


def find(slug: str) -> Build:
    """A build. Refusal 404 where there is none.

    slug: its name in addresses
    """
    build = Build.objects.filter(slug=slug).first()
    if build is None:
        raise Refusal(404, f"There is no build called {slug[:80]}.")
    return build


def newest(build: Build) -> Revision:
    """The newest revision of a build; there always is one.

    build: the build
    """
    return build.revisions.first()


def revision(build: Build, number: int) -> Revision:
    """A revision. Refusal 404 where there is none of that number.

    build: the build
    number: its number, from 1
    """
    found = build.revisions.filter(number=number).first()
    if found is None:
        raise Refusal(404, f"{build.title} has no revision {number}; the newest is {newest(build).number}.")
    return found


def from_text(text: str, *, author: str, name: str = "build.toml", note: str = "", slug: str = "") -> Build:
    """A new build from the text of a build file. Raises BuildProblems for a text that does not read.

    text: the file; a byte-order mark at its start is no text and is left out
    author: who brings it
    name: what the file is called
    note: note of the first revision
    slug: its name in addresses, wanted; empty takes it from the title
    """
    text = text.removeprefix(BYTE_ORDER_MARK)
    checked_size(text)
    read_text(text, name=name)
    found = apart(summary, text)
    with transaction.atomic():
        build = _named(slug or found["title"], title=found["title"])
        Revision.objects.create(build=build, number=1, text=text, author=author, note=note, summary=found)
    return build


def from_demo(name: str, *, author: str) -> Build:
    """A new build from a demo.

    name: one of `tunwright.demos.NAMES`
    author: who asks for it
    """
    if name not in NAMES:
        raise Refusal(400, f"There is no demo called {name[:80]}. There are: {', '.join(NAMES)}.")
    return from_text(demo_text(name), author=author, note=f"from the demo {name}", slug=name)


def from_copy(slug: str, *, author: str) -> Build:
    """A new build like the newest revision of another; its title says that it is a copy.

    slug: the other build
    author: who asks for it
    """
    other = find(slug)
    last = newest(other)
    text = with_value(last.text, ("order", "title"), f"{last.summary['title'][:190]} (copy)")
    return from_text(text, author=author, note=f"copy of {other.slug}, revision {last.number}")


def from_starter(*, layout: LayoutName, units: System, title: str, author: str) -> Build:
    """A new build to be filled in.

    layout: axles of the chassis
    units: units the file is written in
    title: title of the order
    author: who asks for it
    """
    return from_text(starter_text(layout=layout, units=units, title=title), author=author, note="started")


def archive(build: Build, *, archived: bool) -> None:
    """Put a build away, or take it back.

    build: the build
    archived: away
    """
    build.archived = archived
    build.save(update_fields=("archived", "updated"))


def add_revision(build: Build, text: str, *, author: str, note: str, after: int | None) -> Revision:
    """Save a text as the next revision. Raises BuildProblems; Refusal 409 where somebody saved meanwhile.

    build: the build
    text: the build file
    author: who saves it
    note: what changed, in words
    after: number of the revision it must follow, None for whichever is newest
    """
    found = apart(summary, text)
    with transaction.atomic():
        Build.objects.select_for_update().get(pk=build.pk)
        last = newest(build)
        if after is not None and last.number != after:
            raise outrun(last, after)
        if last.text == text:
            raise Refusal(400, f"Nothing has changed since revision {last.number}, so there is nothing to save.")
        build.title = found["title"]
        build.save(update_fields=("title", "updated"))
        return Revision.objects.create(
            build=build,
            number=last.number + 1,
            text=text,
            parent_sha256=last.sha256,
            author=author,
            note=note,
            summary=found,
        )


def outrun(last: Revision, base: int) -> Refusal:
    """Somebody saved a revision meanwhile.

    last: the newest revision
    base: the revision the draft began with
    """
    words = (
        f"{last.author} saved revision {last.number} meanwhile; this draft began with revision {base}. Compare the "
        f"two, then save over it or take the new one."
    )
    return Refusal(409, words, extra={"newest": last.number})


def chain_faults(build: Build) -> list[str]:
    """What is wrong with the chain of hashes; empty when every text and its parent are as they were saved.

    build: the build
    """
    rows = list(build.revisions.order_by("number"))
    found = [
        f"The text of revision {one.number} is not the one saved." for one in rows if sha256(one.text) != one.sha256
    ]
    found += [
        f"Revision {after.number} does not follow revision {before.number} as saved."
        for before, after in pairwise(rows)
        if after.parent_sha256 != before.sha256 or after.number != before.number + 1
    ]
    return found


def checked_size(text: str) -> None:
    """Refuse a text that is too large, or holds what no text file holds.

    text: a build file
    """
    if len(text.encode()) > LARGEST:
        raise Refusal(413, f"The text is {len(text.encode()) / 1e6:.1f} MB large; a build file has at most 1 MB.")
    if "\x00" in text:
        raise Refusal(415, "This is no text: it holds zero bytes. A build file is a TOML file saved as UTF-8.")


def _named(wanted: str, *, title: str) -> Build:
    """A new build under a name in addresses that nobody has, nor takes at the same moment."""
    stem = slugify(wanted)[:70].strip("-") or "build"
    for name in (stem if i == 1 else f"{stem}-{i}" for i in count(1)):
        build, made = Build.objects.get_or_create(slug=name, defaults={"title": title})
        if made:
            break
    return build
