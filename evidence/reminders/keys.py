"""The key by which push services know this portal. Source: RFC 8292, sections 2 and 3.2."""

import base64
from pathlib import Path

from cryptography.hazmat.primitives import serialization
from django.conf import settings
from py_vapid import Vapid02

from portal.environment import make_once


def key_file() -> Path:
    """Return where the key lies; with several machines it must be the same on each."""
    return Path(settings.DATA_DIR) / "push-key.pem"


def new_key() -> bytes:
    """Make a key, as PEM."""
    made = Vapid02()
    made.generate_keys()
    return made.private_pem()


def private_key() -> Vapid02:
    """Return the key, made once: a browser that was told one takes nothing signed by another."""
    path = key_file()
    make_once(path, new_key)
    return Vapid02.from_file(str(path))


def public_key() -> str:
    """Return the public half as browsers want it: the point uncompressed, in base64url."""
    point = private_key().public_key.public_bytes(
        serialization.Encoding.X962, serialization.PublicFormat.UncompressedPoint
    )
    return base64.urlsafe_b64encode(point).rstrip(b"=").decode()
