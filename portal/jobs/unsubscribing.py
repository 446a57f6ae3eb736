"""What a mail that comes again and again carries: how to stop it, and a name of its own."""

from dataclasses import dataclass

from django.conf import settings
from django.core import signing
from django.urls import reverse


def address(name: str, *arguments: object) -> str:
    """Return the whole address of a page."""
    return settings.SITE_URL + reverse(name, args=arguments)


def message_id(kind: str, salt: str, what: str) -> str:
    """Return the same Message-ID at every attempt, so that a mail that came twice shows once."""
    digest = signing.Signer(salt=salt).signature(what)
    return f"<{kind}.{digest}@{settings.SITE_HOST}>"


@dataclass(frozen=True)
class StopLink:
    """A link that stops one kind of mail to one reader, and does nothing else. It never runs out.

    salt: of this kind of mail alone. page: the name of the address that takes the token.
    """

    salt: str
    page: str

    def token(self, key: int) -> str:
        """Return what stops the mail to reader *key*."""
        return signing.Signer(salt=self.salt).sign(str(key))

    def key_of(self, token: str) -> int | None:
        """Return the key of the reader whose mail *token* stops; None for a made-up one."""
        try:
            return int(signing.Signer(salt=self.salt).unsign(token))
        except (signing.BadSignature, ValueError):
            return None

    def address(self, key: int) -> str:
        """Return the whole address at which reader *key* stops the mail."""
        return address(self.page, self.token(key))

    def headers(self, key: int) -> dict[str, str]:
        """Return the headers of one-click unsubscription. Source: RFC 8058, section 3.1."""
        return {
            "List-Unsubscribe": f"<{self.address(key)}>",
            "List-Unsubscribe-Post": "List-Unsubscribe=One-Click",
        }
