"""The digits of the second step are those of the open standard, so any app for it shows them.

Source: RFC 6238 (TOTP), appendix B: the test vectors for SHA-1, of which the last six digits are
those of a six-digit code; RFC 4226 section 5.3 says that fewer digits are the same number modulo.
"""

import datetime as dt

import pytest
from django_otp.plugins.otp_totp.models import TOTPDevice
from freezegun import freeze_time

from portal.people.accounts.second_step import are_digits_of

pytestmark = pytest.mark.django_db
SECRET = b"12345678901234567890"


@pytest.mark.parametrize(
    ("seconds", "digits"),
    [
        (1111111109, "07081804"),
        (1234567890, "89005924"),
        (2000000000, "69279037"),
    ],
)
def test_the_digits_of_the_standard_pass_at_their_time(village, seconds, digits):
    teacher = village.people["teacher"]
    TOTPDevice.objects.create(user=teacher, key=SECRET.hex())
    with freeze_time(dt.datetime.fromtimestamp(seconds, dt.UTC)):
        assert are_digits_of(teacher, digits[-6:])
    with freeze_time(dt.datetime.fromtimestamp(seconds + 300, dt.UTC)):
        assert not are_digits_of(teacher, digits[-6:])
