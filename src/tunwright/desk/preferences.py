"""What an owner prefers: units and light or dark."""

from __future__ import annotations

from tunwright.build.kind import System
from tunwright.desk.models import Profile


def preferences(owner: str) -> tuple[str, str]:
    """Units (metric, us, order) and theme (auto, light, dark).

    owner: whose
    """
    found = Profile.objects.filter(owner=owner).first()
    return ("order", "auto") if found is None else (str(found.units), str(found.theme))


def units_of(owner: str) -> System | None:
    """Units to show figures in, None for those of each order.

    owner: whose
    """
    units = preferences(owner)[0]
    return "metric" if units == "metric" else "us" if units == "us" else None


def prefer(owner: str, *, units: str | None, theme: str | None) -> None:
    """Keep what is preferred.

    owner: whose
    units: metric, us or order; None keeps it
    theme: auto, light or dark; None keeps it
    """
    kept = {key: value for key, value in (("units", units), ("theme", theme)) if value is not None}
    Profile.objects.update_or_create(owner=owner, defaults=kept)
