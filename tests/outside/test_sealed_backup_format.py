"""A sealed file can be opened by whoever reads the published format, without this portal.

Source: C2SP, "age" (age-encryption.org/v1): header, X25519 recipient, payload; its example
identity and recipient. RFC 7748, 5869 and 8439 by the `cryptography` library.
"""

import base64
import io
import os
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.x25519 import X25519PrivateKey, X25519PublicKey
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.hmac import HMAC
from cryptography.hazmat.primitives.kdf.hkdf import HKDF

from portal.operations.backup.sealing import identities_of, recipients_of, seal, unseal

# The document's example: an identity of 32 bytes 0x42, and its recipient.
IDENTITY = "AGE-SECRET-KEY-1GFPYYSJZGFPYYSJZGFPYYSJZGFPYYSJZGFPYYSJZGFPYYSJZGFPQ4EGAEX"
RECIPIENT = "age1zvkyg2lqzraa2lnjvqej32nkuu0ues2s82hzrye869xeexvn73equnujwj"
SECRET = X25519PrivateKey.from_private_bytes(b"\x42" * 32)
CHUNK = 64 * 1024


def key_from(material: bytes, salt: bytes, info: bytes) -> bytes:
    """Derive 32 bytes by HKDF-SHA-256."""
    return HKDF(SHA256(), 32, salt, info).derive(material)


def unpadded(text: bytes) -> bytes:
    """Read base64 without its padding."""
    return base64.b64decode(text + b"=" * (-len(text) % 4))


def stanza_for_us(lines: list[bytes]) -> tuple[bytes, bytes]:
    """Return share and body of the first X25519 stanza; others are to be passed over."""
    at = next(n for n, line in enumerate(lines) if line.startswith(b"-> X25519 "))
    return unpadded(lines[at].split(b" ")[2]), unpadded(lines[at + 1])


def open_by_the_document(sealed: bytes) -> bytes:
    """Open *sealed* step by step as the document says."""
    header, _mark, rest = sealed.partition(b"\n--- ")
    mac_line, _end, rest = rest.partition(b"\n")
    assert header.startswith(b"age-encryption.org/v1\n-> ")
    share, body = stanza_for_us(header.split(b"\n"))
    public = SECRET.public_key().public_bytes_raw()
    shared = SECRET.exchange(X25519PublicKey.from_public_bytes(share))
    wrap = key_from(shared, share + public, b"age-encryption.org/v1/X25519")
    file_key = ChaCha20Poly1305(wrap).decrypt(bytes(12), body, None)

    mac = HMAC(key_from(file_key, b"", b"header"), SHA256())
    mac.update(header + b"\n---")
    mac.verify(unpadded(mac_line))

    nonce, payload = rest[:16], rest[16:]
    cipher = ChaCha20Poly1305(key_from(file_key, nonce, b"payload"))
    plain, count = b"", 0
    while payload:
        chunk, payload = payload[: CHUNK + 16], payload[CHUNK + 16 :]
        last = b"\0" if payload else b"\1"
        plain += cipher.decrypt(count.to_bytes(11, "big") + last, chunk, None)
        count += 1
    return plain


@pytest.mark.parametrize("size", [0, 1, CHUNK - 1, CHUNK, CHUNK + 1, 3 * CHUNK + 5])
def test_what_is_sealed_here_opens_by_the_published_steps(tmp_path: Path, size: int):
    content = os.urandom(size)
    copied = seal(io.BytesIO(content), tmp_path / "sealed", recipients_of(RECIPIENT))
    assert open_by_the_document((tmp_path / "sealed").read_bytes()) == content
    assert copied.size == size


def test_the_published_identity_opens_what_is_sealed_to_its_recipient(tmp_path: Path):
    (tmp_path / "key").write_text(f"# the document's example\n{IDENTITY}\n")
    seal(io.BytesIO(b"spoons"), tmp_path / "sealed", recipients_of(RECIPIENT))
    unseal(tmp_path / "sealed", tmp_path / "opened", identities_of(tmp_path / "key"))
    assert (tmp_path / "opened").read_bytes() == b"spoons"
