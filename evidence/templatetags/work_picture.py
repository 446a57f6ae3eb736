"""What was sent, as one small picture: {% load work_picture %}."""

from typing import Any, NamedTuple

from django import template

from evidence.models import Answer, Piece, Submission
from tasks.cards.card import Line
from tasks.cards.languages import answer_in, page_language

register = template.Library()
ON_A_LEAF = 4


class Written(NamedTuple):
    """A question as it was asked, and its sentence with what was answered written into it."""

    line: Line
    sentence: str

    @classmethod
    def of(cls, answer: Answer) -> "Written":
        """Write *answer*, its prompt fetched, in the language of the page."""
        line = Line.of(answer.prompt, page_language())
        chosen = answer.text in answer.prompt.choices
        text = str(answer_in(answer.text, line.lang)) if chosen else answer.text
        fits = line.sentence.count("□") == 1
        return cls(line, line.sentence.replace("□", text) if fits else f"{line.sentence} {text}")


@register.inclusion_tag("uploads/_work_picture.html")
def work_picture(submission: Submission) -> dict[str, Any]:
    """Show the first piece small; where only answers were typed, a question as it was drawn.

    Reads what `whole()` fetched.
    """
    pieces = list(submission.pieces.all())
    ready = [each for each in pieces if each.state == Piece.State.READY]
    piece = next((each for each in ready if picture_role(each)), None)
    if piece:
        return {"piece": piece, "role": picture_role(piece)}
    if pieces:
        return {"piece": (ready or pieces)[0]}
    return {"written": drawn_answer(submission)}


@register.simple_tag
def written_in(submission: Submission) -> list[Written]:
    """Return the first questions that were answered, each with its answer written into it."""
    return [Written.of(each) for each in list(submission.answers.all())[:ON_A_LEAF]]


def picture_role(piece: Piece) -> str:
    """Name the smallest picture there is of *piece*; "" where it can only be heard."""
    return next((role for role in ("thumb", "poster") if role in piece.files), "")


def drawn_answer(submission: Submission) -> Written | None:
    """Draw the first answered question that has a picture, else the first."""
    all_written = [Written.of(each) for each in submission.answers.all()]
    return next((each for each in all_written if each.line.picture), next(iter(all_written), None))
