"""Standard gravity, once for all."""

from __future__ import annotations

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s2], 3rd CGPM 1901."""
