"""A damaged or hostile file never harms the portal, and nothing of it is ever shown."""

import random
import socket
import struct
import subprocess
import sys
import time
import zlib
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path

import av
import pytest
from PIL import Image

from evidence.media import Cleaned, RefusalReason, Refused, SourceFormat, clean
from evidence.media.containers import open_container
from tests.evidence.media import made
from tests.evidence.media.made import ROOT, shared_media

SECONDS_EACH = 20
EICAR = rb"X5O!P%@AP[4\PZX54(P^)7CC)7}$EICAR-STANDARD-ANTIVIRUS-TEST-FILE!$H+H*"
ARCHIVE = b"PK\x03\x04" + bytes(26) + b"PK\x05\x06" + bytes(18)
NAMES = {"JPEG", "PNG", "WEBP", "GIF", "HEIC", "MP4", "WebM", "Ogg", "MP3", "PDF"}
SCRIPT = b"<?php system('id'); ?><script>alert(1)</script>"


@pytest.fixture(scope="module")
def samples(tmp_path_factory) -> dict[str, bytes]:
    """Give one sound file of each family of formats."""
    folder = tmp_path_factory.mktemp("samples")
    pictures = {written: folder / written for written in ("JPEG", "PNG", "WEBP", "GIF")}
    for written, path in pictures.items():
        made.quarters(200, 150).save(path, written)
    files = {
        **pictures,
        "HEIC": shared_media("place/IMG_5195.HEIC"),
        "MP4": made.clip(folder / "mp4", seconds=0.4),
        "WebM": made.clip(
            folder / "webm", container="webm", video="libvpx", sound="libopus", seconds=0.4
        ),
        "Ogg": made.voice(folder / "ogg", "ogg", "libopus", seconds=0.4),
        "MP3": made.voice(folder / "mp3", "mp3", "libmp3lame", seconds=0.4),
        "PDF": made.pdf(folder / "pdf", 1),
    }
    return {name: path.read_bytes() for name, path in files.items()}


def outcome(content: bytes, folder: Path, name: str = "file.jpg") -> Cleaned | Refused:
    """Clean *content*, check that what came of it is harmless, and give it."""
    folder.mkdir()
    source = folder / name
    source.write_bytes(content)
    begun = time.monotonic()

    result = clean(source, folder / "out")

    assert time.monotonic() - begun < SECONDS_EACH
    kept = sorted((folder / "out").glob("*")) if (folder / "out").exists() else []
    if isinstance(result, Refused):
        assert kept == []
        return result
    assert {path.name for path in kept} == {output.path.name for output in result.outputs}
    for output in result.outputs:
        reopen(output.path)
    return result


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


def outcomes(contents: list[bytes], folder: Path) -> list[Cleaned | Refused]:
    """Clean each of *contents* at the same time as others, as a server would."""
    with ThreadPoolExecutor(4) as pool:
        places = [folder / str(number) for number in range(len(contents))]
        return list(pool.map(outcome, contents, places))


@pytest.mark.parametrize(
    "name", ["JPEG", "PNG", "WEBP", "GIF", "HEIC", "MP4", "WebM", "Ogg", "PDF"]
)
def test_a_file_cut_at_every_tenth_is_refused_or_still_whole_in_itself(name, samples, tmp_path):
    whole = samples[name]

    results = outcomes([whole[: len(whole) * tenth // 10] for tenth in range(10)], tmp_path)

    assert results[0] == Refused(RefusalReason.EMPTY)
    assert isinstance(results[1], Refused)


@pytest.mark.parametrize("name", ["JPEG", "PNG", "HEIC", "MP4"])
def test_a_photo_or_clip_that_is_half_there_is_told_to_be_incomplete(name, samples, tmp_path):
    whole = samples[name]

    result = outcome(whole[: len(whole) // 2], tmp_path / "half")

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.CUT_SHORT


@pytest.mark.parametrize("name", ["JPEG", "WEBP", "MP4", "WebM", "MP3", "PDF"])
def test_bytes_changed_by_chance_do_no_harm(name, samples, tmp_path):
    chance = random.Random(f"damage {name}")
    damaged = []
    for _ in range(8):
        content = bytearray(samples[name])
        for _ in range(chance.choice((1, 10, 100))):
            content[chance.randrange(len(content))] = chance.randrange(256)
        damaged.append(bytes(content))

    assert len(outcomes(damaged, tmp_path)) == 8


@pytest.mark.parametrize("name", sorted(NAMES - {"WEBP", "HEIC", "Ogg"}))
@pytest.mark.parametrize(
    "tail", [EICAR, SCRIPT, b"PK\x03\x04" + bytes(26) + b"PK\x05\x06" + bytes(18)]
)
def test_what_hangs_on_behind_a_good_file_is_left_behind(name, tail, samples, tmp_path):
    outcome(samples[name] + tail, tmp_path / "tailed")


def test_a_script_inside_a_photos_comment_is_left_behind(tmp_path):
    made.quarters(40, 30).save(tmp_path / "photo.jpg", comment=SCRIPT + EICAR)

    result = outcome((tmp_path / "photo.jpg").read_bytes(), tmp_path / "commented")

    assert isinstance(result, Cleaned)


@pytest.mark.parametrize("content", [EICAR, SCRIPT, b"<svg onload='x()'/>", b"PK\x03\x04"])
def test_a_program_page_or_archive_called_a_photo_is_refused(content, tmp_path):
    result = outcome(content, tmp_path / "posing", "photo.jpg")

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.UNKNOWN_KIND


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


@pytest.mark.parametrize("playlist", PLAYLISTS, ids=["m3u8", "concat", "sdp", "dash"])
@pytest.mark.parametrize("pose", POSES)
def test_a_playlist_posing_as_a_clip_reaches_no_file_and_no_address(playlist, pose, tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as listener:
        listener.setblocking(False)
        port = listener.getsockname()[1]
        for target in ("/etc/passwd", f"http://127.0.0.1:{port}/a.ts", f"tcp://127.0.0.1:{port}"):
            text = playlist.format(target=target, port=port).encode()
            result = outcome(POSES[pose] + text, tmp_path / target.replace("/", "_"), "clip.mp4")
            assert isinstance(result, Refused)

        with pytest.raises(BlockingIOError):
            listener.accept()


def png_header(width: int, height: int) -> bytes:
    """Give a PNG which claims *width* by *height* and holds next to nothing."""

    def chunk(name: bytes, body: bytes) -> bytes:
        check = zlib.crc32(name + body)
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", check)

    header = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    body = chunk(b"IDAT", zlib.compress(bytes(10_000)))
    return b"\x89PNG\r\n\x1a\n" + header + body + chunk(b"IEND", b"")


def heic_header(width: int, height: int) -> bytes:
    """Give a phone's photo whose header claims *width* by *height* for every picture in it."""
    content = bytearray(shared_media("place/IMG_5195.HEIC").read_bytes())
    at = content.find(b"ispe")
    while at != -1:
        content[at + 8 : at + 16] = struct.pack(">II", width, height)
        at = content.find(b"ispe", at + 4)
    return bytes(content)


def gif_header(width: int, height: int) -> bytes:
    """Give a GIF which claims *width* by *height*."""
    size = struct.pack("<HH", width, height)
    palette = b"\x80\x00\x00" + bytes(6)
    return b"GIF89a" + size + palette + b"," + bytes(4) + size + b"\x00\x02\x02\x4c\x01\x00;"


@pytest.mark.parametrize(
    ("bomb", "width", "height"),
    [(png_header, 60_000, 60_000), (gif_header, 60_000, 60_000), (heic_header, 20_000, 10_000)],
)
def test_a_bomb_is_refused_from_its_header_in_a_second_and_little_memory(
    bomb, width, height, tmp_path
):
    source = tmp_path / "bomb"
    source.write_bytes(bomb(width, height))
    program = (
        "import resource, sys; from pathlib import Path; from evidence.media import clean\n"
        "result = clean(Path(sys.argv[1]), Path(sys.argv[2]))\n"
        "used = resource.getrusage(resource.RUSAGE_CHILDREN)\n"
        "print(result.reason, used.ru_utime + used.ru_stime, used.ru_maxrss)"
    )

    run = subprocess.run(
        [sys.executable, "-c", program, source, tmp_path / "out"],
        cwd=ROOT, capture_output=True, text=True, check=True, timeout=30,
    )  # fmt: skip

    reason, seconds, kilobytes = run.stdout.split()
    assert reason == RefusalReason.TOO_MANY_PIXELS
    assert float(seconds) < 1  # of the processor: the clock of a busy machine tells nothing
    assert int(kilobytes) < 200_000


@pytest.mark.parametrize("found", ["mp4", "mp3", "ogg", "wav"])
def test_a_clip_is_read_as_what_it_was_recognised_as_and_as_nothing_else(found, samples):
    with (
        pytest.raises((av.error.FFmpegError, StopIteration)),
        open_container(BytesIO(samples["WebM"]), SourceFormat(found)) as container,
    ):
        next(container.decode())
