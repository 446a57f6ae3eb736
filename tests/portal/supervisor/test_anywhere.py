"""The demo on other people's machines: odd folders, no home, a plain user, a port that is taken."""

import os
import shutil
import socket
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from tests.stack import ROOT, Stack, wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
NOBODY = 65534
# Another user, who may read what root may, so that this Python can be run, but write nothing of it.
AS_NOBODY = (
    *("setpriv", "--reuid", str(NOBODY), "--regid", str(NOBODY), "--clear-groups"),
    *("--inh-caps", "+dac_read_search", "--ambient-caps", "+dac_read_search"),
)
AS_ROOT = pytest.mark.skipif(
    os.geteuid() != 0 or not shutil.which("setpriv"),
    reason="only root, with setpriv, can become another user",
)


def demo(*arguments: str, before: tuple[str, ...] = (), **changed: str) -> str:
    """Run `demo`, which cannot start; give its last words."""
    kept = {name: os.environ[name] for name in ("PATH", "LANG") if name in os.environ}
    ran = subprocess.run(
        [*before, sys.executable, "manage.py", "demo", *arguments],
        cwd=ROOT, env={**kept, **changed}, capture_output=True, text=True,
        timeout=120, check=False,
    )  # fmt: skip
    assert ran.returncode == 1
    assert "Traceback" not in ran.stderr
    return ran.stderr


@pytest.fixture
def shared():
    """Give a folder that every user may enter."""
    folder = Path(tempfile.mkdtemp(prefix="kc-"))
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def starts_and_stops(stack: Stack) -> None:
    stack.start()
    wait_for(lambda: "is ready" in stack.said, what="all of it")
    assert stack.stop() == 0
    assert "Traceback" not in stack.said


@pytest.mark.parametrize("chosen", ["installed", "python"])
def test_a_folder_with_blanks_and_letters_of_all_kinds_is_as_good_as_any(tmp_path, chosen):
    if chosen == "installed" and not shutil.which("redis-server"):
        pytest.skip("there is no redis-server on this machine")
    stack = Changed(tmp_path / "Küche #1, 100 %41? ły", "demo", more={"BROKER": chosen}).prepare()
    starts_and_stops(stack)
    assert (stack.data / "kitchen-counter.sqlite3").exists()
    assert not list(tmp_path.glob("Küche #1, 100 A*"))


class Changed(Stack):
    """A demo with something else in its environment; "" takes a variable away."""

    def __init__(self, data: Path, command: str, more: dict[str, str]) -> None:
        super().__init__(data, command)
        self.more = more

    @property
    def environment(self) -> dict[str, str]:
        """Return the environment of its processes."""
        changed = {**super().environment, **self.more}
        return {name: value for name, value in changed.items() if value}


@pytest.mark.parametrize("home", ["", "/nowhere", "/proc"], ids=["none", "missing", "read-only"])
def test_no_home_to_write_in_is_needed(tmp_path, home):
    starts_and_stops(Changed(tmp_path / "data", "demo", more={"HOME": home}).prepare())


def test_a_folder_that_cannot_be_written_in_is_a_sentence():
    said = demo("--data", "/proc/kitchen")
    assert said.startswith("Cannot write in /proc/kitchen (")
    assert said.endswith("Choose another folder with --data.\n")


@AS_ROOT
def test_a_plain_user_who_may_not_write_beside_the_program_is_told_what_to_do(shared):
    theirs = shared / "roots"
    theirs.mkdir(mode=0o700)
    said = demo("--data", str(theirs), before=AS_NOBODY)
    assert said.startswith(f"Cannot write in {theirs} (Permission denied).")


@AS_ROOT
def test_a_plain_user_who_may_not_write_beside_the_program_has_a_demo_elsewhere(shared):
    stack = Changed(shared / "own", "demo", more={"HOME": "/nowhere"}).prepare()
    for path in (stack.data, *stack.data.rglob("*")):
        os.chown(path, NOBODY, NOBODY)
    stack.before = AS_NOBODY
    (stack.data / "mails").mkdir(exist_ok=True)
    os.chown(stack.data / "mails", NOBODY, NOBODY)
    starts_and_stops(stack)


def test_a_taken_port_is_a_sentence_before_anything_is_done(tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        said = demo("--data", str(tmp_path / "data"), "--port", port)
    assert f"Cannot listen on 127.0.0.1:{port} (Address already in use)." in said
    assert "Choose another --port." in said
    assert not (tmp_path / "data" / "kitchen-counter.sqlite3").exists()


def test_of_two_demos_begun_at_once_on_one_port_one_has_it_and_the_other_says_so(tmp_path):
    first = Stack(tmp_path / "one", "demo").prepare()
    second = Stack(tmp_path / "two", "demo", port=first.port).prepare()
    for stack in (first, second):
        stack.launch()
    lost = wait_for(lambda: [each for each in (first, second) if each.process.poll()], 90, "one")
    assert len(lost) == 1
    assert f"Cannot listen on 127.0.0.1:{first.port} (Address already in use)." in lost[0].said
    won = second if lost[0] is first else first
    wait_for(lambda: "is ready" in won.said, what="the other")
    assert won.stop() == 0


def test_two_demos_on_two_folders_and_ports_live_side_by_side(tmp_path):
    both = [Stack(tmp_path / name, "demo").prepare() for name in ("one", "two")]
    for stack in both:
        stack.start()
    assert all(stack.is_well() for stack in both)
    assert [stack.stop() for stack in both] == [0, 0]
