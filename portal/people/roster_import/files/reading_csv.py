"""Text tables as school offices export them: any usual encoding, any usual delimiter."""

import codecs
import csv
import io
from collections import Counter
from itertools import islice

from django.utils.translation import gettext as _

from portal.people.roster_import.files.table import MOST_ROWS, UnreadableError

DELIMITERS = (",", ";", "\t", "|")
MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
LINES_TO_JUDGE_BY = 50


def read_csv(content: bytes) -> list[list[str]]:
    """Return the records of a text table. Raises UnreadableError."""
    text = decode(content)
    first, _newline, rest = text.partition("\n")
    # A spreadsheet writes such a line to itself, and counts its rows without it.
    if first.strip().strip('"').lower().startswith("sep=") and len(first.strip().strip('"')) == 5:
        return records(rest, first.strip().strip('"')[4])
    return records(text, delimiter_of(text))


def decode(content: bytes) -> str:
    """Return *content* as text: by its mark, else UTF-8, else as Windows of Western Europe has it.

    Text in UTF-16 without a mark is known by the zeros beside its Latin letters.
    """
    for mark, encoding in MARKS:
        if content.startswith(mark):
            return decode_as(content, encoding)
    if b"\0" in content[:200]:
        return decode_as(content, "utf-16-le" if content[1:2] == b"\0" else "utf-16-be")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        return decode_as(content, "cp1252")


def decode_as(content: bytes, encoding: str) -> str:
    """Return *content* in *encoding*. Raises UnreadableError."""
    try:
        text = content.decode(encoding)
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text:
        raise UnreadableError(
            _("The letters of this file cannot be read. Save it as CSV in UTF-8, or as .xlsx.")
        )
    return text


def delimiter_of(text: str) -> str:
    """Return what stands between the cells: what cuts most lines into equally many of them."""

    def evenness(delimiter: str) -> tuple[int, int]:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
        widths = Counter(len(record) for record in islice(reader, LINES_TO_JUDGE_BY))
        widths.pop(0, None)
        widths.pop(1, None)
        width, lines = widths.most_common(1)[0] if widths else (0, 0)
        return lines, width

    try:
        return max(DELIMITERS, key=evenness)
    except csv.Error as error:
        raise broken(error) from error


def records(text: str, delimiter: str) -> list[list[str]]:
    """Cut *text* into records. Raises UnreadableError where quotes do not close."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    found: list[list[str]] = []
    try:
        for record in reader:
            found.append(record)
            if len(found) > MOST_ROWS + 20:
                break
    except csv.Error as error:
        raise broken(error, len(found) + 1) from error
    return found


def broken(error: csv.Error, number: int | None = None) -> UnreadableError:
    """Return the error for a file whose cells cannot be told apart."""
    where = _("Row %(number)s: ") % {"number": number} if number else ""
    return UnreadableError(
        where + _("a quotation mark is not closed. Put that cell right, or save the file as .xlsx.")
    )
