"""Speaks tus to a real portal, byte by byte where a test wants to break off in the middle."""

import http.client
import random
import socket
from typing import Any

from tests.evidence.uploads.tus.tus import BYTES, START, encoded
from tests.faults.conftest import Scene

FILM = b"\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00mp42isom"


def film(size: int) -> bytes:
    """Return what looks like a clip, and no other clip looks like."""
    return FILM + random.randbytes(size - len(FILM))


def told(scene: Scene, child: int | None = None, **more: str) -> dict[str, str]:
    """Return the metadata of an upload for *child*, on a form of its own."""
    form = "".join(random.choices("abcdefghijklmnop", k=24))
    pk = child or scene.said["children"]["Aisha"]
    return {"child": str(pk), "day": scene.day, "form": form, **more}


def written(metadata: dict[str, str]) -> str:
    return ",".join(f"{key} {encoded(value)}" for key, value in metadata.items())


def ask(scene: Scene, method: str, address: str, body: bytes = b"", cookie: str = "", **headers):
    """Send one request over a line of its own, and give its answer, read to the end."""
    line = http.client.HTTPConnection("127.0.0.1", scene.portal.port, timeout=30)
    sent = {"Tus-Resumable": "1.0.0", "Cookie": cookie or scene.cookie(), **headers}
    names = {name.replace("_", "-"): value for name, value in sent.items()}
    try:
        line.request(method, address, body or None, names)
        answer = line.getresponse()
        answer.words = answer.read().decode(errors="replace")
    finally:
        line.close()
    return answer


def begun(scene: Scene, length: int, **more: Any) -> str:
    """Begin an upload, and give its address."""
    cookie = more.pop("cookie", "")
    said = written(told(scene, **more))
    answer = ask(
        scene, "POST", START, cookie=cookie, Upload_Length=str(length), Upload_Metadata=said
    )
    assert answer.status == 201, (answer.status, answer.words)
    return answer.headers["Location"]


def patched(scene: Scene, address: str, offset: int, body: bytes):
    """Send *body* from *offset* on."""
    at = {"Upload_Offset": str(offset), "Content_Type": BYTES}
    return ask(scene, "PATCH", address, body, **at)


def offset_of(scene: Scene, address: str) -> int:
    """Ask how far an upload has got."""
    answer = ask(scene, "HEAD", address)
    assert answer.status == 200, answer.status
    return int(answer.headers["Upload-Offset"])


def opened(scene: Scene, address: str, offset: int, length: int) -> socket.socket:
    """Open a PATCH of *length* bytes, of which none are sent yet."""
    line = socket.create_connection(("127.0.0.1", scene.portal.port))
    line.settimeout(20)
    lines = (
        f"PATCH {address} HTTP/1.1",
        f"Host: localhost:{scene.portal.port}",
        f"Cookie: {scene.cookie()}",
        "Tus-Resumable: 1.0.0",
        f"Upload-Offset: {offset}",
        f"Content-Type: {BYTES}",
        f"Content-Length: {length}",
    )
    line.sendall(("\r\n".join(lines) + "\r\n\r\n").encode())
    return line


def bytes_there(scene: Scene) -> int:
    """Return how many bytes of unfinished uploads lie on the disk, promised or not."""
    return sum(path.stat().st_size for path in (scene.media / "partial").iterdir())
