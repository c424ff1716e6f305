"""Addresses: the pages, and the API from the routes its modules put up."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import groupby
from typing import Any

from django.urls import path

from tunwright.desk import accounts, errors, pages
from tunwright.desk.api.all_routes import ALL
from tunwright.desk.api.route import Route, answer

_CONVERTERS = {"slug": "slug", "n": "int", "id": "uuid", "key": "str"}


def _address(route: str) -> str:
    """An address of the API as Django writes it."""
    return re.sub(r"\{(\w+)\}", lambda found: f"<{_CONVERTERS[found[1]]}:{found[1]}>", route.lstrip("/"))


def _by_path(routes: Iterable[Route]) -> list[Any]:
    """The routes of each address as one view."""
    ordered = sorted(routes, key=lambda one: one.path)
    return [path(_address(key), answer(list(same))) for key, same in groupby(ordered, key=lambda one: one.path)]


urlpatterns = [
    path("", pages.builds),
    path("new", pages.new),
    path("me", pages.me),
    path("b/<slug:slug>/", pages.bench),
    path("b/<slug:slug>/findings", pages.findings),
    path("b/<slug:slug>/pipes", pages.pipes),
    path("b/<slug:slug>/sheets", pages.sheets),
    path("b/<slug:slug>/revisions", pages.revisions),
    path("b/<slug:slug>/side.svg", pages.side),
    path("health", pages.health),
    path("login", accounts.login),
    path("logout", accounts.logout),
    *_by_path(ALL),
]

handler400, handler403 = errors.wrong, errors.forbidden
handler404, handler500 = errors.missing, errors.failed
