"""Whatever a decoder answers or leaves, only what our own code would write is kept of it."""

import errno
import os
import time
from pathlib import Path

import pytest
from PIL import Image

from evidence.media import Cleaned, CrashedError, clean, cleaning, workspace
from evidence.media.inspect_output import UnexpectedOutputError, inspect_mp4
from tests.evidence.media import made
from tests.evidence.media.made import ROOT
from tests.evidence.media.worker_instead import QUICK, kept

PIECE = '{"role": "display", "name": "%s", "width": 1, "height": 1}'
PAIR = PIECE % "display.jpg" + ", " + (PIECE % "thumb.jpg").replace("display", "thumb")
ANSWER = '{"kind": "photo", "files": [%s], "width": 1, "height": 1, "seconds": 0}'
NONSENSE = {
    "nothing": "",
    "no verdict": "{}",
    "a list": "[]",
    "null": "null",
    "a number": "7",
    "a reason there is not": '{"refused": "no such reason"}',
    "a list as reason": '{"refused": [], "detail": ""}',
    "more than a pipe holds": "x" * 200_000,
    "a thousand lists in each other": "[" * 50_000,
    "a length without end": ANSWER.replace('s": 0', 's": 1e999') % PAIR,
    "a length that is no number": ANSWER.replace('s": 0', 's": NaN') % PAIR,
    "a width without end": ANSWER.replace('width": 1', 'width": 1e999') % PAIR,
    "a width of many digits": ANSWER.replace('width": 1', f'width": {"9" * 4000}') % PAIR,
    "another kind": ANSWER.replace("photo", "page") % PAIR,
    "one picture twice": ANSWER % f"{PAIR}, {PAIR}",
    "too few pictures": ANSWER % PAIR.partition("}, ")[2],
    "another role": ANSWER % PAIR.replace('"thumb",', '"clip",'),
}
FORGERIES = {
    "a page": "Path('display.jpg').write_text('<script>')",
    "a link": "os.symlink('/etc/passwd', 'display.jpg')",
    "a second name of another file": f"os.link({str(ROOT / 'manage.py')!r}, 'display.jpg')",
    "a pipe": "os.mkfifo('display.jpg')",
    "a folder": "os.mkdir('display.jpg')",
    "nothing": "1",
    "a photo with a place": "Path('display.jpg').write_bytes(EXIF)",
    "a million segments": "Path('display.jpg').write_bytes(b'\\xff\\xd8' + 10**6 * SEGMENT)",
}
SEGMENT = b"\xff\xdb\x00\x02"


@pytest.mark.parametrize("forgery", FORGERIES)
def test_nothing_is_kept_that_our_own_encoders_would_not_write(forgery, photo, tmp_path, instead):
    exif = Image.Exif()
    exif[0x010F] = "Maker"
    made.quarters(60, 40).save(tmp_path / "exif.jpg", exif=exif)
    made.quarters(60, 40).save(tmp_path / "plain.jpg")
    instead(
        f"EXIF = {(tmp_path / 'exif.jpg').read_bytes()!r}\nSEGMENT = {SEGMENT!r}\n"
        f"Path('thumb.jpg').write_bytes({(tmp_path / 'plain.jpg').read_bytes()!r})\n"
        f"{FORGERIES[forgery]}\nprint({ANSWER % PAIR!r}, flush=True)"
    )
    begun = time.process_time()

    with pytest.raises(CrashedError) as raised:
        clean(photo, tmp_path / "out")

    assert "unexpected output" in raised.value.detail
    assert kept(tmp_path / "out") == []
    assert time.process_time() - begun < 2


@pytest.mark.parametrize("nest", [b"moov", b"free"])
def test_an_index_of_boxes_in_boxes_ends_the_look_at_it_and_not_the_server(nest, tmp_path):
    def box(name: bytes, body: bytes) -> bytes:
        return (len(body) + 8).to_bytes(4, "big") + name + body

    nested = b""
    for _ in range(5000):
        nested = box(b"moov", nested) if nest == b"moov" else nested + box(b"free", b"")
    film = tmp_path / "clip.mp4"
    film.write_bytes(box(b"ftyp", b"isom") + box(b"moov", nested) + box(b"mdat", b""))

    with pytest.raises(UnexpectedOutputError):
        inspect_mp4(film)


@pytest.mark.parametrize("answer", NONSENSE)
def test_an_answer_that_makes_no_sense_is_no_verdict(answer, photo, tmp_path, instead):
    instead(f"print({NONSENSE[answer]!r}, flush=True)")

    with pytest.raises(CrashedError):
        clean(photo, tmp_path / "out", limits=QUICK)
    assert kept(tmp_path / "out") == []


LEFT = {
    "a pipe": "os.mkfifo('answer')",
    "a thousand folders in each other": "for _ in range(1200): os.mkdir('d'); os.chdir('d')",
    "a folder that cannot be entered": "os.makedirs('a/b'); os.chmod('a', 0)",
    "links that lead out": "os.symlink('/', 'up'); os.symlink({out!r}, 'all')",
    "a thousand files": "for n in range(1000): open(str(n), 'w').close()",
}


@pytest.mark.parametrize("left", LEFT)
def test_whatever_a_decoder_leaves_is_cleared_and_nothing_beside_it(left, photo, tmp_path, instead):
    out = tmp_path / "out"
    out.mkdir()
    (out / "kept").write_text("of another")
    instead(LEFT[left].format(out=str(out)))

    with pytest.raises(CrashedError):
        clean(photo, out)

    assert kept(out) == ["kept"]


def test_more_than_can_be_cleared_at_once_is_cleared_by_the_runs_after_it(
    photo, tmp_path, instead, monkeypatch
):
    monkeypatch.setattr(workspace, "MOST_ENTRIES", 40)
    instead("for n in range(100): open(str(n), 'w').close()")

    left = []
    for _ in range(2):
        with pytest.raises(CrashedError):
            clean(photo, tmp_path / "out")
        left.append(sum(len(files) for _, _, files in os.walk(tmp_path / "out")))
    monkeypatch.undo()

    assert left == [60, 20 + 60]
    assert isinstance(clean(photo, tmp_path / "out"), Cleaned)
    assert kept(tmp_path / "out") == ["display.jpg", "thumb.jpg"]


def test_a_disk_that_cannot_be_read_is_no_fault_of_the_file(photo, tmp_path, monkeypatch):
    def broken(path: Path) -> None:
        raise OSError(errno.EIO, "disk")

    monkeypatch.setattr(cleaning, "inspect_jpeg", broken)

    with pytest.raises(OSError, match="disk"):
        clean(photo, tmp_path / "out")


def test_clean_copies_belong_to_the_server_and_not_to_the_decoder(photo, tmp_path):
    result = clean(photo, tmp_path / "out")

    assert isinstance(result, Cleaned)
    owners = {(each.path.stat().st_uid, each.path.stat().st_gid) for each in result.outputs}
    assert owners == {(os.geteuid(), os.getegid())}
