#!/usr/bin/env python3
"""Run Kitchen Counter's commands, making the environment they need where there is none.

Uses the standard library alone until that environment is there.
"""

import hashlib
import importlib.util
import os
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
VENV = HERE / ".venv"
RUNTIME = ("django", "celery", "redis", "PIL", "pillow_heif", "av", "crispy_forms", "fpdf")
TESTING = ("pytest", "pytest_django", "hypothesis", "playwright")


def main(arguments: list[str]) -> None:
    """Run the command in *arguments*, inside an environment that has what it needs."""
    testing = arguments[1:2] == ["test"]
    wanted = RUNTIME + (TESTING if testing else ())
    lists = [HERE / "requirements.txt"] + ([HERE / "tests/requirements.txt"] if testing else [])
    inside = Path(sys.prefix).resolve() == VENV.resolve()
    complete = all(importlib.util.find_spec(name) for name in wanted)
    if inside or not complete:
        make_environment(lists, complete=complete and inside)
        if not inside:
            os.execv(python_of(VENV), [str(python_of(VENV)), *arguments])
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "portal.settings")
    if arguments[1:2] in (["demo"], ["serve"], ["labels"]):
        from portal.running.options import settle

        settle(arguments[1], arguments[2:])
    from django.core.management import execute_from_command_line

    execute_from_command_line(arguments)


def make_environment(lists: list[Path], *, complete: bool) -> None:
    """Make .venv hold the pinned *lists*; nothing is done where they are installed already."""
    stamp = VENV / "installed-requirements"
    wanted = {path.name if path.parent == HERE else "tests": digest(path) for path in lists}
    if python_of(VENV).exists() and stamp.exists():
        installed = dict(line.split() for line in stamp.read_text().splitlines())
        if wanted.items() <= installed.items():
            return
    elif complete:
        return
    said = "The libraries are not here yet: installing the pinned ones into .venv (once)."
    print(said, file=sys.stderr)
    if sys.version_info < (3, 11):
        sys.exit("Kitchen Counter needs Python 3.11 or newer: run this with a newer python3.")
    if not python_of(VENV).exists():
        run([sys.executable, "-m", "venv", str(VENV)], "On Debian: apt install python3-venv")
    chosen = [argument for path in lists for argument in ("-r", str(path))]
    command = [str(python_of(VENV)), "-m", "pip", "install", "--quiet", *chosen]
    run(command, "Check that this machine reaches a package index.")
    done = dict(line.split() for line in stamp.read_text().splitlines()) if stamp.exists() else {}
    stamp.write_text("".join(f"{name} {value}\n" for name, value in {**done, **wanted}.items()))


def run(command: list[str], hint: str) -> None:
    """Run *command*, or stop with one sentence that says what to do."""
    if subprocess.run(command, check=False).returncode:
        sys.exit(f"This did not work: {' '.join(command[:4])} ... {hint}")


def digest(path: Path) -> str:
    """Give the SHA-256 of the file at *path*, in hex."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def python_of(venv: Path) -> Path:
    """Give the path of the interpreter of *venv*."""
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


if __name__ == "__main__":
    main(sys.argv)
