"""From text to the tables of TOML: what is not TOML is said in plain words, with several such faults in one go.

A line that is not TOML ends the reading. So that the rest of the file is looked at too, such a line is mended for the
moment where that can be done safely: its value is emptied, or the line is left out.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any

from tunwright.build.locate import locate
from tunwright.build.problems import Problem, key_path
from tunwright.build.toml import tables
from tunwright.build.typed import printable, quoted

MOST = 20
"""Faults of writing that are told; a file with more is not read further."""

AGAIN = "written-again-"
"""What a table written for a second time is called while the rest is read."""

Path = tuple[str | int, ...]

_KEY = r"""(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')"""
_DOTTED = rf"{_KEY}(?:[ \t]*\.[ \t]*{_KEY})*"
_PAIR = re.compile(rf"[ \t]*(?P<key>{_DOTTED})[ \t]*=[ \t]*(?P<value>.*)")
_HEADER = re.compile(rf"[ \t]*\[(?P<twice>\[)?[ \t]*(?P<key>{_DOTTED})[ \t]*\]\]?[ \t]*(?:#.*)?")
_LONG_CHAIN = re.compile(rf"""(?<![\w"'.-]){_KEY}(?:[ \t]*\.[ \t]*{_KEY}){{40}}""")
_LONGEST_EXAMPLE = 60
_LINE = "lines such as key = value, with text and quantities in quotes"
_BRACES = 'quotes around values, commas between keys: { value = "4 mm", from = "maker" }'
_SAID = (
    ("Cannot overwrite", "The key is written twice.", "each key once in its table"),
    ("Duplicate inline table key", "A key is written twice.", "each key once in its table"),
    ("Cannot declare", "The table is written twice.", "each [table] once; tables of a list as [[table]]"),
    ("Cannot redefine", "The table is written twice.", "each [table] once; tables of a list as [[table]]"),
    ("Cannot mutate", "The table was written in one piece already.", "all its keys in one place"),
    ("Cannot namespace", "The table was written in one piece already.", "all its keys in one place"),
    ("Unclosed array", "A list is opened with [ and not closed.", "a list in square brackets: [1, 2]"),
    ("Unclosed inline table", "There is something wrong between the braces.", _BRACES),
    ("Unterminated string", "Text is opened with a quotation mark and not closed.", 'text in quotes: "4 mm"'),
    ("Illegal character '\\n'", "Text is opened with a quotation mark and not closed on its line.", '"4 mm"'),
    ("Illegal character", "There is a control character in the text.", "plain text, written on one line"),
    ("Found invalid character", "There is a control character in the file.", "plain text"),
    ("Unescaped", "A backslash in double quotes means something else.", "two backslashes, or single quotes"),
    ("Invalid hex value", "A backslash in double quotes means something else.", "two backslashes, or single quotes"),
    ("Escaped character", "A backslash in double quotes means something else.", "two backslashes, or single quotes"),
    ("Invalid date", "There is no such date.", 'a date in quotes: "2026-03-14"'),
    ("Expected ']", "The brackets around the name of the table are not closed.", "[table] or [[table]]"),
)


class NotToml(Exception):
    """A text that cannot be read on.

    problems: why, with all that was found before
    """

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__(problems)
        self.problems = problems


def parsed(text: str) -> tuple[dict[str, Any], str, list[Problem]]:
    """The tables of a text, the text as mended for reading, and what had to be mended. Raises NotToml.

    text: the document
    """
    _refuse_chains(text)
    found: list[Problem] = []
    while True:
        try:
            raw = tables(text)
        except tomllib.TOMLDecodeError as error:
            line = _line(error, text)
            problem = _problem(error, text, line)
            behind = not found or line > (found[-1].line or 0)
            if behind:
                found.append(problem)
            mended = _mended(text, line, str(error)) if behind and len(found) < MOST else None
            if mended is None:
                raise NotToml(found) from None
            text = mended
        except RecursionError:
            raise NotToml([*found, Problem(None, "", "", "The document is nested too deeply.", _LINE, "")]) from None
        except ValueError:
            raise NotToml([*found, _too_many_digits(text)]) from None
        else:
            return {k: v for k, v in raw.items() if not k.startswith(AGAIN)}, text, found


def _refuse_chains(text: str) -> None:
    """Refuse keys of very many parts, which take for ever to read."""
    chain = _LONG_CHAIN.search(text)
    if chain:
        line = text.count("\n", 0, chain.start()) + 1
        message = "A key has more parts, joined by dots, than any table is deep."
        raise NotToml([Problem(line, "", chain.group()[:60], message, "keys such as chassis.frame.top", "")])


def _too_many_digits(text: str) -> Problem:
    run = re.search(r"[0-9_]{4000}", text)
    line = text.count("\n", 0, run.start()) + 1 if run else None
    path = _path(text, line) if line else ""
    return Problem(line, path, "", "The number has more digits than can be read.", "numbers of a few digits", "")


def _line(error: tomllib.TOMLDecodeError, text: str) -> int:
    """Line of a fault, counted from 1."""
    found = re.search(r"\(at line (\d+), column (\d+)\)$", str(error))
    return int(found.group(1)) if found else max(1, text.rstrip("\n").count("\n") + 1)


def _problem(error: tomllib.TOMLDecodeError, text: str, line: int) -> Problem:
    written = _row(text, line)
    pair = _PAIR.fullmatch(written)
    message, allowed, example = "This line cannot be read.", _LINE, ""
    known = next((one for one in _SAID if str(error).startswith(one[0])), None)
    if known is not None:
        message, allowed = known[1:]
    elif printable(written.replace("\t", " ")) != written.replace("\t", " "):
        message, allowed = "There is a control character in the line.", "plain text"
    elif pair:
        message, allowed, example = _unquoted(pair["value"])
    return Problem(line, _path(text, line), printable(written.strip()), message, allowed, example)


def _unquoted(value: str) -> tuple[str, str, str]:
    """What is wrong with a value that is none: mostly its quotes are missing."""
    plain = value.partition("#")[0].strip()
    if not plain:
        return "The value is missing.", "a value behind the equals sign", ""
    if plain[0] in "\"'[{":
        return "There is something wrong with the quotes or brackets of this value.", _LINE, ""
    return (
        "Text and quantities stand in quotes.",
        'text in quotes, such as "4.2 m"',
        quoted(plain) if len(plain) < _LONGEST_EXAMPLE else "",
    )


def _row(text: str, line: int) -> str:
    rows = text.split("\n")
    return rows[line - 1].rstrip("\r") if 0 < line <= len(rows) else ""


def _path(text: str, line: int) -> str:
    """The key a line writes, with the table it stands in; empty where that cannot be told."""
    header = _HEADER.fullmatch(_row(text, line))
    if header:
        return header["key"]
    pair = _PAIR.fullmatch(_row(text, line))
    if not pair:
        return ""
    above = [row if _HEADER.fullmatch(row.rstrip("\r")) else "" for row in text.split("\n")[: line - 1]]
    alone = "\n".join([*above, f"{pair['key']} = 0"])
    if not _complete(alone):
        return pair["key"]
    longest: Path = ()
    for path, at in locate(alone).items():
        longest = path if at == line and len(path) > len(longest) else longest
    return key_path(longest[1:] if str(longest[0]).startswith(AGAIN) else longest)


def _mended(text: str, line: int, said: str) -> str | None:
    """The text with a faulty line made harmless, None where that is not safe."""
    rows = text.split("\n")
    row = rows[line - 1].rstrip("\r") if 0 < line <= len(rows) else ""
    pair, header = _PAIR.fullmatch(row), _HEADER.fullmatch(row)
    if header and said.startswith(("Cannot declare", "Cannot redefine")):
        rows[line - 1] = f"[{AGAIN}{line}]"
    elif said.startswith("Cannot overwrite") and pair and _complete(row):
        rows[line - 1] = ""
    elif pair and _balanced(pair["value"]) and not said.startswith("Cannot"):
        rows[line - 1] = f'{pair["key"]} = ""'
    elif not pair and not re.search(r"[\[\]{}\"'=]", row):
        rows[line - 1] = ""
    else:
        return None
    return "\n".join(rows)


def _complete(text: str) -> bool:
    """Whether a text is TOML on its own."""
    try:
        tomllib.loads(text)
    except (ValueError, RecursionError):
        return False
    return True


def _balanced(value: str) -> bool:
    """Whether a value begins and ends on its line, as far as its brackets and long quotes tell."""
    return all(value.count(a) == value.count(b) for a, b in ("[]", "{}")) and '"""' not in value and "'''" not in value


def beside(problems: list[Problem], mended: list[Problem]) -> Iterator[Problem]:
    """Problems that are no echo of a line that was mended.

    problems: what was found in the mended text
    mended: what was wrong with the writing
    """
    lines = {one.line for one in mended}
    yield from (one for one in problems if one.line not in lines)
