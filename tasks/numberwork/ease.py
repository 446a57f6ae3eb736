"""What is easier: the order in which the prompts of a part are asked."""

from __future__ import annotations

from tasks.numberwork.kinds import kind_kept
from tasks.numberwork.prompt import Prompt

SIGNS = set("+−×÷<>")


def ease(prompt: Prompt) -> tuple[bool, int, int]:
    """Return where *prompt* stands from easy to hard among prompts of its kind: sort by it.

    Things, pictures and words come before what is written with a sign; then smaller numbers
    before larger ones, the answer's included; then the forms in the order in which the kind lists
    them, the usual one first (common practice, no source).

    >>> from tasks.numberwork.making import make_prompts
    >>> [each.sentence for each in make_prompts("one-more", 20, 4, 2)]
    ['one more than 5 is □', '13 + 1 = □', '14 + 1 = □', '19 + 1 = □']
    """
    answer = prompt.answer if isinstance(prompt.answer, int) else 0
    forms = list(kind_kept(prompt.kind).forms)
    place = forms.index(prompt.form) if prompt.form in forms else len(forms)
    return bool(SIGNS & set(prompt.sentence)), max((answer, *prompt.numbers)), place


def with_nothing(prompt: Prompt) -> bool:
    """Tell whether *prompt* is a sum with nought in it: it comes last, as it is odd to begin with.

    3 − 3, 0 + 5 (common practice, no source).
    """
    return bool(SIGNS & set(prompt.sentence)) and 0 in (prompt.answer, *prompt.numbers)
