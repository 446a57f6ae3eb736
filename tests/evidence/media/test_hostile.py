"""A damaged or hostile file never harms the portal, and nothing of it is ever shown."""

import socket
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path

import av
import pytest

from evidence.media import Cleaned, RefusalReason, Refused, SourceFormat, clean, containers
from evidence.media.containers import open_container
from tests.evidence.media import hostile, made
from tests.evidence.media.hostile import (
    ARCHIVE,
    EICAR,
    NAMES,
    PLAYLISTS,
    POSES,
    SCRIPT,
    damaged,
    gif_header,
    heic_header,
    png_header,
    reopen,
)
from tests.evidence.media.made import ROOT

SECONDS_EACH = 120  # on a busy machine; what hung would take until its wall, or for ever


@pytest.fixture(scope="module")
def samples(tmp_path_factory) -> dict[str, bytes]:
    """Return one sound file of each family of formats."""
    return hostile.samples(tmp_path_factory.mktemp("samples"))


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
    assert len(outcomes(list(damaged(name, samples[name])), tmp_path)) == 8


@pytest.mark.parametrize("name", sorted(NAMES - {"WEBP", "HEIC", "Ogg"}))
@pytest.mark.parametrize("tail", [EICAR, SCRIPT, ARCHIVE])
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


def test_not_even_a_reader_of_playlists_would_follow_one(tmp_path, monkeypatch):
    made.clip(tmp_path / "a.ts", container="mpegts", seconds=0.4)
    playlist = PLAYLISTS[0].format(target=tmp_path / "a.ts").encode()
    monkeypatch.setitem(containers.DEMUXERS, SourceFormat.MP4, "hls")

    with pytest.raises(av.error.FFmpegError):
        open_container(BytesIO(playlist), SourceFormat.MP4)


@pytest.mark.parametrize("found", ["mp4", "mp3", "ogg", "wav"])
def test_a_clip_is_read_as_what_it_was_recognised_as_and_as_nothing_else(found, samples):
    with (
        pytest.raises((av.error.FFmpegError, StopIteration)),
        open_container(BytesIO(samples["WebM"]), SourceFormat(found)) as container,
    ):
        next(container.decode())
