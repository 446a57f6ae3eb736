"""The first start of a newcomer: what is said, what is fetched, and what may go wrong in it."""

import contextlib
import os
import signal
import subprocess

import pytest

from tests.portal.installing.conftest import Clone
from tests.portal.installing.index import wheel
from tests.stack import wait_for

pytestmark = pytest.mark.proof


def reached(output: str, clone: Clone) -> bool:
    """Tell whether the command itself ran, inside the clone's own environment."""
    return output == f"ran: check by {clone.venv}\n"


def test_it_says_what_it_costs_and_where_it_lies_and_the_next_start_says_and_asks_nothing(
    clone, index
):
    code, output, said = clone.start()
    assert (code, reached(output, clone)) == (0, True)
    assert f"2 libraries into {clone.venv}" in said
    assert "1 MB to fetch, 3 MB on disk, about 4 seconds" in said
    assert "Installed in " in said

    index.asked.clear()
    clone.index_url = "http://127.0.0.1:9/simple"
    code, output, said = clone.start()
    assert (code, reached(output, clone), said, index.asked) == (0, True, "", [])


def test_a_download_that_breaks_off_is_tried_again_and_said(clone, index):
    index.cuts = 1
    clone.more["PIP_RESUME_RETRIES"] = "0"
    code, output, said = clone.start()
    assert "The download broke off; trying once more." in said
    assert (code, reached(output, clone)) == (0, True)


def test_a_line_that_stays_broken_ends_with_one_sentence_and_goes_on_another_day(
    quick_clone, index
):
    index.cuts = 100
    quick_clone.more["PIP_RESUME_RETRIES"] = "0"
    code, _output, said = quick_clone.start()
    assert code == 1
    assert said.strip().splitlines()[-1].startswith("The libraries cannot be fetched:")
    assert "Traceback" not in said

    index.cuts = 0
    code, output, said = quick_clone.start()
    assert (code, reached(output, quick_clone)) == (0, True)
    assert "anew" not in said


def test_a_library_that_is_not_the_one_that_was_locked_is_not_installed(quick_clone, index):
    index.wheels["teaspoon-1.0-py3-none-any.whl"] = wheel("teaspoon", "SIZE = 50\n")
    code, _output, said = quick_clone.start()
    assert code == 1
    assert "one came other than it was locked" in said
    assert not list(quick_clone.venv.glob("lib/python3*/site-packages/*.py"))
    assert not list(quick_clone.venv.glob("lib/python3*/site-packages/django"))


def test_without_a_line_the_first_start_says_so(quick_clone):
    quick_clone.index_url = "http://127.0.0.1:9/simple"
    code, _output, said = quick_clone.start()
    assert code == 1
    assert "this machine reaches no package index now. Connect it, then start again" in said
    assert "Traceback" not in said


def test_an_install_that_was_killed_is_made_anew(quick_clone, index):
    index.open.clear()
    process = quick_clone.begin()
    assert index.reached.wait(120)
    os.killpg(process.pid, signal.SIGKILL)
    process.communicate()
    # What is half there is taken for whole by pip: its folder of facts is written first.
    half = next(quick_clone.venv.glob("lib/python3*/site-packages")) / "teaspoon-1.0.dist-info"
    half.mkdir()
    (half / "METADATA").write_text("Metadata-Version: 2.1\nName: teaspoon\nVersion: 1.0\n")

    index.open.set()
    code, output, said = quick_clone.start()
    assert "cut off while it installed: making .venv anew" in said
    assert (code, reached(output, quick_clone)) == (0, True)
    asked = [str(quick_clone.venv / "bin/python"), "-c", "import teaspoon; print(teaspoon.SIZE)"]
    assert subprocess.check_output(asked, text=True) == "5\n"


def test_ctrl_c_stops_pip_as_well_says_what_comes_next_and_loses_nothing(quick_clone, index):
    index.open.clear()
    process = quick_clone.begin()
    assert index.reached.wait(120)
    process.send_signal(signal.SIGINT)  # to the one process: pip must be ended by it
    _output, said = process.communicate(timeout=60)
    assert process.returncode == 130
    assert said.endswith("Stopped. The next start begins the installing again.\n")
    running = subprocess.check_output(["ps", "-eo", "args"], text=True)
    assert str(quick_clone.venv) not in running

    index.open.set()
    assert quick_clone.start()[0] == 0


def test_two_first_starts_at_once_install_once(quick_clone, index):
    index.open.clear()
    first = quick_clone.begin()
    assert index.reached.wait(120)
    second = quick_clone.begin()
    waiting = "Another start is installing the libraries: waiting for it.\n"
    assert second.stderr.readline() == waiting
    index.open.set()
    for process in (first, second):
        output, _said = process.communicate(timeout=240)
        assert (process.returncode, reached(output, quick_clone)) == (0, True)
    assert index.asked.count("teaspoon-1.0-py3-none-any.whl") == 1


def test_whoever_comes_after_a_killed_start_waits_for_the_pip_it_left(quick_clone, index):
    index.open.clear()
    first = quick_clone.begin()
    assert index.reached.wait(120)
    first.kill()
    first.wait()
    second = quick_clone.begin()
    assert second.stderr.readline().startswith("Another start is installing")
    index.open.set()
    output, _said = second.communicate(timeout=240)
    assert (second.returncode, reached(output, quick_clone)) == (0, True)
    first.communicate()


def test_a_list_that_has_changed_is_brought_up_to_date(quick_clone):
    quick_clone.ask_for("django")
    assert quick_clone.start()[0] == 0
    quick_clone.ask_for("django", "teaspoon")
    code, output, said = quick_clone.start()
    assert (code, reached(output, quick_clone)) == (0, True)
    assert "The list of libraries has changed" in said
    assert list(quick_clone.venv.glob("lib/python3*/site-packages/teaspoon.py"))


def test_a_library_that_this_machine_lacks_is_named_and_not_tried_twice(quick_clone, index):
    quick_clone.ask_for("django", "fork")
    code, _output, said = quick_clone.start()
    assert code == 1
    last = said.strip().splitlines()[-1]
    assert last.startswith("A library is not made for Python 3.")
    assert "fork==1.0" in last
    assert index.asked.count("fork") == 1


def test_an_environment_of_ones_own_is_used_as_it_is(clone, index, tmp_path):
    own = tmp_path / "own"
    subprocess.run([clone.python, "-m", "venv", own], check=True)
    pip = [own / "bin/python", "-m", "pip", "install", "-q", "-r", "requirements.txt"]
    subprocess.run(pip, cwd=clone.folder, env=clone.environment, check=True)
    clone.python = str(own / "bin/python")
    assert clone.start() == (0, f"ran: check by {own}\n", "")
    assert not clone.venv.exists()


def test_without_ensurepip_the_pip_that_is_there_does_it(clone):
    clone.lack("ensurepip")
    code, output, _said = clone.start()
    assert (code, reached(output, clone)) == (0, True)
    assert not list(clone.venv.glob("lib/python3*/site-packages/pip"))


def test_without_ensurepip_and_pip_it_says_what_to_install(clone):
    clone.lack("ensurepip", "pip")
    code, _output, said = clone.start()
    assert code == 1
    assert "On Debian and Ubuntu: apt install python3-venv." in said
    assert not clone.venv.exists()


def test_a_home_that_cannot_be_written_brings_no_warning(clone):
    clone.more["HOME"] = "/proc"
    code, output, said = clone.start()
    assert (code, reached(output, clone)) == (0, True)
    assert "cache" not in said


def test_a_folder_that_cannot_be_written_brings_a_sentence(clone):
    clone.venv.symlink_to("/proc/nothing-can-be-made-here")
    code, _output, said = clone.start()
    assert code == 1
    assert "cannot be written" in said
    assert "Traceback" not in said


def test_on_a_terminal_a_bar_moves_and_is_taken_away_at_the_end(quick_clone, index):
    pseudo = pytest.importorskip("pty")
    ours, theirs = pseudo.openpty()
    index.open.clear()
    process = subprocess.Popen(
        [quick_clone.python, "manage.py", "check"],
        cwd=quick_clone.folder,
        env=quick_clone.environment,
        stdout=subprocess.DEVNULL,
        stderr=theirs,
        start_new_session=True,
    )
    os.close(theirs)
    os.set_blocking(ours, False)
    seen = ""

    def has_been_seen(words: str) -> bool:
        nonlocal seen
        with contextlib.suppress(BlockingIOError):
            seen += os.read(ours, 65536).decode()
        return words in seen

    wait_for(lambda: has_been_seen("[....................]"), what="a bar")
    wait_for(lambda: has_been_seen("looking up django"), what="which library it is about")
    index.open.set()
    wait_for(lambda: has_been_seen("Installed in"), what="the end")
    assert seen.rstrip().rpartition("\r")[2].startswith("Installed in")
    assert process.wait(60) == 0
    os.close(ours)
