"""How hard a way in is to guess, worked out from the code as the impact assessment says it."""

import math
import re
import secrets
from pathlib import Path

from django.conf import settings

from portal.people.accounts import rate_limits
from portal.people.accounts.models import sign_in_codes
from portal.people.accounts.models.fingerprints import SLIP_LETTERS, draw_letters
from portal.people.families.models import invitations

LETTERS, DIGITS = 16, 6
A_SECOND, OPEN_SLIPS, SECONDS = 1_000, 10_000, 365 * 24 * 3600


def paper() -> str:
    """Return the words of the impact assessment, with single spaces."""
    text = (Path(settings.BASE_DIR) / "portal/data_protection/impact.md").read_text()
    return " ".join(text.split())


def test_the_odds_of_guessing_are_those_of_the_impact_assessment():
    told = paper()
    bits = LETTERS * math.log2(len(SLIP_LETTERS))
    assert f"{LETTERS} letters of {len(SLIP_LETTERS)}: {bits:.1f} bits" in told
    assert f"good once, for {invitations.INVITATION_LIFE.days} days" in told
    assert A_SECOND * SECONDS * OPEN_SLIPS / len(SLIP_LETTERS) ** LETTERS < 1e-8
    assert "below 1 in 100,000,000, were 1,000 letters tried each second" in told
    assert f"told so {rate_limits.WRONG_SLIPS_FROM_PLACE} times an hour" in told

    assert f"{DIGITS} digits: {DIGITS * math.log2(10):.1f} bits" in told
    minutes = int(sign_in_codes.CODE_LIFE.total_seconds() / 60)
    assert f"{minutes} minutes, {sign_in_codes.CODE_TRIES} tries" in told
    assert f"{rate_limits.WRONG_DIGITS_A_DAY} wrong ones a day" in told
    # The try that spends the last of a code is counted with the others of the day.
    odds = 10**DIGITS / (rate_limits.WRONG_DIGITS_A_DAY * 365)
    assert f"1 in {odds:.0f} for an account" in told
    assert f"{settings.AXES_FAILURE_LIMIT} wrong ones for account and place" in told
    assert f"{rate_limits.WRONG_PASSWORDS_A_DAY} a day for an account" in told


def test_a_slip_is_drawn_from_all_its_letters_and_none_look_alike():
    drawn = "".join(draw_letters(LETTERS) for _slip in range(400))
    assert set(drawn) == set(SLIP_LETTERS)
    assert len(set(SLIP_LETTERS)) == len(SLIP_LETTERS)
    assert not set("AEIOU0O1IL5S") & set(SLIP_LETTERS)


def test_what_is_drawn_is_as_long_as_the_assessment_says():
    from inspect import getsource

    assert f"draw_letters({LETTERS})" in getsource(invitations.Invitation.issue)
    assert f"draw_letters({LETTERS})" in getsource(invitations.Invitation.draw)
    size = int(re.search(r"token_urlsafe\((\d+)\)", getsource(sign_in_codes.SignInCode.draw))[1])
    assert f"{size * 8} bits" in paper()
    assert len(secrets.token_urlsafe(size)) <= 64
