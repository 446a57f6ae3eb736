"""A phone that sends work as a browser without scripts does, and remembers what was answered."""

import hashlib
import http.client
import io
import random
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from PIL import Image

TOKEN = "k" * 32  # what the cookie and the form must agree on


@dataclass(frozen=True)
class Answer:
    """What the portal said: status, headers, and the page."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def location(self) -> str:
        """Return where to go on."""
        return self.headers.get("Location", "")

    @property
    def text(self) -> str:
        """Return the page as text."""
        return self.body.decode()


@dataclass
class Phone:
    """One home's phone, signed in. `saved` holds the SHA-256 of all that was acknowledged."""

    url: str
    session: str
    child: int
    day: str
    saved: list[str] = field(default_factory=list)

    @property
    def cookies(self) -> dict[str, str]:
        """Return the header that says who it is."""
        return {"Cookie": f"session={self.session}; csrf={TOKEN}"}

    @property
    def send_path(self) -> str:
        """Return where work is sent to."""
        return f"/children/{self.child}/send/{self.day}/"

    def line(self, timeout: float = 90) -> http.client.HTTPConnection:
        """Return a line to the portal."""
        return http.client.HTTPConnection(urlsplit(self.url).netloc, timeout=timeout)

    def ask(
        self, method: str, path: str, body: bytes | None = None, timeout: float = 90, **more: str
    ) -> Answer:
        """Send one request. Raises OSError and http.client.HTTPException, as a line does."""
        line = self.line(timeout)
        try:
            line.request(method, path, body, {**self.cookies, **more})
            answer = line.getresponse()
            return Answer(answer.status, answer.headers, answer.read())
        finally:
            line.close()

    def get(self, path: str, timeout: float = 90) -> Answer:
        """Open a page."""
        return self.ask("GET", path, timeout=timeout)

    def post(self, path: str, **fields: str) -> Answer:
        """Press a button."""
        body, kind = form({"csrfmiddlewaretoken": TOKEN, **fields})
        return self.ask("POST", path, body, **{"Content-Type": kind})

    def send(
        self, *files: bytes, key: str = "", note: str = "", path: str = "", timeout: float = 90
    ) -> Answer:
        """Send *files* with the form, and note what was acknowledged."""
        body, kind = work(files, key or secrets.token_urlsafe(18), note)
        where = path or self.send_path
        answer = self.ask("POST", where, body, timeout, **{"Content-Type": kind})
        if answer.status == 302:
            self.saved += [hashlib.sha256(each).hexdigest() for each in files]
        return answer


def work(files: tuple[bytes, ...], key: str, note: str = "") -> tuple[bytes, str]:
    """Return the body of the sending form, and its content type."""
    fields = {"csrfmiddlewaretoken": TOKEN, "form_key": key, "note": note}
    return form(fields, files)


def form(fields: dict[str, str], files: tuple[bytes, ...] = ()) -> tuple[bytes, str]:
    """Write a form as RFC 7578 has it; `whole` comes last, as on the page."""
    parts = [part(f'name="{name}"', value.encode()) for name, value in fields.items()]
    parts += [part('name="pieces"; filename="image.jpg"', content) for content in files]
    parts.append(part('name="whole"', b"yes"))
    return b"".join(parts) + b"--edge--\r\n", "multipart/form-data; boundary=edge"


def part(about: str, content: bytes) -> bytes:
    """Write one field of a form."""
    return f"--edge\r\nContent-Disposition: form-data; {about}\r\n\r\n".encode() + content + b"\r\n"


def photo(number: int, size: tuple[int, int] = (320, 240)) -> bytes:
    """Draw a photo like no other."""
    chance = random.Random(f"photo {number}")
    picture = Image.new("RGB", (16, 12))
    picture.putdata([tuple(chance.randrange(256) for _ in range(3)) for _ in range(16 * 12)])
    held = io.BytesIO()
    picture.resize(size).save(held, "JPEG", quality=85)
    return held.getvalue()
