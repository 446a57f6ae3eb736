"""The real portal, looked over while it runs: doctor, figures and log lines of its processes."""

import json
import os
import signal
import subprocess
import sys
import urllib.error
import urllib.request

import pytest

from tests.stack import ROOT, Stack, wait_for

pytestmark = pytest.mark.stack
TOKEN = "a-token-for-the-tests-alone"


class WatchedStack(Stack):
    """A portal whose operator reads its figures and its log."""

    @property
    def environment(self) -> dict[str, str]:
        """Return the environment of its processes."""
        return super().environment | {"METRICS_TOKEN": TOKEN, "LOG_FORMAT": "json"}

    def doctor(self) -> tuple[int, dict[str, str]]:
        """Look it over; give the exit code, and the level of each thing."""
        ran = subprocess.run(
            [sys.executable, "manage.py", "doctor", "--offline", "--format", "json"],
            cwd=ROOT, env=self.environment, capture_output=True, text=True, check=False,
        )  # fmt: skip
        lines = json.loads(ran.stdout)["lines"]
        return ran.returncode, {line["about"]: line["level"] for line in lines}

    def figures(self, token: str = TOKEN) -> str:
        """Ask for the figures as a program does."""
        asked = urllib.request.Request(
            f"{self.url}/metrics", headers={"Authorization": f"Bearer {token}"}
        )
        with urllib.request.urlopen(asked, timeout=20) as answer:
            return answer.read().decode()

    def log(self) -> list[dict[str, str]]:
        """Return the lines of the log that are JSON objects."""
        return [json.loads(line) for line in self.said.splitlines() if line.startswith("{")]


@pytest.fixture(scope="module")
def stack(tmp_path_factory):
    """Start the portal once."""
    stack = WatchedStack(tmp_path_factory.mktemp("watched") / "data").prepare().start()
    yield stack
    stack.stop()


@pytest.fixture
def broker(stack):
    """Give the process of the broker, and let it go on afterwards."""
    process = stack.broker()
    yield process
    process.send_signal(signal.SIGCONT)


def test_a_portal_that_runs_and_is_backed_up_is_well(stack, tmp_path):
    wait_for(lambda: "last_tick_seconds" in stack.figures(), 120, "the beat's first job")
    code, found = stack.doctor()
    assert code == 1
    assert found["backup"] == "bad"
    stack.manage("backup", str(tmp_path / "repository"))
    code, found = stack.doctor()
    assert code == 0
    for about in ("database", "storage", "broker", "worker", "beat", "backup"):
        assert found[about] == "ok", found


def test_figures_are_shown_to_who_has_the_token_and_to_nobody_else(stack):
    assert 'kitchen_counter_jobs_waiting{queue="now"}' in stack.figures()
    assert "kitchen_counter_broker_answers 1" in stack.figures()
    with pytest.raises(urllib.error.HTTPError, match="404"):
        stack.figures("another-token")


def test_a_job_that_fails_is_logged_as_json_by_its_worker_with_its_id_and_no_words(stack):
    stack.python("tests.portal.operations.lost_original")

    def told():
        return [line for line in stack.log() if "is gone" in line["message"]]

    line = wait_for(told, what="the worker's line")[0]
    assert line["logger"] == "evidence.jobs"
    assert line["job"] == "evidence.jobs.work_on_pieces"
    assert len(line["request"]) == 36
    assert "Canary" not in stack.said


def test_a_broker_that_hangs_is_found_and_pages_and_figures_still_come(stack, broker):
    os.kill(broker.pid, signal.SIGSTOP)
    code, found = stack.doctor()
    assert (code, found["broker"]) == (1, "bad")
    assert "kitchen_counter_broker_answers 0" in stack.figures()
    assert stack.is_well()
