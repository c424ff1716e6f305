"""What drinking water touches."""

from __future__ import annotations

from tunwright.build.base import Table, key
from tunwright.build.fields import Text


class Wetted(Table):
    """Something water touches."""

    material: Text | None = key(
        "what the parts are made of that water touches; as its kind of pipe says where left out",
        None,
        example='"stainless steel, EPDM seats"',
    )
    approval: Text | None = key(
        "approval for drinking water of all that water touches, with its number",
        None,
        example='"NSF/ANSI/CAN 61, certificate 1207"',
    )
