"""The weekly mail and the table to take away, against what others wrote down about them."""

import datetime as dt
import email.policy
from email import message_from_bytes
from urllib.parse import urlsplit

import pytest

from assessment.exports import harmless
from assessment.insight.weeks import Week
from assessment.mails import compose
from assessment.models import SummaryMail
from assessment.summaries import make_summary
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
