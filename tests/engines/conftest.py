"""Firefox and WebKit before a real portal: each journey is gone in both of them."""

import json
import sqlite3
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from PIL import Image

from tests.engines.engine import Engine, NoEngineError
from tests.engines.firefox import Firefox
from tests.engines.webkit import WebKit
from tests.stack import Stack

Opener = Callable[..., Engine]


@dataclass
class Scene:
    """A running portal, its day, and the homes that nobody has come in from yet."""

    portal: Stack
    day: str
    homes: list[dict] = field(default_factory=list)

    def ask(self, query: str, *values: object) -> list[tuple]:
        """Ask the portal's database."""
        path = self.portal.data / "kitchen-counter.sqlite3"
        with sqlite3.connect(path, timeout=20) as database:
            return database.execute(query, values).fetchall()


@dataclass(frozen=True)
class Home:
    """A home that one journey has for itself."""

    scene: Scene
    child: int
    name: str
    cookie: str
    slip: str

    @property
    def card(self) -> str:
        """Return the address of the child's card of the day."""
        return f"/children/{self.child}/card/{self.scene.day}/"

    @property
    def send(self) -> str:
        """Return the address of the walk, where one sends from as well."""
        return f"/children/{self.child}/send/{self.scene.day}/"

    def pieces(self) -> list[tuple]:
        """Return kind, state and SHA-256 of what came from here, in order."""
        return self.scene.ask(
            "SELECT kind, state, p.sha256 FROM evidence_piece p "
            "JOIN evidence_submission s ON s.id = p.submission_id "
            "WHERE s.child_id = ? ORDER BY p.id",
            self.child,
        )

    def answers(self) -> dict[str, str]:
        """Return the answers that came from here, by the part of the day."""
        return dict(
            self.scene.ask(
                "SELECT t.part, a.text FROM evidence_answer a "
                "JOIN evidence_submission s ON s.id = a.submission_id "
                "JOIN tasks_taskprompt p ON p.id = a.prompt_id "
                "JOIN tasks_task t ON t.id = p.task_id WHERE s.child_id = ?",
                self.child,
            )
        )

    def notes(self) -> list[tuple]:
        """Return the words to the teacher that came from here."""
        return self.scene.ask("SELECT note FROM evidence_submission WHERE child_id = ?", self.child)


@pytest.fixture(scope="module")
def scene(tmp_path_factory) -> Iterator[Scene]:
    """Return a portal with the scene set."""
    stack = Stack(tmp_path_factory.mktemp("scene") / "data", "serve").prepare()
    stack.python("tests.engines.scene")
    stack.start()
    said = json.loads((stack.data / "scene.json").read_text())
    yield Scene(stack, said["day"], said["homes"])
    stack.stop()


@pytest.fixture(params=[Firefox, WebKit], ids=lambda kind: kind.__name__)
def kind(request) -> type[Engine]:
    """Return which engine it is; skip the test where that is not here."""
    try:
        request.param.installed()
    except NoEngineError as error:
        pytest.skip(str(error))
    return request.param


@pytest.fixture
def opened(kind, tmp_path) -> Iterator[Opener]:
    """Give a function that starts the engine; all are closed at the end."""
    engines: list[Engine] = []

    def start(**more: bool) -> Engine:
        folder = tmp_path / f"engine-{len(engines)}"
        folder.mkdir()
        engines.append(kind(folder, **more))
        return engines[-1]

    yield start
    for engine in engines:
        engine.close()


@pytest.fixture
def engine(opened) -> Engine:
    """Return a browser in which nobody has been yet."""
    return opened()


@pytest.fixture
def home(kind, scene) -> Home:
    """Return a home of this journey alone."""
    return Home(scene, **scene.homes.pop(0))


@pytest.fixture
def urdu_home(kind, scene) -> Home:
    """Return a home of this journey alone, which reads Urdu."""
    return Home(scene, **scene.homes.pop())


@pytest.fixture
def photo(tmp_path) -> Path:
    """Return a photo of much detail."""
    path = tmp_path / "image.jpg"
    Image.effect_noise((1200, 900), 90).convert("RGB").save(path, "JPEG", quality=90)
    return path
