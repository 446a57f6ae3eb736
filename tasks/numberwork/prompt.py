"""One question for a child, with everything that belongs to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from tasks.numberwork.pictures.picture import Picture

Answer: TypeAlias = int | str | tuple[int, ...]

WITH_SUPPORT, CORE, CHALLENGE = "with support", "core", "challenge"
DEPTHS = (WITH_SUPPORT, CORE, CHALLENGE)
OWN = "own"  # in place of the kind: of a question that a teacher wrote herself


@dataclass(frozen=True, slots=True)
class Prompt:
    """A question of one kind: as written, as said, its answer and what wrong answers may mean.

    sentence and spoken are British English; □ is the box a child fills in.
    answer is a whole number, a word or sign ("odd", "<"), a tuple of numbers in order, or "" where
    it is done together and nothing is answered.
    answers is every right answer of an open question (answer is then the first of them).
    mistakes gives, for each mistake that can show here, the answer it leads to; a mistake
    which would give a right answer is left out.
    form is the way it is asked, fact what is asked about; things are the names in a story.

    >>> Prompt("doubling", "double 4 = □", "What is double four?", 8, (4,), None,
    ...        {"said the number itself": 4}, form="double", fact="4").key
    'doubling/4/double'
    """

    kind: str
    sentence: str
    spoken: str
    answer: Answer
    numbers: tuple[int, ...]
    picture: Picture | None
    mistakes: Mapping[str, Answer] = field(hash=False)
    form: str = ""
    answers: tuple[Answer, ...] = ()
    choices: tuple[str, ...] = ()
    fact: str = ""
    things: tuple[str, ...] = ()
    depth: str = CORE
    within: int = 0

    @property
    def key(self) -> str:
        """Name the prompt so that it can be avoided later: kind, fact and form."""
        return f"{self.kind}/{self.fact}/{self.form}"

    @property
    def right_answers(self) -> tuple[Answer, ...]:
        """Return every answer that is right: one, or all those of an open question."""
        return self.answers or (self.answer,)

    @property
    def is_own(self) -> bool:
        """Tell whether a teacher wrote it herself: of no kind, and evidence of nothing named."""
        return self.kind == OWN

    @property
    def can_be_marked(self) -> bool:
        """Tell whether it is known what is right.

        Not of one that is done together, that a teacher looks at herself, or that could not be
        read.
        """
        return self.answer != ""

    @property
    def is_open(self) -> bool:
        """Tell whether more than one answer is right."""
        return len(self.answers) > 1
