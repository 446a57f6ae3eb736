"""How secrets are kept: only ever as a keyed fingerprint."""

import hashlib
import hmac
import secrets

from django.conf import settings

# No letters or digits that look alike on paper, and none that make words.
SLIP_LETTERS = "BCDFGHJKMNPQRTVWXYZ2346789"


def fingerprint(secret: str) -> str:
    """Return what is stored of *secret*: a keyed hash, useless to whoever reads the database."""
    return hmac.new(settings.SECRET_KEY.encode(), secret.encode(), hashlib.sha256).hexdigest()


def draw_letters(count: int) -> str:
    """Draw *count* random letters that can be read off paper: 4.7 bits each."""
    return "".join(secrets.choice(SLIP_LETTERS) for _position in range(count))


def in_fours(letters: str) -> str:
    """Return *letters* as people read them: in groups of four."""
    return "-".join(letters[start : start + 4] for start in range(0, len(letters), 4))


def bare(typed: str) -> str:
    """Return the letters of a code, however it was typed."""
    return "".join(letter for letter in typed.upper() if letter.isalnum())
