"""Roster files of three made-up school offices, built in code."""

import codecs
import csv
import io

import openpyxl

# One row a child, two contacts beside it, one address. A title stands above the headings.
HARBOUR_HEADINGS = (
    *("Admission number", "Forename", "Surname", "DOB", "Reg group", "Address", "Postcode"),
    *("Parent 1 name", "Parent 1 email", "Parent 1 mobile"),
    *("Parent 2 name", "Parent 2 email", "Parent 2 address"),
)
HARBOUR = tuple(
    tuple(line.split("|"))
    for line in (
        "1001|Aisha|Kestrel|3/9/2021|Robins|4 Mill Lane|HB1 2CD|Mrs Kestrel"
        "|mum.kestrel@example.org|07700 900001|Mr Kestrel|dad.kestrel@example.org"
        "|9 Quay Street HB1 9ZZ",
        "1002|Ben|Tern|14/02/2022|Robins|7 Mill Lane|HB1 2CD|Mr Tern|tern@example.org||Mrs Tern"
        "|tern.too@example.org|",
        "1003|Cal|Kestrel|30.8.2022|Wrens|4, Mill Lane|HB1 2CD|Mrs Kestrel"
        "|mum.kestrel@example.org||||",
        "1004|Dora|Finch|1/1/22|Wrens|1 Pier Road|HB2 1AA|Ms Finch||07700 900002|||",
    )
)

# One row a contact, so children come twice; semicolons, Windows letters, names in one column.
ROWS_OF_CONTACTS = (
    ("Pupil name", "Date of birth", "Class", "Contact name", "Contact e-mail", "Contact address"),
    ("Müller, Zoë", "05.11.2021", "Robins", "A. Müller", "a.mueller@example.org", "2 Hill Top"),
    ("Müller, Zoë", "05.11.2021", "Robins", "B. Müller", "b.mueller@example.org", "2 Hill Top"),
    ("O’Neill, Finn", "17.03.2022", "Robins", "C. O’Neill", "c@example.org", "8 Dale End"),
    ("O’Neill, Finn", "17.03.2022", "Robins", "D. Ryan", "d@example.org", "3 Brook Row"),
)

# Small: no numbers, dates or addresses; tabs, UTF-16.
SMALL = (
    ("Child", "Class", "Email 1", "Email 2"),
    ("Mina A", "Robins", "mina.one@example.org", "mina.two@example.org"),
    ("Tobi B", "Robins", "tobi@example.org", ""),
    ("Tam B", "Wrens", "tobi@example.org", ""),
)


def csv_bytes(rows, delimiter=",", encoding="utf-8", start=b"") -> bytes:
    """Return *rows* as a CSV file."""
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=delimiter).writerows(rows)
    return start + out.getvalue().encode(encoding)


def harbour(rows=HARBOUR, headings=HARBOUR_HEADINGS) -> bytes:
    """Return the first office's file: UTF-8 with its mark, a title and an empty row on top."""
    title = [("Pupil list of Harbour Lane",), ()]
    return csv_bytes([*title, headings, *rows], encoding="utf-8-sig")


def contacts(rows=ROWS_OF_CONTACTS) -> bytes:
    """Return the second office's file."""
    return csv_bytes(rows, delimiter=";", encoding="cp1252")


def small(rows=SMALL) -> bytes:
    """Return the third office's file."""
    return csv_bytes(rows, delimiter="\t", encoding="utf-16-le", start=codecs.BOM_UTF16_LE)


def xlsx(rows) -> bytes:
    """Return *rows* as a spreadsheet."""
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def row(number: int, **changed: str) -> tuple:
    """Return row *number* of the first office's file with some cells changed, by heading."""
    cells = list(HARBOUR[number])
    for heading, cell in changed.items():
        cells[HARBOUR_HEADINGS.index(heading.replace("_", " "))] = cell
    return tuple(cells)
