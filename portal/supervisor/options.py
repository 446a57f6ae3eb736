"""What `demo`, `labels` and `serve` are told, read before Django's settings are."""

import argparse
import os
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from portal.supervisor.own_address import NoAddressError, is_open_to_network, reached_at

ROOT = Path(__file__).resolve().parents[2]


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that `demo` and `serve` share to *parser*."""
    parser.add_argument("--port", type=port, default=8000, help="where to listen (8000)")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on (127.0.0.1)")
    parser.add_argument("--data", type=Path, help="folder for database and media (var/)")


def port(text: str) -> int:
    """Read a port number. Raises argparse.ArgumentTypeError for anything but 1 to 65535."""
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError("must be a number from 1 to 65535")
    return int(text)


def demo_host(host: str) -> str:
    """Return what stands in the addresses of a demo that listens on *host*."""
    if not is_open_to_network(host):
        return "localhost"
    try:
        return reached_at(host)
    except NoAddressError as error:
        sys.exit(str(error))


def settle(command: str, arguments: Sequence[str]) -> None:
    """Set the environment variables that *command* and its *arguments* imply."""
    parser = argparse.ArgumentParser(add_help=False, exit_on_error=False)
    add_options(parser)
    parser.add_argument("--again", action="store_true")
    try:
        parsed, _rest = parser.parse_known_args(arguments)
    except (argparse.ArgumentError, SystemExit):
        return  # The command itself will say what is wrong.
    if command in ("demo", "labels"):
        os.environ["DEMO"] = "1"
        os.environ.setdefault("DATA_DIR", str(ROOT / "var" / "demo"))
        os.environ["SITE_URL"] = f"http://{demo_host(parsed.host)}:{parsed.port}"
        if parsed.again:
            os.environ["DEMO_AGAIN"] = "1"
    if parsed.data:
        os.environ["DATA_DIR"] = str(parsed.data.resolve())
    if not {"-h", "--help"} & set(arguments):
        try_to_write(Path(os.environ.get("DATA_DIR") or ROOT / "var"))


def try_to_write(data: Path) -> None:
    """Make the folder *data* and write in it; stop with a sentence where that is not possible."""
    try:
        data.mkdir(mode=0o700, parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=data):
            return
    except OSError as error:
        hint = "Choose another folder with --data."
        sys.exit(f"Cannot write in {data} ({error.strerror}). {hint}")
