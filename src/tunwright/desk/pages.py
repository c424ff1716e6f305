"""The pages. Each renders a template of `templates/desk`; every template also gets what `common` gives.

Where a page shows a build its context holds `build` (slug, title, stage, archived) and `newest` (a number).
"""

from __future__ import annotations

import re
import tomllib
from functools import cache
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed
from django.shortcuts import render
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_safe

from tunwright import __version__
from tunwright.build.problems import BuildProblems
from tunwright.demos import NAMES, demo_text
from tunwright.desk import drafts, store
from tunwright.desk.errors import missing
from tunwright.desk.models import Build
from tunwright.desk.pictures import Theme, side_picture
from tunwright.desk.preferences import preferences
from tunwright.desk.refusal import Refusal
from tunwright.tables.read import shop_value


def common(request: HttpRequest) -> dict[str, Any]:
    """What every template gets: owner, units, theme, accounts (whether there are any), version."""
    owner = getattr(request, "owner", "")
    units, theme = preferences(owner) if owner else ("order", "auto")
    given = {"owner": owner, "units": units, "theme": theme}
    return {**given, "accounts": settings.PLACE.lan, "version": __version__}


def _page(name: str) -> Any:
    """A page without a build: its template and `common`."""

    @ensure_csrf_cookie
    @require_safe
    def view(request: HttpRequest) -> HttpResponse:
        return render(request, f"desk/{name}.html")

    return view


def _build_page(name: str) -> Any:
    """A page of a build: `build`, `newest`, the roads `tried`; for the sheets which there are."""

    @ensure_csrf_cookie
    @require_safe
    def view(request: HttpRequest, slug: str) -> HttpResponse:
        build = Build.objects.filter(slug=slug).first()
        if build is None:
            return missing(request)
        last = store.newest(build)
        context = {"build": build, "newest": last.number, "tried": _tried()}
        if name == "sheets":
            texts = (last.text, drafts.held(build, request.owner).text)
            context["lifted"], context["bolted"] = any(map(_says_lift, texts)), any(map(_says_bolts, texts))
            context["mounted"], context["piped"] = any(map(_says_mounts, texts)), any(map(_says_pipes, texts))
        return render(request, f"desk/{name}.html", context)

    return view


def _says_lift(text: str) -> bool:
    """Whether a build says how its tank is lifted, so that there is a plan of it."""
    return re.search(r"^\s*\[+\s*lifting\b", text, re.MULTILINE) is not None


def _says_bolts(text: str) -> bool:
    """Whether a build has bolts, so that there is a torque sheet."""
    return re.search(r"^\s*(\[\s*mount\s*\.\s*bolts\b|bolts\s*=)", text, re.MULTILINE) is not None


def _says_mounts(text: str) -> bool:
    """Whether a build says where the tank is held on the frame, so that there are sheets of it."""
    return re.search(r"^\s*(\[\[\s*mount\s*\]\]|mount\s*=)", text, re.MULTILINE) is not None


def _says_pipes(text: str) -> bool:
    """Whether a build says what its pipework is, so that there are sheets of it."""
    return re.search(r"^\s*\[+\s*pipework\b", text, re.MULTILINE) is not None


@cache
def _tried() -> dict[str, float]:
    """The roads a shop tries a build on: grade, side_slope, braking (over gravity)."""
    return {name: float(shop_value(name)) for name in ("grade", "side_slope", "braking")}


@cache
def _demos() -> list[dict[str, str]]:
    """The demos: name and title."""
    return [{"name": name, "title": tomllib.loads(demo_text(name))["order"]["title"]} for name in NAMES]


builds = _page("builds")
"""/ : the list of builds, filled by the page from /api/builds. Context: `common`."""

me = _page("me")
"""/me : preferences. Context: `common`."""

bench = _build_page("bench")
"""/b/{slug}/ : the bench. Context: build, newest, tried (grade, side_slope, braking)."""

findings = _build_page("findings")
"""/b/{slug}/findings : all findings. Context: build, newest."""

pipes = _build_page("pipes")
"""/b/{slug}/pipes : the pipework, valves to turn, what flows. Context: build, newest."""

sheets = _build_page("sheets")
"""/b/{slug}/sheets : sheets to make. Context: build, newest, lifted, bolted, mounted, piped (there are such sheets)."""

revisions = _build_page("revisions")
"""/b/{slug}/revisions : revisions and what changed. Context: build, newest."""


@ensure_csrf_cookie
@require_safe
def new(request: HttpRequest) -> HttpResponse:
    """/new : the ways to start a build. Context: demos (name, title)."""
    return render(request, "desk/new.html", {"demos": _demos()})


@require_safe
def side(request: HttpRequest, slug: str) -> HttpResponse:
    """/b/{slug}/side.svg?r=n|draft&theme=paper|css : the small side view; without r of the newest revision."""
    theme: Theme = "css" if request.GET.get("theme") == "css" else "paper"
    number = request.GET.get("r", "")
    try:
        svg = side_picture(_text(request, slug, number), folder=settings.PLACE.pictures, theme=theme)
    except (Refusal, BuildProblems):
        return missing(request)
    kept = "private, max-age=86400" if number.isdecimal() else "no-store"
    return HttpResponse(svg, content_type="image/svg+xml", headers={"Cache-Control": kept})


def _text(request: HttpRequest, slug: str, number: str) -> str:
    build = store.find(slug)
    if number == "draft":
        return drafts.held(build, request.owner).text
    if number.isdecimal() and len(number) < 9:
        return str(store.revision(build, int(number)).text)
    return str(store.newest(build).text)


def health(request: HttpRequest) -> HttpResponse:
    """/health : whether the desk is up; says nothing else."""
    if request.method not in ("GET", "HEAD"):
        return HttpResponseNotAllowed(("GET", "HEAD"))
    return HttpResponse("ok\n", content_type="text/plain")
