"""Roster files are read whatever an office system made of them, or refused with a sentence."""

import codecs
import datetime as dt
import io
import struct
import tracemalloc
import zipfile

import openpyxl
import pytest

from portal.people.roster_import.files.fields import guess, suggest
from portal.people.roster_import.files.reading import read
from portal.people.roster_import.files.table import MOST_ROWS, UnreadableError
from portal.people.roster_import.lines import CellError, Line, read_date, read_lines, split_name
from tests.portal.people.roster_import.roster_files import (
    HARBOUR,
    HARBOUR_HEADINGS,
    contacts,
    csv_bytes,
    harbour,
    small,
    xlsx,
)

LETTERS = (("Forename", "Class"), ("Zoë", "Robins"), ("Łucja", "Robins"))
WINDOWS = (("Forename", "Class"), ("Zoë – “Zo”", "Robins"))


def lines_of(content: bytes) -> tuple[list[Line], list[str]]:
    """Return what the rows of a file say by the first guess at its columns."""
    table = read(content)
    lines, problems = read_lines(table, suggest(table.headings, {}))
    return lines, [str(problem) for problem in problems]


@pytest.mark.parametrize(
    ("encoding", "start"),
    [
        ("utf-8", b""),
        ("utf-8", codecs.BOM_UTF8),
        ("utf-16-le", codecs.BOM_UTF16_LE),
        ("utf-16-be", codecs.BOM_UTF16_BE),
        ("utf-16-le", b""),
        ("utf-16-be", b""),
    ],
)
def test_every_usual_encoding_gives_the_same_names(encoding, start):
    table = read(csv_bytes(LETTERS, encoding=encoding, start=start))
    assert [row.cells[0] for row in table.rows] == ["Zoë", "Łucja"]
    assert table.headings == ("Forename", "Class")


def test_letters_of_windows_are_read_where_utf_8_does_not_fit():
    table = read(csv_bytes(WINDOWS, encoding="cp1252"))
    assert table.rows[0].cells[0] == "Zoë – “Zo”"


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_every_usual_delimiter_is_seen(delimiter):
    rows = (("Forename", "Class", "Email"), ("Ben", "Robins", "a@example.org, b@example.org"))
    table = read(csv_bytes(rows, delimiter=delimiter))
    assert table.rows[0].cells == ("Ben", "Robins", "a@example.org, b@example.org")


def test_a_spreadsheets_note_of_its_delimiter_is_no_row():
    table = read(b"sep=;\r\nForename;Class\r\nBen;Robins\r\n")
    assert table.headings == ("Forename", "Class")
    assert table.rows[0].number == 2


def test_headings_are_found_below_a_title_and_rows_keep_their_numbers():
    table = read(harbour())
    assert table.headings == HARBOUR_HEADINGS
    assert [row.number for row in table.rows] == [4, 5, 6, 7]


def test_a_spreadsheet_gives_what_the_csv_file_gives():
    assert lines_of(xlsx([HARBOUR_HEADINGS, *HARBOUR]))[0] == [
        Line(**{**vars_of(line), "row": line.row - 2}) for line in lines_of(harbour())[0]
    ]


def vars_of(line: Line) -> dict:
    return {name: getattr(line, name) for name in line.__dataclass_fields__}


def test_dates_numbers_and_formulas_of_a_spreadsheet_come_as_text():
    rows = [
        ("Forename", "Class", "DOB", "Admission number", "Address"),
        ("Ben", "Robins", dt.date(2022, 2, 14), 1002.0, '=HYPERLINK("http://x.test","y")'),
    ]
    line = lines_of(xlsx(rows))[0][0]
    assert (line.born, line.number, line.address) == (dt.date(2022, 2, 14), "1002", "")


def test_a_hidden_sheet_is_passed_over():
    book = openpyxl.Workbook()
    book.active.append(("Forename", "Class"))
    book.active.append(("Hidden", "Robins"))
    book.active.sheet_state = "hidden"
    shown = book.create_sheet("shown")
    shown.append(("Forename", "Class"))
    shown.append(("Ben", "Robins"))
    book.active = 1
    out = io.BytesIO()
    book.save(out)
    assert [row.cells[0] for row in read(out.getvalue()).rows] == ["Ben"]


def bomb(unpacked: int) -> bytes:
    """Return a spreadsheet that unpacks to *unpacked* bytes and is small itself."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", "<workbook/>")
        packed.writestr("xl/worksheets/sheet1.xml", b"0" * unpacked)
    return out.getvalue()


def liar(unpacked: int) -> bytes:
    """Return a spreadsheet one part of which unpacks to *unpacked* bytes and says it has 900."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", "<workbook/>")
        with packed.open("[Content_Types].xml", "w") as part:
            for _ in range(unpacked // 1_000_000):
                part.write(b" " * 1_000_000)
    content = bytearray(out.getvalue())
    entry = content.rindex(b"PK\x01\x02")  # the last part's line in the list of parts
    content[entry + 24 : entry + 28] = struct.pack("<I", 900)  # its size when unpacked
    return bytes(content)


def heavy_styles() -> bytes:
    """Return a small spreadsheet whose list of styles would take half a gigabyte to hold."""
    out, style = io.BytesIO(), b'<xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>'
    with (
        zipfile.ZipFile(io.BytesIO(xlsx(LETTERS))) as good,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bad,
    ):
        for part in good.infolist():
            text = good.read(part).replace(b"</cellXfs>", style * 700_000 + b"</cellXfs>")
            bad.writestr(part.filename, text)
    return out.getvalue()


def entities() -> bytes:
    """Return a spreadsheet whose XML would grow a thousandfold when its entities are put in."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(xlsx(LETTERS))) as good, zipfile.ZipFile(out, "w") as bad:
        for part in good.infolist():
            text = good.read(part)
            if part.filename == "xl/workbook.xml":
                text = b'<!DOCTYPE w [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;">]>' + text
            bad.writestr(part.filename, text)
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b" \r\n", "empty"),
        (b"Forename,Class\r\n", "no rows below"),
        (b'Forename,Class\r\nBen,"Robins\r\nCal,Wrens\r\n', "quotation mark"),
        (b"\xd0\xcf\x11\xe0" + b"\0" * 600, "old spreadsheet"),
        (b"<html><table><tr><td>Ben</td></tr></table></html>", "web page"),
        (b"PK\x03\x04 and then nothing", "spreadsheet cannot be read"),
        (xlsx(LETTERS)[:-200], "spreadsheet cannot be read"),
        (bomb(50_000_000), "too big"),
        (entities(), "spreadsheet cannot be read"),
        (b"x" * 5_000_001, "larger than 5 MB"),
        (b"\xff\xd8\xff\xe0" + bytes(range(256)) * 4, "cannot be read"),
        (csv_bytes([("Forename", "Class"), *[("A", "B")] * (MOST_ROWS + 1)]), "more than 5,000"),
        (csv_bytes([("Forename", "Class"), ("A", "B" * 501)]), "Row 2, column B"),
        (csv_bytes([["Forename"] * 101, ["A"] * 101]), "more than 100 columns"),
    ],
)
def test_a_file_that_is_no_class_list_is_refused_with_a_sentence(content, words):
    with pytest.raises(UnreadableError) as refused:
        read(content)
    assert words in str(refused.value)


# The liar's 300 MB stand for any number: what was read whole would be held whole.
@pytest.mark.parametrize("content", [liar(300_000_000), heavy_styles()], ids=["liar", "styles"])
def test_a_small_spreadsheet_that_unpacks_to_a_huge_one_is_refused_within_100_mb(content):
    tracemalloc.start()
    try:
        with pytest.raises(UnreadableError):
            read(content)
        assert tracemalloc.get_traced_memory()[1] < 100_000_000
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize(
    ("text", "date"),
    [
        ("3/9/2021", dt.date(2021, 9, 3)),
        ("03.09.21", dt.date(2021, 9, 3)),
        ("3-9-2021", dt.date(2021, 9, 3)),
        ("2021-09-03", dt.date(2021, 9, 3)),
        ("2021-09-03 00:00:00", dt.date(2021, 9, 3)),
        ("29/2/2024", dt.date(2024, 2, 29)),
    ],
)
def test_dates_are_read_with_the_day_first(text, date):
    assert read_date(text) == date


@pytest.mark.parametrize("text", ["9/25/2021", "29/2/2023", "soon", "2021", "31.4.2021"])
def test_what_is_no_date_is_said_to_be_none(text):
    with pytest.raises(CellError):
        read_date(text)


@pytest.mark.parametrize(
    ("whole", "parts"),
    [
        ("Khan, Aisha Noor", ("Aisha", "Khan")),
        ("Aisha Noor Khan", ("Aisha", "Khan")),
        ("Aisha", ("Aisha", "")),
        ("Khan,", ("", "Khan")),
    ],
)
def test_a_whole_name_is_cut_into_first_and_family_name(whole, parts):
    assert split_name(whole) == parts


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Forename", "first name"),
        ("Legal surname", "family name"),
        ("Reg group", "class"),
        ("Unique Pupil Number (UPN)", ""),
        ("UPN", ""),
        ("D.O.B.", ""),
        ("Date of birth", "born"),
        ("Parent/Carer 2 e-mail", "adult 2 email"),
        ("Father email", "adult 2 email"),
        ("Contact 1 phone", ""),
        ("Favourite colour", ""),
    ],
)
def test_a_heading_is_guessed_by_its_words(heading, field):
    assert guess(heading) == field


def test_what_a_school_chose_before_stands_above_the_guess():
    assert suggest(["Group", "Name"], {"group": "class"}) == ["class", "whole name"]


def test_of_two_columns_for_one_thing_the_first_is_suggested():
    assert suggest(["Forename", "Known as"], {}) == ["first name", ""]


def test_each_row_of_the_first_office_says_what_it_says():
    lines, problems = lines_of(harbour())
    assert not problems
    assert [(line.first, line.initial, line.class_name, len(line.adults)) for line in lines] == [
        ("Aisha", "K", "Robins", 2),
        ("Ben", "T", "Robins", 2),
        ("Cal", "K", "Wrens", 1),
        ("Dora", "F", "Wrens", 0),
    ]
    assert lines[0].address == lines[2].address
    assert lines[0].adults[1].address == "9quaystreethb19zz"
    assert lines[3].nameless == 1


def test_each_row_of_the_second_office_says_what_it_says():
    lines, problems = lines_of(contacts())
    assert not problems
    assert [(line.first, line.family, line.adults[0].email) for line in lines] == [
        ("Zoë", "Müller", "a.mueller@example.org"),
        ("Zoë", "Müller", "b.mueller@example.org"),
        ("Finn", "O’Neill", "c@example.org"),
        ("Finn", "O’Neill", "d@example.org"),
    ]


def test_each_row_of_the_third_office_says_what_it_says():
    lines, problems = lines_of(small())
    assert not problems
    assert [(line.first, line.initial, len(line.adults)) for line in lines] == [
        ("Mina", "A", 2),
        ("Tobi", "B", 1),
        ("Tam", "B", 1),
    ]


@pytest.mark.parametrize(
    ("heading", "cell", "words"),
    [
        ("Forename", "", "Row 4, column B: the child's first name is missing. Fill it in."),
        ("Reg group", "", "Row 4, column E: the class is missing. Fill it in, or delete the row."),
        ("DOB", "9/25/2021", "Row 4, column D: “9/25/2021” is not a date: the day comes first"),
        (
            "Parent 1 email",
            "mum.kestrel",
            "Row 4, column I: “mum.kestrel” is not an e-mail address.",
        ),
        ("Forename", "A" * 41, "Row 4, column B: the first name has more than 40 letters."),
    ],
)
def test_an_error_names_its_row_and_column(heading, cell, words):
    row = list(HARBOUR[0])
    row[HARBOUR_HEADINGS.index(heading)] = cell
    lines, problems = lines_of(harbour([row, *HARBOUR[1:]]))
    assert len(problems) == 1
    assert problems[0].startswith(words)
    assert len(lines) == 3


def test_all_that_is_wrong_with_a_row_is_said_at_once():
    row = ("1001", "", "Kestrel", "soon", "", *HARBOUR[0][5:])
    _lines, problems = lines_of(harbour([row]))
    assert len(problems) == 3


def test_names_in_capitals_are_spelled_as_names():
    lines, _problems = lines_of(csv_bytes([("Forename", "Class"), ("JEAN-LUC", "Robins")]))
    assert lines[0].first == "Jean-Luc"
