"""All routes of the API, in the order of their modules."""

from __future__ import annotations

from tunwright.desk.api import about, builds, drafting, looks, me, mesh, pipes, sheets
from tunwright.desk.api.route import ROUTES, Route

_ORDER = [module.__name__ for module in (builds, drafting, looks, mesh, pipes, sheets, me, about)]

ALL: list[Route] = sorted(ROUTES, key=lambda route: _ORDER.index(route.view.__module__))
