"""The tables, read once: materials, gauges, shop values, rule sets, and one hash over all of them.

A shop changes a shop value by a file of its own that the environment variable TUNWRIGHT_SHOP names (how it looks stands
at the head of `shop.toml`), and adds rule sets by a folder that TUNWRIGHT_RULES names (see `rule_sets`).
"""

from __future__ import annotations

import difflib
import hashlib
import math
import os
import tomllib
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType
from typing import Any

from tunwright.tables.entries import FAMILIES, Material, ShopValue
from tunwright.tables.rule_fields import RuleFileError
from tunwright.tables.rule_sets import UnknownRuleSet, own_rules, packaged_rules, rule_set, rule_set_names
from tunwright.tables.rule_types import RuleLimit, RuleSet

__all__ = [
    "SHOP_VARIABLE",
    "Material",
    "RuleFileError",
    "RuleLimit",
    "RuleSet",
    "ShopFileError",
    "ShopValue",
    "UnknownRuleSet",
    "gauges",
    "materials",
    "rule_set",
    "rule_set_names",
    "shop_value",
    "shop_values",
    "tables_hash",
]

SHOP_VARIABLE = "TUNWRIGHT_SHOP"
_HASHED = (
    *("materials", "gauges", "shop", "bolts", "reinforcements"),
    *("pipes", "fittings", "hoses", "flanges", "elbows", "disinfection"),
)
_INCH = 0.0254


class ShopFileError(ValueError):
    """The shop's file of own values says something that cannot be taken as meant."""


@lru_cache(maxsize=8)
def _text(name: str) -> str:
    """A packaged table file as text."""
    return files("tunwright.tables").joinpath(name).read_text("utf-8")


@lru_cache(maxsize=1)
def materials() -> Mapping[str, Material]:
    """All materials by key, for example "S235" or "1.4301"."""
    return MappingProxyType({key: _material(key, row) for key, row in tomllib.loads(_text("materials.toml")).items()})


def _material(key: str, row: Mapping[str, Any]) -> Material:
    """One material, trade units turned into SI."""
    words = ("name", "family", "source", "mark", "physical_source", "physical_mark", "poisson", "elongation")
    return Material(
        key=key,
        **{word: row[word] for word in words},
        density=float(row["density_kg_m3"]),
        youngs_modulus=row["youngs_modulus_gpa"] * 1e9,
        expansion=row["expansion_per_k"],
        yield_steps=tuple((upto / 1000, re * 1e6) for upto, re in row["yield_mpa"]),
        tensile_steps=tuple((upto / 1000, least * 1e6, most * 1e6) for upto, least, most in row["tensile_mpa"]),
    )


@lru_cache(maxsize=8)
def gauges(family: str) -> Mapping[int, float]:
    """Sheet thickness [m] by gauge number. Every family of metal has its own scale.

    family: carbon steel | stainless | aluminium
    ValueError: there is no scale for this family
    """
    table = tomllib.loads(_text("gauges.toml"))
    if family not in table:
        raise ValueError(f"There is no gauge scale for '{family}'; allowed are {', '.join(FAMILIES)}.")
    return MappingProxyType({int(gauge): inch * _INCH for gauge, inch in table[family]["inch"].items()})


def shop_values() -> Mapping[str, ShopValue]:
    """All shop values by key, the shop's own in place of the packaged ones.

    ShopFileError: the shop's file cannot be read, or names a value there is none of
    """
    return _shop_values(_own_shop_text())


def shop_value(key: str) -> float:
    """One shop value, as a plain number in its unit.

    key: its name, for example "ullage"
    KeyError: there is no such value
    ShopFileError: the shop's file cannot be used
    """
    return shop_values()[key].value


def _own_shop_text() -> str | None:
    """The shop's own file as text, None without one; read anew each time, since a shop edits it."""
    given = os.environ.get(SHOP_VARIABLE, "").strip()
    if not given:
        return None
    if not Path(given).is_file():
        raise ShopFileError(f"{SHOP_VARIABLE} names '{given}', which is no file; give a TOML file of own values.")
    return Path(given).read_text("utf-8")


@lru_cache(maxsize=8)
def _shop_values(own: str | None) -> Mapping[str, ShopValue]:
    """The packaged values, changed by the shop's own text."""
    packaged = {
        key: ShopValue(key=key, **{**row, "value": float(row["value"])})
        for key, row in tomllib.loads(_text("shop.toml")).items()
    }
    if own is None:
        return MappingProxyType(packaged)
    try:
        changes = tomllib.loads(own)
    except tomllib.TOMLDecodeError as error:
        raise ShopFileError(f"{SHOP_VARIABLE}: this is not readable as TOML: {error}.") from error
    changed = {key: _changed(key, row, packaged) for key, row in changes.items()}
    return MappingProxyType({**packaged, **changed})


def _changed(key: str, row: object, packaged: Mapping[str, ShopValue]) -> ShopValue:
    """One shop value as the shop has set it."""
    if key not in packaged:
        near = difflib.get_close_matches(key, packaged, n=1)
        hint = f" Did you mean '{near[0]}'?" if near else ""
        raise ShopFileError(f"{SHOP_VARIABLE}: there is no shop value '{key}'.{hint} Known are {', '.join(packaged)}.")
    if not isinstance(row, dict) or set(row) - {"value", "why"} or "value" not in row:
        raise ShopFileError(
            f"{SHOP_VARIABLE}: '{key}' takes value and why, for example [{key}] value = "
            f'{packaged[key].value:g}, why = "...".'
        )
    value, why = row["value"], row.get("why", "set by the shop")
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value) or value < 0:
        raise ShopFileError(
            f"{SHOP_VARIABLE}: '{key}' is {value!r}; a number of 0 or more is needed, for example "
            f"value = {packaged[key].value:g}."
        )
    return ShopValue(
        key=key,
        value=float(value),
        unit=packaged[key].unit,
        meaning=packaged[key].meaning,
        mark="shop",
        source=str(why),
    )


def tables_hash() -> str:
    """SHA-256 (hexadecimal) over all table files: the packaged ones and the shop's own.

    RuleFileError: the shop's folder of rule files cannot be used
    ShopFileError: the shop's file of own values cannot be used
    """
    pieces = {f"{name}.toml": _text(f"{name}.toml") for name in _HASHED}
    pieces |= {f"rules/{name}": content for name, content in packaged_rules().items()}
    pieces |= {f"own/{name}": content for name, content in own_rules().items()}
    pieces["own shop values"] = _own_shop_text() or ""
    digest = hashlib.sha256()
    for name, content in sorted(pieces.items()):
        digest.update(f"{name}\0{len(content)}\0{content}\0".encode())
    return digest.hexdigest()
