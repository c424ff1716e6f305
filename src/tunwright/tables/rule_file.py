"""A rule file, read and checked: TOML text in, a `RuleSet` out.

    format = 1
    title = "Quarry road, north gate"
    groups = "every set"            # or "one each": every axle belongs to one group only
    not_covered = ["tyre limits"]

    [[limit]]
    key = "tandem"
    kind = "axles"                  # axles | gross | gross_per_metre | share | bridge | length | width | height
    question = "Is the load on {axles} within the gate's limit?"
    axles_from = 2                  # axles = 2 for exactly two; axles_to for an end; of the set, else of the truck
    spread_from_m = 1.0             # from, above, below, to: distance of the outermost axles, in m, mm, in, ft
    spread_below_m = 1.8
    document = "Site rules"
    clause = "4.2"
    edition = "2024"
    mark = "shop"                   # seen | memory | common practice | derived | shop
    [[limit.case]]                  # tried in order; the first whose conditions are met gives the value
    driven_twin_tyres = "all"       # all | any | some (but not all) | none
    value_t = 18.0                  # in kg, t or lb
    raised_t = 19.0                 # instead, while each axle of raised_for carries no more than raised_while_each
    raised_while_each_t = 9.5
    raised_for = "all"              # or "driven"
    [[limit.case]]
    value_t = 16.0

A limit without cases carries the fields of its one case itself. Conditions look at the axles judged: driven, steered,
twin_tyres, air_suspension, load_sharing, driven_twin_tyres and driven_air_suspension (of the driven ones),
tyre_width_from / tyre_width_below (narrowest single tyre), steered_axles (how many). `unread` names a text that must
be read before the value can be relied on. A share has `share` and `of_axles`; a bridge limit has no value.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

from tunwright.tables import rule_fields as fields
from tunwright.tables.rule_fields import RuleFileError
from tunwright.tables.rule_types import DIMENSIONS, MARKS, Band, Case, Lift, RuleLimit, RuleSet

_HEAD = {"format", "title", "groups", "note", "not_covered", "limit"}
_GROUPS = ("every set", "one each")
_OVERRIDES = {"clause", "mark", "note"}


def read_rule_file(content: str, *, name: str, file: str, own: bool) -> RuleSet:
    """Read one rule file.

    content: the TOML text
    name: name of the rule set
    file: file name, for the sentences
    own: it comes from the shop's own folder
    RuleFileError: it is no TOML, or a field is unknown, missing or has no usable value
    """
    try:
        table = tomllib.loads(content)
    except tomllib.TOMLDecodeError as error:
        raise RuleFileError(f"{file}: this is not readable as TOML: {error}.") from error
    fields.refuse_unknown(table, _HEAD, file)
    if table.get("format") != 1:
        raise RuleFileError(f"{file}: 'format' is {table.get('format')!r}; this program reads format = 1.")
    groups = fields.choice({"groups": "every set", **table}, "groups", _GROUPS, file)
    return RuleSet(
        name=name,
        own=own,
        one_each=groups == "one each",
        not_covered=_texts(table, file),
        title=fields.text(table, "title", file),
        note=fields.text(table, "note", file, default=""),
        limits=_limits(table, file),
    )


def _texts(table: Mapping[str, Any], file: str) -> tuple[str, ...]:
    """The list `not_covered`."""
    given = table.get("not_covered", [])
    if not isinstance(given, list) or not all(isinstance(one, str) for one in given):
        raise RuleFileError(f"{file}: 'not_covered' must be a list of texts, for example not_covered = [\"tyres\"].")
    return tuple(given)


def _tables(given: object, field: str, where: str) -> list[Mapping[str, Any]]:
    """A list of tables, as [[limit]] or [[limit.case]] make it."""
    if not isinstance(given, list) or not all(isinstance(one, dict) for one in given):
        raise RuleFileError(f"{where}: '{field}' must be written as [[{field}]], once for each.")
    return given


def _limits(table: Mapping[str, Any], file: str) -> tuple[RuleLimit, ...]:
    """All limits of a file; every key once."""
    limits = tuple(_limit(one, file) for one in _tables(table.get("limit", []), "limit", file))
    keys = [limit.key for limit in limits]
    for key in keys:
        if keys.count(key) > 1:
            raise RuleFileError(f"{file}: the limit '{key}' stands there twice; every key may be used once.")
    return limits


def _limit(table: Mapping[str, Any], file: str) -> RuleLimit:
    """One [[limit]]."""
    where = f"{file}, limit '{table.get('key', '?')}'"
    kind = fields.choice(table, "kind", fields.VALUE_UNITS, where)
    fields.refuse_unknown(table, _limit_fields(kind) | ({"case"} if "case" in table else _case_fields(kind)), where)
    words = {word: fields.text(table, word, where) for word in fields.WORDS}
    fields.choice(table, "mark", MARKS, where)
    least, most = _count(table, where)
    of_axles = fields.choice(table, "of_axles", fields.OF_AXLES, where) if kind == "share" else None
    return RuleLimit(
        **words,
        note=fields.text(table, "note", where, default=""),
        axles_from=least,
        axles_to=most,
        spread=_band(table, where),
        of_axles=of_axles,
        cases=_cases(table, kind, where),
    )


def _limit_fields(kind: str) -> set[str]:
    """The fields of a limit of this kind, apart from those of its cases."""
    known = {*fields.WORDS, "note", *fields.COUNT_FIELDS}
    if kind == "axles":
        known |= fields.spelled(fields.SPREAD_FIELDS, fields.LENGTH)
    if kind == "share":
        known.add("of_axles")
    return known


def _case_fields(kind: str) -> set[str]:
    """The fields of a case of this kind, apart from its own clause, mark and note."""
    known = fields.spelled(["value"], fields.VALUE_UNITS[kind])
    if kind in {"axles", "gross"}:
        known |= fields.spelled(["raised", "raised_while_each"], fields.MASS) | {"raised_for"}
    if kind == "share":
        known.add("share")
    if kind != "bridge" and kind not in DIMENSIONS:
        known |= fields.condition_fields() | {"unread"}
    return known


def _count(table: Mapping[str, Any], where: str) -> tuple[int, int | None]:
    """The number of axles meant: from, to."""
    if "axles" in table:
        if "axles_from" in table or "axles_to" in table:
            raise RuleFileError(f"{where}: give either 'axles' or 'axles_from' and 'axles_to', not both.")
        exactly = fields.whole(table, "axles", where)
        return exactly, exactly
    least = fields.whole(table, "axles_from", where) if "axles_from" in table else 1
    most = fields.whole(table, "axles_to", where) if "axles_to" in table else None
    if most is not None and most < least:
        raise RuleFileError(f"{where}: 'axles_to' is {most}, below 'axles_from' ({least}).")
    return least, most


def _band(table: Mapping[str, Any], where: str) -> Band:
    """The distance of the outermost axles meant."""
    ends = {name: fields.amount(table, name, fields.LENGTH, where) for name in fields.SPREAD_FIELDS}
    lows = [(ends[name], name == "spread_from") for name in ("spread_from", "spread_above")]
    highs = [(ends[name], name == "spread_to") for name in ("spread_to", "spread_below")]
    low, high = ([(end.value, included) for end, included in side if end] for side in (lows, highs))
    if len(low) > 1 or len(high) > 1:
        raise RuleFileError(f"{where}: use 'spread_from' or 'spread_above', and 'spread_to' or 'spread_below'.")
    below, above = low[0] if low else (None, True), high[0] if high else (None, True)
    if below[0] is not None and above[0] is not None and below[0] >= above[0]:
        raise RuleFileError(f"{where}: the spread runs from {below[0]} m to {above[0]} m; the first must be smaller.")
    return Band(low=below[0], low_in=below[1], high=above[0], high_in=above[1])


def _cases(table: Mapping[str, Any], kind: str, where: str) -> tuple[Case, ...]:
    """The cases of a limit: as listed, or the one its own fields make."""
    if kind == "bridge":
        if "case" in table:
            raise RuleFileError(f"{where}: a bridge limit has no cases.")
        return ()
    if "case" not in table:
        return (_case({key: value for key, value in table.items() if key in _case_fields(kind)}, kind, where),)
    listed = _tables(table["case"], "limit.case", where)
    if not listed:
        raise RuleFileError(f"{where}: 'case' is empty; give at least one [[limit.case]] with a value.")
    for place, case in enumerate(listed, start=1):
        fields.refuse_unknown(case, _case_fields(kind) | _OVERRIDES, f"{where}, case {place}")
    return tuple(_case(case, kind, f"{where}, case {place}") for place, case in enumerate(listed, start=1))


def _case(table: Mapping[str, Any], kind: str, where: str) -> Case:
    """One case."""
    units = fields.VALUE_UNITS[kind]
    value = fields.amount(table, "value", units, where)
    share = fields.number(table, "share", where) if "share" in table else None
    if (share is None) if kind == "share" else (value is None):
        wanted = "share = 0.25" if kind == "share" else f"value_{next(iter(units))} = 1000"
        raise RuleFileError(f"{where}: the value is missing; for example {wanted}.")
    if share is not None and share > 1:
        raise RuleFileError(f"{where}: 'share' is {share}; a share lies between 0 and 1, for example share = 0.25.")
    return Case(
        conditions=_conditions(table, where),
        amount=value,
        share=share,
        lift=_lift(table, where),
        unread=fields.text(table, "unread", where) if "unread" in table else None,
        clause=fields.text(table, "clause", where) if "clause" in table else None,
        mark=fields.choice(table, "mark", MARKS, where) if "mark" in table else None,
        note=fields.text(table, "note", where, default=""),
    )


def _conditions(table: Mapping[str, Any], where: str) -> dict[str, str | float]:
    """What must be so for the case to hold."""
    found: dict[str, str | float] = {}
    for field in fields.QUANTITY_FIELDS:
        if field in table:
            found[field] = fields.choice(table, field, fields.QUANTITIES, where)
    for base in fields.WIDTH_FIELDS:
        width = fields.amount(table, base, fields.LENGTH, where)
        if width:
            found[base] = width.value
    if "steered_axles" in table:
        found["steered_axles"] = fields.whole(table, "steered_axles", where)
    return found


def _lift(table: Mapping[str, Any], where: str) -> Lift | None:
    """The higher value under a load condition, if there is one."""
    higher = fields.amount(table, "raised", fields.MASS, where)
    each = fields.amount(table, "raised_while_each", fields.MASS, where)
    if higher is None and each is None and "raised_for" not in table:
        return None
    if higher is None or each is None:
        raise RuleFileError(
            f"{where}: a raised value needs both, for example raised_t = 19 and raised_while_each_t = 9.5."
        )
    return Lift(higher, each, fields.choice(table, "raised_for", ("all", "driven"), where))
