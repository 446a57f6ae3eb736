"""Files that mean harm or have met with an accident, made for the tests."""

import random
import struct
import tempfile
import zlib
from collections.abc import Iterator
from pathlib import Path

import av
from PIL import Image

from tests.evidence.media import made
from tests.evidence.media.samples import heic

EICAR = rb"X5O!P%@AP[4\PZX54(P^)7CC)7}$EICAR-STANDARD-ANTIVIRUS-TEST-FILE!$H+H*"
ARCHIVE = b"PK\x03\x04" + bytes(26) + b"PK\x05\x06" + bytes(18)
NAMES = {"JPEG", "PNG", "WEBP", "GIF", "HEIC", "MP4", "WebM", "Ogg", "MP3", "PDF"}
SCRIPT = b"<?php system('id'); ?><script>alert(1)</script>"
PLAYLISTS = [
    "#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\n{target}\n#EXT-X-ENDLIST\n",
    "ffconcat version 1.0\nfile '{target}'\n",
    "v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nm=video {port} RTP/AVP 96\n",
    "<?xml version='1.0'?><MPD><BaseURL>{target}</BaseURL></MPD>",
]
POSES = {
    "itself": b"",
    "MP4": b"\x00\x00\x00\x18ftypisom\x00\x00\x02\x00isommp41",
    "WebM": b"\x1aE\xdf\xa3\x84webm",
    "MP3": b"ID3\x03",
}


def samples(folder: Path) -> dict[str, bytes]:
    """Return one sound file of each family of formats, made in *folder*."""
    pictures = {written: folder / written for written in ("JPEG", "PNG", "WEBP", "GIF")}
    for written, path in pictures.items():
        made.quarters(200, 150).save(path, written)
    files = {
        **pictures,
        "HEIC": heic(folder / "heic"),
        "MP4": made.clip(folder / "mp4", seconds=0.4),
        "WebM": made.clip(
            folder / "webm", container="webm", video="libvpx", sound="libopus", seconds=0.4
        ),
        "Ogg": made.voice(folder / "ogg", "ogg", "libopus", seconds=0.4),
        "MP3": made.voice(folder / "mp3", "mp3", "libmp3lame", seconds=0.4),
        "PDF": made.pdf(folder / "pdf", 1),
    }
    return {name: path.read_bytes() for name, path in files.items()}


def damaged(name: str, content: bytes, times: int = 8) -> Iterator[bytes]:
    """Yield *content* with some bytes changed by chance, the same each time."""
    chance = random.Random(f"damage {name}")
    for _ in range(times):
        changed = bytearray(content)
        for _ in range(chance.choice((1, 10, 100))):
            changed[chance.randrange(len(changed))] = chance.randrange(256)
        yield bytes(changed)


def png_header(width: int, height: int) -> bytes:
    """Return a PNG which claims *width* by *height* and holds next to nothing."""

    def chunk(name: bytes, body: bytes) -> bytes:
        check = zlib.crc32(name + body)
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", check)

    header = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    body = chunk(b"IDAT", zlib.compress(bytes(10_000)))
    return b"\x89PNG\r\n\x1a\n" + header + body + chunk(b"IEND", b"")


def heic_header(width: int, height: int) -> bytes:
    """Return a phone's photo whose header claims *width* by *height* for every picture in it."""
    with tempfile.TemporaryDirectory() as folder:
        content = bytearray(heic(Path(folder) / "heic").read_bytes())
    at = content.find(b"ispe")
    while at != -1:
        content[at + 8 : at + 16] = struct.pack(">II", width, height)
        at = content.find(b"ispe", at + 4)
    return bytes(content)


def gif_header(width: int, height: int) -> bytes:
    """Return a GIF which claims *width* by *height*."""
    size = struct.pack("<HH", width, height)
    palette = b"\x80\x00\x00" + bytes(6)
    return b"GIF89a" + size + palette + b"," + bytes(4) + size + b"\x00\x02\x02\x4c\x01\x00;"


def reopen(path: Path) -> None:
    """Read *path* whole as the kind of file its name says, and as no other."""
    if path.suffix == ".jpg":
        with Image.open(path, formats=("JPEG",)) as picture:
            picture.load()
    else:
        with av.open(path, format="mov") as kept:
            assert sum(1 for _ in kept.decode()) > 0
    content = path.read_bytes()
    assert EICAR not in content
    assert b"<?php" not in content


def corpus(folder: Path) -> dict[str, bytes]:
    """Give files of every sort above, by what each is: cut, damaged, posing, too large, loaded."""
    sound = samples(folder)
    files = {f"{name} cut": content[: len(content) // 2] for name, content in sound.items()}
    for name, content in sound.items():
        files |= {f"{name} damaged {at}": each for at, each in enumerate(damaged(name, content, 3))}
        files[f"{name} with a script behind"] = content + SCRIPT + EICAR
        files[f"{name} with an archive behind"] = content + ARCHIVE
    files |= {"a virus": EICAR, "a program": SCRIPT, "an archive": ARCHIVE, "nothing": b""}
    files |= {
        f"a playlist as {pose} {at}": head + playlist.format(target="/etc/passwd", port=9).encode()
        for pose, head in POSES.items()
        for at, playlist in enumerate(PLAYLISTS)
    }
    files |= {
        "a PNG bomb": png_header(60_000, 60_000),
        "a GIF bomb": gif_header(60_000, 60_000),
        "a HEIC bomb": heic_header(20_000, 10_000),
    }
    made.quarters(40, 30).save(folder / "commented", "JPEG", comment=SCRIPT + EICAR)
    files["a photo with a script inside"] = (folder / "commented").read_bytes()
    return files
