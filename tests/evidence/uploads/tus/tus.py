"""Speaks tus to the portal, one request at a time, as a browser's client would."""

import base64
import datetime as dt
from typing import Any

from django.test import Client
from django.urls import reverse

from evidence.models import Upload
from portal.people.models import Child
from tests.village import MONDAY

BYTES = "application/offset+octet-stream"
START = "/send/uploads/"
FORM_KEY = "k" * 24


def encoded(value: str) -> str:
    return base64.b64encode(value.encode()).decode()


def metadata(child: Child, date: dt.date = MONDAY, form: str = FORM_KEY, **more: str) -> str:
    """Return the metadata that says whom an upload is for."""
    pairs = {"child": str(child.pk), "day": str(date), "form": form, **more}
    return ",".join(f"{key} {encoded(value)}" for key, value in pairs.items())


def ask(client: Client, method: str, address: str, body: bytes = b"", **headers: str | None) -> Any:
    """Send one request; a header that is None is left out."""
    told = {"Tus-Resumable": "1.0.0", **{k.replace("_", "-"): v for k, v in headers.items()}}
    kind = told.pop("Content-Type", None) or (BYTES if method == "PATCH" else "")
    sent = {key: value for key, value in told.items() if value is not None}
    return client.generic(method, address, body, content_type=kind, headers=sent)


def begin(client: Client, child: Child, length: int, **more: str) -> str:
    """Begin an upload of *length* bytes, and give its address."""
    answer = ask(
        client, "POST", START, Upload_Length=str(length), Upload_Metadata=metadata(child, **more)
    )
    assert answer.status_code == 201, answer.content.decode()
    return answer.headers["Location"]


def patch(client: Client, address: str, offset: int, body: bytes, **headers: str) -> Any:
    """Send *body* from *offset* on."""
    return ask(client, "PATCH", address, body, Upload_Offset=str(offset), **headers)


def head(client: Client, address: str) -> Any:
    """Ask how far an upload has got."""
    return ask(client, "HEAD", address)


def sent_whole(client: Client, child: Child, content: bytes, **more: str) -> Upload:
    """Send *content* in one go, and give its upload."""
    address = begin(client, child, len(content), **more)
    answer = patch(client, address, 0, content)
    assert answer.status_code == 204, answer.content.decode()
    return upload_at(address)


def upload_at(address: str) -> Upload:
    """Return the upload with this address."""
    return Upload.objects.get(token=address.rstrip("/").rsplit("/", 1)[1])


def address_of(upload: Upload) -> str:
    return reverse("evidence:upload", args=[upload.token])
