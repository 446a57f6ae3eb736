"""A decoder that a file has taken over finds walls on every side."""

import functools
import json
import os
import select
import subprocess
import sys
from dataclasses import replace
from errno import EACCES, EPERM
from pathlib import Path

import pytest
from PIL import Image, ImageCms

from evidence.media import LIMITS, Cleaned, TryLaterError, calls, clean, raisable, sandbox
from evidence.media.walls import NOT_HERE, Walls
from tests.evidence.media import escapes, hostile, made
from tests.evidence.media.escapes import PROBES
from tests.evidence.media.made import ROOT

linux = pytest.mark.skipif(sys.platform != "linux", reason="these walls are Linux's own")
as_root = pytest.mark.skipif(os.geteuid() != 0, reason="only root can try it as two users")
WHO = [pytest.param("root", marks=as_root), "plain"]
OURS = f"""
import json, os, sys
sys.path.insert(0, {str(ROOT)!r})
from evidence.media import worker
from evidence.media.outcome import Kind
order = json.loads(sys.argv[1])
"""
# Root reads the libraries first: a plain user may not be able to.
AS_PLAIN_USER = f"""{OURS}
worker.loaded(Kind(order["kind"]), order["format"], sys.stdin.buffer)
if user := order["user"]:
    os.setgroups([]), os.setresgid(user, user, user), os.setresuid(user, user, user)
os._exit(worker.main(order | {{"user": None}}))
"""


@functools.cache
def tried(who: str, walls: str) -> dict[str, dict]:
    """Try all escapes, each in a process of its own, and give what came of them."""
    program = [sys.executable, str(Path(escapes.__file__)), who, walls]
    run = subprocess.run(program, capture_output=True, text=True, timeout=300, check=False)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


@linux
@pytest.mark.parametrize("who", WHO)
@pytest.mark.parametrize("goal", PROBES)
def test_a_decoder_cannot_reach(goal, who):
    found = tried(who, "walls")[goal]

    assert found["said"] in {f"errno {number}" for number in PROBES[goal][1]}
    assert found["harm"] == []


@linux
@as_root
@pytest.mark.parametrize("goal", PROBES)
def test_what_is_tried_would_be_reached_if_there_were_no_walls(goal):
    assert tried("root", "open")[goal]["said"] == "reached"


@linux
@pytest.mark.parametrize("who", WHO)
@pytest.mark.parametrize("goal", [goal for goal, (_, said) in PROBES.items() if EPERM in said])
def test_the_list_of_calls_stands_alone_where_nothing_else_can_be_had(goal, who):
    found = tried(who, "list alone")[goal]

    assert found["said"] == "errno 1"
    assert found["harm"] == []


# What the other walls hold if the list had a hole: by the wall of files, by another user, by no
# capabilities. Of a signal to a process of the same user, the wall of files is the only one.
SECOND = {
    **dict.fromkeys(list(escapes.SIGNALS)[:5], EPERM),
    **dict.fromkeys(("a device", "a pipe", "a folder", "a symlink", "removing"), EACCES),
    "a new file": EACCES,
    "another root": EPERM,
}
SOURCE = ("chmod of the source", "utime of the source", "setxattr of the source")


@linux
@pytest.mark.parametrize("who", WHO)
@pytest.mark.parametrize("goal", SECOND)
def test_a_hole_in_the_list_would_lead_to_the_next_wall(goal, who):
    said = tried(who, "list off")[goal]["said"]

    # A device is refused to who is not root before anything else is asked.
    assert said in {f"errno {SECOND[goal]}"} | ({"errno 1"} if goal == "a device" else set())


@linux
@as_root
@pytest.mark.parametrize("goal", SOURCE)
def test_a_decoder_of_root_s_has_none_of_root_s_rights(goal):
    assert tried("root", "list off")[goal]["said"] in {"errno 1", "errno 13"}


@linux
@pytest.mark.parametrize("who", WHO)
def test_the_second_door_to_the_kernel_ends_who_knocks(who):
    assert tried(who, "walls")["a second door"]["said"] == "signal 31"


@pytest.fixture
def behind(tmp_path, monkeypatch):
    """Give a function that has decoders run as root or plain user; no call unlisted is let by."""

    def stand(who: str, unlisted: int = calls.KILL_PROCESS) -> None:
        program = tmp_path / "worker.py"
        program.write_text(AS_PLAIN_USER)
        monkeypatch.setattr(sandbox, "UNLISTED", unlisted)
        if who == "plain":
            monkeypatch.setattr(sandbox, "WORKER", program)

    return stand


def pictures(folder: Path) -> dict[str, Path]:
    """Write pictures of the less usual sorts."""
    drawn = made.quarters(200, 150)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()
    exif = Image.Exif()
    exif[0x0112] = 6
    ways = {
        "AVIF": (drawn, "AVIF", {}),
        "a JPEG with a profile": (drawn, "JPEG", {"icc_profile": profile}),
        "a JPEG that lies on its side": (drawn, "JPEG", {"exif": exif}),
        "a JPEG for print": (drawn.convert("CMYK"), "JPEG", {}),
        "a JPEG step by step": (drawn, "JPEG", {"progressive": True}),
        "two JPEGs in one": (drawn, "MPO", {"save_all": True, "append_images": [drawn]}),
        "a PNG in few colours": (drawn.convert("P"), "PNG", {"transparency": 0}),
        "a PNG in deep grey": (drawn.convert("I;16"), "PNG", {}),
        "a GIF that moves": (
            drawn,
            "GIF",
            {"save_all": True, "append_images": [drawn.convert("L")]},
        ),
    }
    for name, (picture, written, options) in ways.items():
        picture.save(folder / name, written, **options)
    return {name: folder / name for name in ways}


def every_sample(folder: Path) -> dict[str, Path]:
    """Write a file of every sort that families send."""
    (folder / "made").mkdir()
    for name, content in hostile.samples(folder / "made").items():
        (folder / name).write_bytes(content)
    voices = {
        "WAV": made.voice(folder / "wav", "wav", "pcm_s16le", seconds=0.4),
        "M4A": made.voice(folder / "m4a", "ipod", "aac", seconds=0.4),
        "a clip without a picture": made.voice(folder / "v.mp4", "mp4", "aac", seconds=0.4),
        "a clip without sound": made.clip(folder / "s.mp4", sound=None, seconds=0.4),
        "a deep clip": made.clip(folder / "d.mp4", video="libx265", deep=True, seconds=0.4),
        "MOV": made.clip(folder / "c.mov", container="mov", seconds=0.4),
    }
    names = {path.name for path in folder.iterdir() if path.is_file()} & hostile.NAMES
    return pictures(folder) | voices | {name: folder / name for name in names | {"WEBP"}}


@linux
@pytest.mark.parametrize("who", WHO)
def test_every_kind_of_file_is_decoded_without_a_call_that_is_not_on_the_list(
    who, tmp_path, behind
):
    (tmp_path / "samples").mkdir()
    samples = every_sample(tmp_path / "samples")
    behind(who)

    for name, path in samples.items():
        for turn in (0, 90):
            result = clean(path, tmp_path / f"{name} {turn}", turn=turn)
            assert isinstance(result, Cleaned), f"{name}: {result}"


@linux
@pytest.mark.parametrize("who", WHO)
def test_all_walls_stand_on_this_machine(who, behind):
    behind(who)

    walls = raisable()

    assert walls.missing == {}
    assert set(walls.reasons) == {"limits", "namespaces", "user", "folder", "files", "calls"}
    assert walls.are_enough


# Before it raises its walls: five processes, each twice removed, that take no signal.
LOOSE = """
import signal, time
from evidence.media import apart
handle = os.open({held!r}, os.O_WRONLY)
def starting(seconds):
    assert apart.move_apart(seconds) == ""
    for _ in range(5):
        if os.fork() == 0:
            os.setsid()
            if os.fork() == 0:
                signal.pthread_sigmask(signal.SIG_BLOCK, range(1, 65))
                os.write(handle, b"x")
                time.sleep(60)
            os._exit(0)
        os.wait()
    time.sleep({seconds})
    os._exit(0)
worker.move_apart = starting
"""


@linux
@pytest.mark.parametrize("who", WHO)
@pytest.mark.parametrize(("end", "seconds"), [("hangs", 60), ("ends", 1)])
def test_nothing_that_a_decoder_starts_outlives_it(end, seconds, who, tmp_path, monkeypatch):
    held = tmp_path / "held"
    os.mkfifo(held)
    loose = OURS + LOOSE.format(held=str(held), seconds=seconds)
    program = tmp_path / "worker.py"
    own = loose + "os._exit(worker.main(order))"
    program.write_text(own if who == "root" else AS_PLAIN_USER.replace(OURS, loose))
    monkeypatch.setattr(sandbox, "WORKER", program)
    made.quarters(60, 40).save(tmp_path / "photo.jpg")
    listener = os.open(held, os.O_RDONLY | os.O_NONBLOCK)
    hurried = replace(LIMITS, photo=replace(LIMITS.photo, wall_seconds=3))

    with pytest.raises(TryLaterError):
        clean(tmp_path / "photo.jpg", tmp_path / "out", limits=hurried)

    gone = select.poll()
    gone.register(listener, select.POLLHUP)
    assert os.read(listener, 100) == b"xxxxx"
    assert gone.poll(5000), "something still holds the pipe open"
    os.close(listener)


def test_where_a_wall_is_missing_it_is_named_with_the_reason():
    walls = Walls({"limits": "", "files": "", "calls": NOT_HERE})

    assert walls.missing == {"calls": NOT_HERE}
    assert not walls.are_enough
    assert not Walls({"decoder": "it does not start"}).are_enough
