"""The weekly mail and the table to take away, against what others wrote down about them."""

import csv
import datetime as dt
import email.policy
import io
import zipfile
from email import message_from_bytes
from urllib.parse import urlsplit

import pytest
from defusedxml import ElementTree

from assessment.insight.weeks import Week
from assessment.models import SummaryMail
from assessment.spreadsheets import Table, as_csv, as_workbook, harmless
from assessment.weekly.mails import compose
from assessment.weekly.summaries import make_summary
from tests.assessment.builders import set_day


@pytest.mark.django_db
def test_the_mail_carries_one_https_or_http_address_and_the_one_click_value(village):
    """Source: RFC 8058, sections 3.1 and 5 (from memory)."""
    set_day(village.robins)
    with_time = dt.datetime(2026, 11, 27, 16, tzinfo=dt.UTC)
    village.robins.day_plans.update(goes_out_at=with_time - dt.timedelta(days=400))
    make_summary(village.robins.pk, Week(2026, 48))
    mail = SummaryMail.objects.filter(home__isnull=False).first()
    raw = compose(mail).message().as_bytes()
    message = message_from_bytes(raw, policy=email.policy.default)
    address = urlsplit(message["List-Unsubscribe"].strip().strip("<>"))
    assert address.scheme in ("http", "https")
    assert address.path.startswith("/mail/stop/")
    assert not address.query
    assert message["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"


@pytest.mark.django_db
def test_the_message_id_is_of_the_form_the_standard_gives(village):
    """Source: RFC 5322, section 3.6.4 (msg-id = "<" id-left "@" id-right ">"; from memory)."""
    set_day(village.robins)
    village.robins.day_plans.update(goes_out_at=dt.datetime(2026, 1, 1, tzinfo=dt.UTC))
    make_summary(village.robins.pk, Week(2026, 48))
    for mail in SummaryMail.objects.all():
        message_id = compose(mail).message()["Message-ID"]
        left, right = message_id.strip("<>").split("@")
        assert message_id == f"<{left}@{right}>"
        assert all(part and set(part) <= ATEXT for part in left.split("."))


ATEXT = set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789!#$%&'*+-/=?^_`{|}~")


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"])
def test_no_cell_starts_with_what_a_spreadsheet_takes_for_a_formula(start):
    """Source: OWASP, CSV Injection: the characters listed there, full-width forms included."""
    assert harmless(f"{start}HYPERLINK(1)") == f"'{start}HYPERLINK(1)"


PAYLOADS = (
    *("=1+1", "=cmd|' /C calc'!A0", '=HYPERLINK("http://example.org?"&A1,"x")', "@SUM(1+1)"),
    *("+1-1", "-2+3", "\t=1+1", "\r=1+1", "\n=1+1", "＝1+1", " =1+1", '",=1+1,"'),
)


@pytest.mark.parametrize("payload", PAYLOADS)
def test_no_field_of_a_file_starts_with_a_formula_wherever_the_payload_stands(payload):
    """Source: OWASP, CSV Injection: fields, also after a separator or quote, must not begin so."""
    content = as_csv(Table("t", [payload, "b"], [(payload, 1), ("a", payload)])).decode("utf-8-sig")
    for row in csv.reader(io.StringIO(content)):
        for field in row:
            assert not field.lstrip(" ").startswith(("=", "+", "-", "@", "\t", "\r", "\n", "＝"))


@pytest.mark.parametrize("payload", PAYLOADS)
def test_another_library_finds_no_formula_in_a_workbook(payload):
    """Source: ECMA-376, part 1, 18.3.1.40: a formula is an element f of a cell."""
    made = as_workbook(Table("t", [payload, "b"], [(payload, 1), ("a", payload)]))
    with zipfile.ZipFile(io.BytesIO(made)) as book:
        sheet = ElementTree.fromstring(book.read("xl/worksheets/sheet1.xml"))
    names = {element.tag.rpartition("}")[2] for element in sheet.iter()}
    assert "f" not in names
    assert {"c", "row", "sheetData"} <= names


def test_a_file_is_read_back_as_it_was_by_the_standards_own_rules():
    """Source: RFC 4180, section 2: quotes are doubled, line breaks stay within quotes, CRLF."""
    rows = [('say "half"', "a,b"), ("two\nlines", "ü ½ □")]
    content = as_csv(Table("t", ["one", "two"], rows)).decode("utf-8-sig")
    assert content.startswith("one,two\r\n")
    assert [tuple(row) for row in csv.reader(io.StringIO(content, newline=""))][1:] == rows
