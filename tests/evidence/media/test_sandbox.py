"""Whatever becomes of the child process, the caller gets an answer and keeps nothing of it."""

import errno
import os
import select
import stat
import struct
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import av
import psutil
import pytest
from PIL import Image

from evidence.media import (
    LIMITS,
    Cleaned,
    CrashedError,
    RefusalReason,
    Refused,
    TryLaterError,
    clean,
    worker,
    workspace,
)
from tests.evidence.media.made import ROOT
from tests.evidence.media.worker_instead import LIMITED, QUICK, WALLS, kept


def test_a_child_that_hangs_is_ended_with_all_it_started(photo, tmp_path, instead):
    pids = tmp_path / "pids"
    instead(
        "import subprocess\n"
        f"other = subprocess.Popen(['sleep', '60'])\n"
        f"Path({str(pids)!r}).write_text(f'{{os.getpid()}} {{other.pid}}')\n"
        "threading.Event().wait()"
    )

    with pytest.raises(CrashedError) as raised:
        clean(photo, tmp_path / "out", limits=QUICK)

    assert raised.value.reason is RefusalReason.TOOK_TOO_LONG
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


@pytest.mark.parametrize("before", ["", "from evidence.media.apart import *; move_apart(1)\n"])
def test_a_child_that_computes_for_ever_is_ended_by_the_kernel(before, photo, tmp_path, instead):
    instead(f"{before}{LIMITED}\nwhile True: 1")
    patient = replace(LIMITS, photo=replace(LIMITS.photo, wall_seconds=300))

    result = clean(photo, tmp_path / "out", limits=patient)

    assert result == Refused(RefusalReason.TOOK_TOO_LONG, "processor time used up")


BROKEN = {
    **{name: f"os.kill(os.getpid(), signal.{name})" for name in ("SIGSEGV", "SIGBUS", "SIGKILL")},
    "abort": "os.abort()",
    "a call that is not on the list": "raise_walls(LIMITS.photo, LIMITS, user=OWN, "
    "unlisted=1 << 31)\nos.mkdir('x')",
    "an exit of another kind": "sys.exit(3)",
    "an exception of ours": "1 / 0",
    "a part of a library that was not loaded": "import no_such_part",
}


APART = "from evidence.media.apart import *; move_apart(1)\n"
# The first process of a namespace cannot kill itself; whoever kills it is outside.
ENDS = [(end, inside) for end in BROKEN for inside in ("", APART) if not (inside and "KILL" in end)]


@pytest.mark.parametrize(("end", "inside"), ENDS)
def test_a_decoder_that_ends_without_a_verdict_is_counted_and_refuses_nothing(
    end, inside, photo, tmp_path, instead
):
    instead(inside + BROKEN[end])

    with pytest.raises(CrashedError) as raised:
        clean(photo, tmp_path / "out")

    assert raised.value.reason is RefusalReason.UNREADABLE
    assert kept(tmp_path / "out") == []


OURS = ["sys.exit(75)", *(f"os.kill(os.getpid(), signal.SIG{n})" for n in ("TERM", "INT", "HUP"))]


@pytest.mark.parametrize("end", OURS)
def test_a_decoder_that_is_asked_to_stop_costs_the_file_no_attempt(end, photo, tmp_path, instead):
    # A server begun under nohup hands on that it takes no SIGHUP.
    asked = "signal.SIGTERM, signal.SIGINT, signal.SIGHUP"
    instead(f"for asked in ({asked}): signal.signal(asked, signal.SIG_DFL)\n{end}")

    with pytest.raises(TryLaterError):
        clean(photo, tmp_path / "out")
    assert kept(tmp_path / "out") == []


@pytest.mark.parametrize("end", ["os.abort()", "sys.exit(1)", "threading.Event().wait()"])
def test_a_decoder_that_never_saw_the_file_says_nothing_of_it(
    end, photo, tmp_path, instead, monkeypatch
):
    instead("")
    program = tmp_path / "worker.py"
    program.write_text(f"import os, sys, threading\n{end}")

    with pytest.raises(TryLaterError):
        clean(photo, tmp_path / "out", limits=QUICK)
    assert kept(tmp_path / "out") == []


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


def test_a_killed_server_leaves_no_half_file_and_its_child_dies_with_it(photo, tmp_path):
    pipe, out = tmp_path / "pipe", tmp_path / "out"
    os.mkfifo(pipe)
    hung = tmp_path / "worker.py"
    hung.write_text(
        WALLS + "from evidence.media.apart import move_apart\n"
        "Path('display.jpg').write_bytes(b'half')\n"
        f"pipe = open({str(pipe)!r}, 'w')\n"
        "print(os.getpid(), file=pipe, flush=True)\nmove_apart(9)\n"
        "raise_walls(LIMITS.photo, LIMITS, user=OWN)\n"
        "print('inside', file=pipe, flush=True)\nthreading.Event().wait()"
    )
    server = subprocess.Popen(
        [sys.executable, "-c", "import sys; from pathlib import Path\n"
         "from evidence.media import clean, sandbox\n"
         "sandbox.WORKER = Path(sys.argv[1]); clean(Path(sys.argv[2]), Path(sys.argv[3]))",
         hung, photo, out],
        cwd=ROOT,
    )  # fmt: skip
    with pipe.open() as reader:
        outside = int(reader.readline())
        reader.readline()
        inside = [each.pid for each in psutil.Process(outside).children()]

    server.kill()
    server.wait(10)

    assert all(is_gone(each) for each in (outside, *inside))
    assert [name for name in kept(out) if not name.startswith(".cleaning-")] == []
    assert isinstance(clean(photo, out), Cleaned)
    assert kept(out) == ["display.jpg", "thumb.jpg"]


def test_a_run_does_not_disturb_another_in_the_same_folder(photo, tmp_path):
    with workspace.workspace(tmp_path / "out") as first:
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
    ],
)
def test_a_full_disk_is_no_fault_of_the_file(error):
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
