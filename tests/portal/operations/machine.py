"""A portal on a machine of its own: real data folder, real database, commands as processes."""

import os
import secrets
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import psycopg

ROOT = Path(__file__).resolve().parents[3]
SERVER = os.environ.get("DATABASE_URL", "")  # Set where the suite runs on PostgreSQL.


@dataclass
class Ran:
    """A process that has ended: how, and all it said."""

    code: int
    said: str


@dataclass
class Machine:
    """One data folder, and with PostgreSQL one database."""

    data: Path
    database: str = field(default_factory=lambda: f"upkeep_{secrets.token_hex(6)}")
    more: dict[str, str] = field(default_factory=dict)

    @property
    def url(self) -> str:
        """Return the address of its PostgreSQL database; nothing for SQLite."""
        return urlsplit(SERVER)._replace(path=f"/{self.database}").geturl() if SERVER else ""

    @property
    def environment(self) -> dict[str, str]:
        """Return what its processes see."""
        kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG") if name in os.environ}
        return {
            **kept,
            "DATA_DIR": str(self.data),
            "DJANGO_SETTINGS_MODULE": "portal.settings",
            "EMAIL_URL": f"filemail:///{self.data}-mails",
            "PYTHONDONTWRITEBYTECODE": "1",
            **({"DATABASE_URL": self.url} if SERVER else {}),
            **self.more,
        }

    def command(self, *words: str | Path) -> list[str]:
        """Return the words that run a command of manage.py."""
        return [sys.executable, str(ROOT / "manage.py"), *map(str, words)]

    def manage(self, *words: str | Path) -> Ran:
        """Run a command of manage.py to its end."""
        return self.run(*self.command(*words))

    def run(self, *words: str, **more: str) -> Ran:
        """Run any program to its end."""
        ran = subprocess.run(
            words, cwd=ROOT, env=self.environment | more, capture_output=True, text=True,
            check=False,
        )  # fmt: skip
        return Ran(ran.returncode, ran.stdout + ran.stderr)

    def does(self, *words: str | Path) -> str:
        """Run a command of manage.py that must work, and give what it said."""
        ran = self.manage(*words)
        assert ran.code == 0, ran.said
        return ran.said

    def python(self, code: str) -> str:
        """Run *code* with the models of the portal at hand, and give what it printed."""
        return self.does("shell", "--no-imports", "--command", code).strip()

    def ask(self, query: str) -> list[tuple[Any, ...]]:
        """Ask the database directly."""
        if SERVER:
            with psycopg.connect(self.url) as there:
                return there.execute(query).fetchall()
        with closing(sqlite3.connect(self.data / "kitchen-counter.sqlite3")) as there:
            return there.execute(query).fetchall()

    def files(self) -> dict[str, bytes]:
        """Return the bytes of every file in its store, by name."""
        media = self.data / "media"
        found = [path for path in media.rglob("*") if path.is_file()]
        return {str(path.relative_to(media)): path.read_bytes() for path in found}

    def make_database(self) -> None:
        """Make its database, empty."""
        if SERVER:
            self.on_server(f'CREATE DATABASE "{self.database}"')

    def drop(self) -> None:
        """Throw everything away."""
        shutil.rmtree(self.data, ignore_errors=True)
        if SERVER:
            self.on_server(f'DROP DATABASE IF EXISTS "{self.database}"')

    @staticmethod
    def on_server(statement: str) -> None:
        """Tell the server to make or drop a database."""
        with psycopg.connect(SERVER, autocommit=True) as there:
            there.execute(statement)
