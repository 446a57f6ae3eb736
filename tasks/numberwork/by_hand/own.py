"""A question of a teacher's own, as one more `Prompt`: for all that read prompts, nothing else.

It is of no kind: it tells no mistake apart and shows no goal by itself. No language has words for
it, so it is shown everywhere as the teacher wrote it, marked as English.
"""

from __future__ import annotations

import re
import unicodedata
from hashlib import sha256

from tasks.numberwork.by_hand.pictures import picture_of
from tasks.numberwork.pictures import picture_to_json
from tasks.numberwork.prompt import OWN, Answer, Prompt
from tasks.numberwork.words import BOX, ENGLISH

LONGEST = 160  # letters of its sentence
LONGEST_CHOICE = 20
MOST_CHOICES = 4
MOST_ANSWERS = 12
LARGEST = 999
NUMBER, SEVERAL, YES_NO, CHOICES, UNCHECKED = "number", "several", "yes-no", "choices", "unchecked"
_BOX_TYPED = re.compile(rf"_{{2,}}|{BOX}+")
_INVISIBLE = ("Cc", "Cf", "Cs", "Co", "Cn")


class NotAnOwnPromptError(ValueError):
    """What was typed makes no question: which part of it, by name, and why not."""

    def __init__(self, part: str, why: str) -> None:
        super().__init__(why)
        self.part = part


def plain(text: str) -> str:
    """Return *text* as one line of letters that can be seen: no controls, no marks of direction.

    >>> plain("  How many \\u202e socks?\\n")
    'How many socks?'
    """
    one_line = " ".join(text.split())
    seen = "".join(each for each in one_line if unicodedata.category(each) not in _INVISIBLE)
    return " ".join(seen.split())


def own_prompt(
    sentence: str, picture: str = "", numbers: str = "", how: str = UNCHECKED,
    right: str = "", choices: str = "",
) -> Prompt:  # fmt: skip
    """Make a question of what a teacher typed.

    sentence: 1 to 160 letters; two or more underlines are a box. picture: a name in DRAWABLE, or
    "" for none, with its *numbers*. how: one of the ways of answering above; right: what is
    right, several numbers with commas; choices: with commas. Raises NotAnOwnPromptError.
    """
    sentence = _BOX_TYPED.sub(BOX, plain(sentence))
    if not sentence.replace(BOX, "").strip():
        raise NotAnOwnPromptError("sentence", "Type the question first.")
    if len(sentence) > LONGEST:
        raise NotAnOwnPromptError("sentence", f"Use {LONGEST} letters at most.")
    try:
        drawn = picture_of(picture, numbers)
    except ValueError as why:
        raise NotAnOwnPromptError("numbers", str(why)) from None
    answers, offered = _answers(how, plain(right), plain(choices))
    whole = (sentence, drawn and picture_to_json(drawn), how, answers, offered)
    return Prompt(
        kind=OWN,
        sentence=sentence,
        spoken=sentence.replace(BOX, ENGLISH.gap),
        answer=answers[0] if answers else "",
        numbers=(),
        picture=drawn,
        mistakes={},
        form=how,
        answers=answers if len(answers) > 1 else (),
        choices=offered,
        fact=_name(repr(whole)),
    )


def _answers(how: str, right: str, choices: str) -> tuple[tuple[Answer, ...], tuple[str, ...]]:
    """Return every right answer, and what there is to choose from."""
    if how == UNCHECKED:
        return (), ()
    if how in (NUMBER, SEVERAL):
        return _numbers(right, 1 if how == NUMBER else MOST_ANSWERS), ()
    offered = ("yes", "no") if how == YES_NO else _choices(choices)
    chosen = next((each for each in offered if each.casefold() == right.casefold()), None)
    if chosen is None:
        raise NotAnOwnPromptError("right", f"Type which is right: {' or '.join(offered)}.")
    return (chosen,), offered


def _numbers(text: str, most: int) -> tuple[int, ...]:
    typed = [each.strip() for each in re.split(r"[,;]|\bor\b", text) if each.strip()]
    fit = all(re.fullmatch(r"\d{1,3}", each) for each in typed)
    if not typed or not fit or len(typed) > most:
        what = "one number" if most == 1 else f"one to {most} numbers, with commas"
        raise NotAnOwnPromptError("right", f"Type what is right: {what}, 0 to {LARGEST}.")
    return tuple(dict.fromkeys(int(each) for each in typed))


def _choices(text: str) -> tuple[str, ...]:
    typed = [each.strip() for each in re.split(r"[,;]", text) if each.strip()]
    apart = {each.casefold() for each in typed}
    if not 2 <= len(typed) <= MOST_CHOICES or len(apart) < len(typed):
        raise NotAnOwnPromptError(
            "choices", f"Type two to {MOST_CHOICES} different choices, with commas."
        )
    if max(map(len, typed)) > LONGEST_CHOICE:
        raise NotAnOwnPromptError("choices", f"Use {LONGEST_CHOICE} letters at most for a choice.")
    return tuple(typed)


def _name(text: str) -> str:
    """Return a short name for *text*, of letters: digits in a fact are numbers that are asked."""
    digest = sha256(text.encode()).hexdigest()[:16]
    return digest.translate(str.maketrans("0123456789", "ghijklmnop"))
