"""Every kind of trade quantity the build document knows, by name."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tunwright.build.kind import Kind
from tunwright.build.kinds_basic import BASIC
from tunwright.build.kinds_derived import DERIVED

KINDS: Mapping[str, Kind] = MappingProxyType({one.name: one for one in (*BASIC, *DERIVED)})
