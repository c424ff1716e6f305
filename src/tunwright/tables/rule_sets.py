"""Rule sets by name: those that come with the program, and those of the shop's own folder.

A shop puts its rule files (see `rule_file`) into a folder and names the folder in the environment variable
TUNWRIGHT_RULES. A file `quarry.toml` there is the rule set "quarry". A name of a packaged set may not be used again:
what an old build refers to must not change its meaning.
"""

from __future__ import annotations

import difflib
import os
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

from tunwright.tables.rule_fields import RuleFileError
from tunwright.tables.rule_file import read_rule_file
from tunwright.tables.rule_types import RuleSet

FOLDER_VARIABLE = "TUNWRIGHT_RULES"

_read = lru_cache(maxsize=64)(read_rule_file)


class UnknownRuleSet(KeyError):
    """No rule set has this name."""

    def __init__(self, name: str, known: list[str]) -> None:
        near = difflib.get_close_matches(name, known, n=3, cutoff=0.4)
        hint = f" Nearest: {', '.join(near)}." if near else ""
        self.sentence = f"There is no rule set '{name}'.{hint} Known are {', '.join(known)}."
        super().__init__(self.sentence)

    def __str__(self) -> str:
        return self.sentence


@lru_cache(maxsize=1)
def packaged_rules() -> dict[str, str]:
    """The texts of the rule files that come with the program, by name."""
    folder = files("tunwright.tables").joinpath("rules")
    found = {
        one.name.removesuffix(".toml"): one.read_text("utf-8") for one in folder.iterdir() if one.name.endswith(".toml")
    }
    return dict(sorted(found.items()))


def own_rules() -> dict[str, str]:
    """The texts of the shop's own rule files, by name; read anew each time, since a shop edits them.

    RuleFileError: the folder does not exist, or a file takes the name of a packaged set
    """
    given = os.environ.get(FOLDER_VARIABLE, "").strip()
    if not given:
        return {}
    folder = Path(given)
    if not folder.is_dir():
        raise RuleFileError(f"{FOLDER_VARIABLE} names '{given}', which is no folder; give a folder of rule files.")
    found = {one.stem: _utf8(one) for one in sorted(folder.glob("*.toml"))}
    for name in found:
        if name in packaged_rules():
            raise RuleFileError(
                f"{name}.toml in {FOLDER_VARIABLE}: '{name}' comes with the program; "
                f"choose another name, for example {name}-own.toml."
            )
    return found


def _utf8(path: Path) -> str:
    """A file's text."""
    try:
        return path.read_text("utf-8")
    except UnicodeDecodeError as error:
        raise RuleFileError(f"{path.name}: this is no UTF-8 text; save it as UTF-8.") from error


def rule_set_names() -> list[str]:
    """All rule sets there are, packaged and own, in alphabetical order.

    RuleFileError: the shop's folder cannot be used
    """
    return sorted({*packaged_rules(), *own_rules()})


def rule_set(name: str) -> RuleSet:
    """The rule set of this name.

    name: for example "eu-96-53"
    UnknownRuleSet: there is none; the sentence names the nearest
    RuleFileError: its file cannot be taken as meant
    """
    if name in packaged_rules():
        return _read(packaged_rules()[name], name=name, file=f"{name}.toml", own=False)
    own = own_rules()
    if name not in own:
        raise UnknownRuleSet(name, rule_set_names())
    return _read(own[name], name=name, file=f"{name}.toml", own=True)
