"""A web server in front of a real portal, set up as the document for operators has it."""

import os
import re
import shutil
import ssl
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.certificates import write_certificate
from tests.stack import ROOT, free_port, wait_for

DOCUMENT = ROOT / "portal/operations/docs/in_front.md"
AROUND = """
daemon off; {user} pid {folder}/pid; worker_processes 1; error_log {folder}/errors;
events {{ worker_connections 4000; }}
http {{
    access_log off; client_body_temp_path {folder}/bodies; proxy_temp_path {folder}/answers;
    fastcgi_temp_path {folder}/f; uwsgi_temp_path {folder}/u; scgi_temp_path {folder}/s;
    {recipe}
}}
"""


def program() -> str:
    """Return where nginx is; without it, skip the test."""
    found = shutil.which("nginx", path=f"{os.environ['PATH']}:/usr/sbin")
    if not found:
        pytest.skip(
            "nginx is not on this machine: what operators are told of it is tried where it is"
        )
    return found


def recipe() -> str:
    """Return what stands in the document."""
    return re.search(r"```nginx\n(.*?)```", DOCUMENT.read_text(encoding="utf-8"), re.DOTALL)[1]


def put_in(text: str, *pairs: tuple[str, str]) -> str:
    """Put in what an operator would; each thing must be there to be replaced."""
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new)
    return text


@contextmanager
def in_front_of(port: int, folder: Path) -> Iterator[str]:
    """Run nginx before the portal at *port*, and give its address."""
    own = free_port()
    write_certificate(folder)
    told = put_in(
        recipe(),
        ("127.0.0.1:8000", f"127.0.0.1:{port}"),
        ("listen 443 ssl", f"listen 127.0.0.1:{own} ssl"),
        ("/etc/ssl/portal", f"{folder}/portal"),
    )
    user = "user root;" if os.geteuid() == 0 else ""
    setup = folder / "nginx.conf"
    setup.write_text(AROUND.format(folder=folder, recipe=told, user=user))
    words = [program(), "-p", str(folder), "-e", str(folder / "errors"), "-c", str(setup)]
    process = subprocess.Popen(words)
    try:
        wait_for(lambda: (folder / "pid").exists() or process.poll() is not None, 30, "nginx")
        assert process.poll() is None, (folder / "errors").read_text()
        yield f"https://127.0.0.1:{own}"
    finally:
        process.terminate()
        process.wait(30)


def trusting() -> ssl.SSLContext:
    """Return what speaks TLS with a certificate that nobody has signed."""
    context = ssl.create_default_context()
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    return context
