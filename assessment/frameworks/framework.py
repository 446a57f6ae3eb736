"""What a goal framework is: statements of what children are to learn, in strands."""

from collections import Counter
from dataclasses import dataclass, field

from .showing.asked import Asked

MOST_GOALS = 5000
LONGEST_TEXT = 4000
LONGEST_TITLE = 200
LONGEST_CODE = 60
JUDGED_BY = ("strand", "goal")
# How the note begins of a statement that was not held against a published copy.
FROM_MEMORY = "From memory, to be confirmed."


class FrameworkError(ValueError):
    """A framework that cannot be used; the message names the place and what to do."""


@dataclass(frozen=True, slots=True)
class Goal:
    """One statement of a framework, and the kinds of number work that give evidence of it.

    kinds stand in order of relevance, the most direct first. A statement that no
    number work can show has no kinds and says *why*. asks: what that work has to show.
    """

    code: str
    strand: str
    text: str
    kinds: tuple[str, ...] = ()
    why: str = ""
    note: str = ""
    identifier: str = ""
    asks: Asked = field(default_factory=Asked)

    def __post_init__(self) -> None:
        if not self.code.strip():
            raise FrameworkError(f"code: empty for “{self.text[:60]}”; give every goal a code.")
        if len(self.code) > LONGEST_CODE:
            raise FrameworkError(f"code: {self.code[:20]}… is longer than {LONGEST_CODE} letters.")
        if len(self.strand) > LONGEST_TITLE:
            raise FrameworkError(f"strand: longer than {LONGEST_TITLE} letters at {self.code}.")
        if not self.text.strip():
            raise FrameworkError(f"text: empty for goal {self.code}; give the statement.")
        if len(self.text) > LONGEST_TEXT:
            raise FrameworkError(
                f"text: goal {self.code} has {len(self.text)} letters; the most is {LONGEST_TEXT}."
            )

    @property
    def label(self) -> str:
        """Return the statement to stand alone: without the stop or semicolon of its list.

        >>> Goal("A1", "Number", "Subitise up to 5;").label
        'Subitise up to 5'
        """
        return self.text.rstrip(" ;.,")


@dataclass(frozen=True, slots=True)
class Strand:
    """A named group of goals; *code* is the publisher's own where there is one."""

    code: str
    title: str


@dataclass(frozen=True, slots=True)
class Framework:
    """A published list of goals, with where it comes from and what may be done with it.

    levels are the words a judgement may take, lowest first; none where the publisher
    gives none. judged_by says what a judgement is about: a whole "strand", as England's
    early learning goals are (best fit over all the strand's statements), or one "goal".
    """

    id: str
    title: str
    publisher: str
    edition: str
    source: str
    licence: str
    notice: str
    stem: str
    levels: tuple[str, ...]
    judged_by: str
    strands: tuple[Strand, ...]
    goals: tuple[Goal, ...]

    def __post_init__(self) -> None:
        if not self.id.strip() or not self.title.strip():
            raise FrameworkError("id, title: empty; give both.")
        if max(len(self.id), len(self.title)) > LONGEST_TITLE:
            raise FrameworkError(f"id, title: longer than {LONGEST_TITLE} letters; shorten it.")
        if self.judged_by not in JUDGED_BY:
            raise FrameworkError(f"judged_by: “{self.judged_by}”; write strand or goal.")
        if not 1 <= len(self.goals) <= MOST_GOALS:
            raise FrameworkError(
                f"goals: there are {len(self.goals)}; a framework has 1 to {MOST_GOALS}."
            )
        code, times = Counter(goal.code for goal in self.goals).most_common(1)[0]
        if times > 1:
            raise FrameworkError(f"code: {code} stands {times} times; make each code different.")
        missing = {goal.strand for goal in self.goals} - {strand.title for strand in self.strands}
        if missing:
            raise FrameworkError(f"strands: no strand is titled “{min(missing)}”; add it.")
        empty = {strand.title for strand in self.strands} - {goal.strand for goal in self.goals}
        if empty or len({strand.title for strand in self.strands}) < len(self.strands):
            raise FrameworkError("strands: one has no goals or stands twice; take it out.")

    def goal(self, code: str) -> Goal:
        """Return the goal with this *code*; KeyError when there is none."""
        for goal in self.goals:
            if goal.code == code:
                return goal
        raise KeyError(code)

    def in_strand(self, title: str) -> tuple[Goal, ...]:
        """Return the goals of the strand with this *title*, in the publisher's order."""
        return tuple(goal for goal in self.goals if goal.strand == title)

    def judged_units(self) -> tuple[Strand, ...]:
        """Return what a judgement is made about: the strands, or each goal by code and label."""
        if self.judged_by == "strand":
            return self.strands
        return tuple(Strand(goal.code, goal.label) for goal in self.goals)


def strands_of(goals: tuple[Goal, ...]) -> tuple[Strand, ...]:
    """Name the strands *goals* stand in, in order of first use, each its own code."""
    titles = dict.fromkeys(goal.strand for goal in goals)
    return tuple(Strand(title[:LONGEST_CODE], title) for title in titles)
