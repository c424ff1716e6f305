"""The torque sheet from the desk: offered where there are bolts, and made."""

from __future__ import annotations

from fastened import BOLTS, PLATES, REAR, text
from tunwright.desk.makers import KINDS, make
from tunwright.desk.pages import _says_bolts

BOLTED = PLATES | {"bolts": BOLTS}


def test_the_sheet_is_made() -> None:
    told: list[str] = []
    made = make("torque.pdf", text(BOLTED, REAR, model=False), lambda _, words: told.append(words))
    assert made.startswith(b"%PDF")
    assert KINDS["torque.pdf"].words in told


def test_it_is_offered_where_a_build_has_bolts() -> None:
    assert _says_bolts(text(BOLTED, REAR, model=False))
    assert _says_bolts('[[mount]]\nbolts = { size = "M16" }\n')
    assert not _says_bolts(text(PLATES, REAR, model=False))
