"""What of a day stands before the class: its questions in order, and nothing about any child."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.safestring import SafeString

from tasks.cards.card import Line, Part
from tasks.lessons.scenes import Scene, make_scene
from tasks.models import Task

STORY = 60  # letters of a sentence from which it is read as a story


@dataclass(frozen=True, slots=True)
class Shown:
    """One question before the class: the part it is of, its scene, and its line on the card."""

    part: Part
    scene: Scene
    line: Line

    @property
    def picture(self) -> SafeString:
        """Return its picture as SVG, its things loose; empty where it has none."""
        # It is drawn by our own code, which escapes the words in it.
        return SafeString(self.scene.svg)

    @property
    def size(self) -> str:
        """Say how large it can be written: short, middling, long, or a story."""
        return "story" if len(self.scene.sentence) > STORY else self.line.size

    @property
    def answer(self) -> str:
        """Write its answer: filled into a short sentence, alone after a long one."""
        if self.size in ("short", "middling"):
            return self.line.answer
        before, _box, after = self.scene.sentence.partition("□")
        return self.line.answer.removeprefix(before).removesuffix(after)


def questions_of(tasks: Iterable[Task]) -> list[Shown]:
    """Return the questions of *tasks*, their prompts fetched, in the order of the day."""
    return [
        Shown(part, make_scene(row.prompt), line)
        for task in sorted(tasks, key=lambda task: task.position)
        for part in [Part.of(task)]
        for row, line in zip(task.prompts.all(), part.lines, strict=True)
    ]
