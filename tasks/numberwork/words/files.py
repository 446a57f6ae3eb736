"""Tables of words read from files beside this one: pl.json holds the Polish words.

What a file holds is said in `Table` and `Nouns`. An entry without words is as good as none. A
file is used when it says "listed": true, which a test allows for complete ones alone.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tasks.numberwork.words.table import Nouns, Table

FOLDER = Path(__file__).parent


def read_file(path: Path) -> dict[str, Any]:
    """Return what the file at *path* says."""
    said: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return said


def table_from(data: dict[str, Any]) -> Table:
    """Make the table of the language that *data* says. Raises KeyError for a missing section."""
    language = data["language"]
    gendered = {gender: _by_number(words) for gender, words in data["gendered"].items()}
    nouns = Nouns(language, data["nouns"], gendered)
    return Table(
        language=language,
        written=_filled(data["written"]),
        spoken=_filled(data["spoken"]),
        alts=_filled(data["alts"]),
        count=nouns.count,
        plural=nouns.plural,
        phrases=_filled(data["phrases"]),
        gap=data["gap"],
        articles=tuple(data["articles"]),
        same_meaning=data["same_meaning"],
        comma=data["comma"],
        conjunction=data["conjunction"],
        quotes=data["quotes"],
        right_to_left=data["right_to_left"],
        number_words=_by_number(data["number_words"]),
        checked_by=data["checked_by"],
    )


def listed_tables() -> dict[str, Table]:
    """Read every file whose language is listed."""
    found = (read_file(path) for path in sorted(FOLDER.glob("*.json")))
    return {data["language"]: table_from(data) for data in found if data["listed"]}


def _filled(words: dict[str, str]) -> dict[str, str]:
    return {key: text for key, text in words.items() if text}


def _by_number(words: dict[str, str]) -> dict[int, str]:
    return {int(number): word for number, word in words.items()}
