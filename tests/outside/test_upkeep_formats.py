"""Figures, sums and mail records against the documents that define them."""

import re
import subprocess

import pytest

from portal.operations.backup.repository import SUMS, write
from portal.operations.backup.sealing import sha256_of
from portal.operations.checks.mail import judge
from portal.operations.hooks import Figure
from portal.operations.openmetrics import CONTENT_TYPE, exposition
from tests.programs import program


def test_figures_are_written_as_the_published_format_has_it():
    """Source: OpenMetrics 1.0 (March 2022), "Text format": content type, TYPE and HELP before the
    samples of a family, families not mixed, labels in quotes with escapes, "# EOF" as the end."""
    figures = [
        Figure("pieces", "Pieces, by state.", 3, (("state", "ready"),)),
        Figure("pieces", "Pieces, by state.", 1, (("state", 'odd "\\ one'),)),
        Figure("disk_free_bytes", "Free space.", 1.5e9),
    ]
    lines = exposition(figures).decode().split("\n")
    assert CONTENT_TYPE.startswith("application/openmetrics-text; version=1.0.0; charset=utf-8")
    assert lines[-2:] == ["# EOF", ""]
    assert lines[:4] == [
        "# HELP kitchen_counter_pieces Pieces, by state.",
        "# TYPE kitchen_counter_pieces gauge",
        'kitchen_counter_pieces{state="ready"} 3.0',
        'kitchen_counter_pieces{state="odd \\"\\\\ one"} 1.0',
    ]
    sample = re.compile(r"[a-zA-Z_:][a-zA-Z0-9_:]*(\{.*\})? [0-9.e+-]+")
    assert all(line.startswith("# ") or sample.fullmatch(line) for line in lines[:-1])


def test_the_sums_of_a_backup_are_read_by_the_systems_own_tool(tmp_path):
    """Source: GNU coreutils, sha256sum --check: hash, two spaces, name."""
    write(tmp_path / "database", "rows")
    write(tmp_path / SUMS, f"{sha256_of(tmp_path / 'database')}  database\n")
    check = [program("sha256sum"), "--check", "--strict", SUMS]
    assert subprocess.run(check, cwd=tmp_path, check=False).returncode == 0
    write(tmp_path / "database", "Rows")
    assert subprocess.run(check, cwd=tmp_path, check=False).returncode != 0


@pytest.mark.parametrize(
    ("about", "found", "level"),
    [
        # Source: RFC 7208, section 4.5: none means no policy, more than one is an error.
        ("SPF", ["v=spf1 +mx a:colo.example.com/28 -all"], "ok"),
        ("SPF", ["v=spf1 -all", "v=spf1 mx -all"], "bad"),
        ("SPF", [], "bad"),
        # Source: RFC 7489, appendix B.2.1, and section 6.3: p is none, quarantine or reject.
        ("DMARC", ["v=DMARC1; p=none; rua=mailto:dmarc-feedback@example.com"], "look"),
        ("DMARC", ["v=DMARC1; p=reject; rua=mailto:dmarc-feedback@example.com"], "ok"),
        # Source: RFC 6376, section 3.6.1: an empty p means that the key has been revoked.
        ("DKIM", ["v=DKIM1; p="], "bad"),
        ("DKIM", ["k=rsa; p=MIGfMA0GCSqGSIb3DQ"], "ok"),
    ],
)
def test_a_mail_record_is_judged_as_its_standard_says(about, found, level):
    assert judge(about, "name.example", found, "advice").level == level
