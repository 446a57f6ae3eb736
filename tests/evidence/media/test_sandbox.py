"""Whatever becomes of the child process, the caller gets an answer and keeps nothing of it."""

import errno
import os
import select
import stat
import struct
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import av
import pytest
from PIL import Image

from evidence.media import (
    LIMITS,
    Cleaned,
    KilledError,
    RefusalReason,
    Refused,
    TryLaterError,
    clean,
    sandbox,
    worker,
)
from evidence.media.workspace import workspace
from tests.evidence.media import made
from tests.evidence.media.made import ROOT

QUICK = replace(LIMITS, photo=replace(LIMITS.photo, cpu_seconds=1, wall_seconds=2))
WALLS = f"""
import json, os, signal, sys, threading
from pathlib import Path
sys.path.insert(0, {str(ROOT)!r})
from evidence.media.limits import LIMITS
from evidence.media.walls import raise_walls
"""


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """Give a small photo."""
    path = tmp_path / "photo.jpg"
    made.quarters(60, 40).save(path)
    return path


@pytest.fixture
def instead(tmp_path, monkeypatch):
    """Give a function that puts a program in the place of the decoder."""

    def put(code: str) -> None:
        program = tmp_path / "worker.py"
        program.write_text(WALLS + code)
        monkeypatch.setattr(sandbox, "WORKER", program)

    return put


def kept(out: Path) -> list[str]:
    """Name what stands in *out*, hidden things too."""
    return sorted(path.name for path in out.iterdir())


def test_a_child_that_hangs_is_ended_with_all_it_started(photo, tmp_path, instead):
    pids = tmp_path / "pids"
    instead(
        "import subprocess\n"
        f"other = subprocess.Popen(['sleep', '60'])\n"
        f"Path({str(pids)!r}).write_text(f'{{os.getpid()}} {{other.pid}}')\n"
        "threading.Event().wait()"
    )

    result = clean(photo, tmp_path / "out", limits=QUICK)

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.TOOK_TOO_LONG
    assert all(is_gone(int(pid)) for pid in pids.read_text().split())
    assert kept(tmp_path / "out") == []


def is_gone(pid: int) -> bool:
    """Wait up to five seconds for process *pid* to end."""
    try:
        handle = os.pidfd_open(pid)
    except ProcessLookupError:
        return True
    ready, _, _ = select.select([handle], [], [], 5)
    os.close(handle)
    return bool(ready)


def test_a_child_that_computes_for_ever_is_ended_by_the_kernel(photo, tmp_path, instead):
    instead(
        "raise_walls(LIMITS.photo.__class__(1, 1 << 30, 1, 2), LIMITS, Path.cwd())\nwhile True: 1"
    )
    patient = replace(LIMITS, photo=replace(LIMITS.photo, wall_seconds=20))
    begun = time.monotonic()

    result = clean(photo, tmp_path / "out", limits=patient)

    assert result == Refused(RefusalReason.TOOK_TOO_LONG, "processor time used up")
    assert time.monotonic() - begun < 10


@pytest.mark.parametrize("crash", ["SIGSEGV", "SIGABRT", "SIGBUS"])
def test_a_file_that_crashes_its_decoder_is_unreadable(crash, photo, tmp_path, instead):
    instead(f"os.kill(os.getpid(), signal.{crash})")

    result = clean(photo, tmp_path / "out")

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.UNREADABLE
    assert kept(tmp_path / "out") == []


@pytest.mark.parametrize("code", ["os.kill(os.getpid(), signal.SIGKILL)", "sys.exit(75)", "1 / 0"])
def test_a_child_stopped_from_outside_is_no_fault_of_the_file(code, photo, tmp_path, instead):
    instead(code)

    with pytest.raises(TryLaterError) as raised:
        clean(photo, tmp_path / "out")
    assert kept(tmp_path / "out") == []
    assert isinstance(raised.value, KilledError) == ("SIGKILL" in code)


def test_a_picture_that_needs_more_memory_than_allowed_is_refused(tmp_path):
    Image.new("RGB", (7000, 7000)).save(tmp_path / "large.png")
    small = replace(LIMITS, photo=replace(LIMITS.photo, memory=150_000_000))

    result = clean(tmp_path / "large.png", tmp_path / "out", limits=small)

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.TOO_MUCH_MEMORY


def test_a_child_gets_no_secret_of_the_server(photo, tmp_path, instead, monkeypatch):
    monkeypatch.setenv("DATABASE_URL", "postgres://secret")
    seen = tmp_path / "seen"
    instead(f"Path({str(seen)!r}).write_text(json.dumps(dict(os.environ)))\nsys.exit(75)")

    with pytest.raises(TryLaterError):
        clean(photo, tmp_path / "out")

    assert "DATABASE_URL" not in seen.read_text()
    assert "secret" not in seen.read_text()


PIECE = '{"role": "display", "name": "%s", "width": 1, "height": 1}'
ANSWER = '{"kind": "photo", "pieces": [%s], "width": 1, "height": 1, "seconds": 0}'
NONSENSE = ["", "{}", "[]", "null", '{"refused": "no such reason"}', "x" * 200_000]
FORGERIES = {
    "a page": ("display.jpg", "Path('display.jpg').write_text('<script>')"),
    "a link": ("display.jpg", "os.symlink('/etc/passwd', 'display.jpg')"),
    "a path": ("../../display.jpg", "1"),
    "a name": ("index.html", "Path('index.html').write_text('<html>')"),
    "nothing": ("display.jpg", "1"),
    "no film": ("clip.mp4", "Path('clip.mp4').write_bytes(bytes(100))"),
    "a photo with a place": ("display.jpg", "Path('display.jpg').write_bytes(EXIF)"),
}


@pytest.mark.parametrize("forgery", FORGERIES)
def test_nothing_is_kept_that_our_own_encoders_would_not_write(forgery, photo, tmp_path, instead):
    name, code = FORGERIES[forgery]
    exif = Image.Exif()
    exif[0x010F] = "Maker"
    made.quarters(60, 40).save(tmp_path / "exif.jpg", exif=exif)
    answer = ANSWER % (PIECE % name)
    instead(
        f"EXIF = {(tmp_path / 'exif.jpg').read_bytes()!r}\n{code}\n"
        f"Path('answer.json').write_text({answer!r})"
    )

    result = clean(photo, tmp_path / "out")

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.UNREADABLE
    assert kept(tmp_path / "out") == []


@pytest.mark.parametrize(
    "answer", ["", "{}", "[]", "null", '{"refused": "no such reason"}', "x" * 200_000]
)
def test_an_answer_that_makes_no_sense_is_a_refusal(answer, photo, tmp_path, instead):
    instead(f"Path('answer.json').write_text({answer!r})")

    result = clean(photo, tmp_path / "out")

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.UNREADABLE


def test_a_killed_server_leaves_no_half_file_and_its_child_dies_with_it(photo, tmp_path):
    pipe, out = tmp_path / "pipe", tmp_path / "out"
    os.mkfifo(pipe)
    hung = tmp_path / "worker.py"
    hung.write_text(
        WALLS + "Path('display.jpg').write_bytes(b'half')\n"
        f"pipe = open({str(pipe)!r}, 'w')\n"
        "raise_walls(LIMITS.photo, LIMITS, Path.cwd())\n"
        "print(os.getpid(), file=pipe, flush=True)\nthreading.Event().wait()"
    )
    server = subprocess.Popen(
        [sys.executable, "-c", "import sys; from pathlib import Path\n"
         "from evidence.media import clean, sandbox\n"
         "sandbox.WORKER = Path(sys.argv[1]); clean(Path(sys.argv[2]), Path(sys.argv[3]))",
         hung, photo, out],
        cwd=ROOT,
    )  # fmt: skip
    with pipe.open() as reader:
        child = int(reader.readline())

    server.kill()
    server.wait(10)

    assert is_gone(child)
    assert [name for name in kept(out) if not name.startswith(".cleaning-")] == []
    assert isinstance(clean(photo, out), Cleaned)
    assert kept(out) == ["display.jpg", "thumb.jpg"]


def test_a_run_does_not_disturb_another_in_the_same_folder(photo, tmp_path):
    with workspace(tmp_path / "out") as first:
        assert isinstance(clean(photo, tmp_path / "out"), Cleaned)
        assert first.is_dir()


def test_files_are_on_the_disk_before_they_have_their_final_names(photo, tmp_path, monkeypatch):
    events = []
    fsync, replacing = os.fsync, Path.replace
    monkeypatch.setattr(os, "fsync", lambda handle: (events.append(kind(handle)), fsync(handle)))
    monkeypatch.setattr(
        Path, "replace", lambda path, to: (events.append("rename"), replacing(path, to))
    )

    assert isinstance(clean(photo, tmp_path / "out"), Cleaned)

    assert events == ["file", "file", "rename", "rename", "folder", "folder"]


def kind(handle: int) -> str:
    """Say whether *handle* is a file or a folder."""
    return "folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file"


@pytest.mark.parametrize(
    "error",
    [
        OSError(errno.ENOSPC, "full"),
        OSError(errno.EDQUOT, "quota"),
        OSError(errno.EIO, "disk"),
        ImportError("library"),
    ],
)
def test_a_full_disk_or_a_missing_library_is_no_fault_of_the_file(error):
    assert worker.is_of_this_machine(error)


@pytest.mark.parametrize(
    ("error", "reason"),
    [
        (OSError("image file is truncated"), RefusalReason.CUT_SHORT),
        (av.error.InvalidDataError(errno.EINVAL, "bad"), RefusalReason.UNREADABLE),
        (av.error.OSError(errno.EIO, "bad"), RefusalReason.UNREADABLE),
        (MemoryError(), RefusalReason.TOO_MUCH_MEMORY),
        (OSError(errno.EFBIG, "too large"), RefusalReason.TOO_BIG),
        (struct.error("short"), RefusalReason.UNREADABLE),
    ],
)
def test_whatever_a_decoder_raises_of_a_file_becomes_a_reason(error, reason):
    assert not worker.is_of_this_machine(error)
    assert worker.refusal_of(error).reason is reason
