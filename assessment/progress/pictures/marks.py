"""How and when goals were shown, as marks told apart by outline and fill alone."""

from functools import lru_cache

from django.utils.safestring import SafeString

from assessment.insight.rows import How

WIDE = 10
SHAPES = {
    How.NOT_YET: '<path d="M2 5h6"/>',
    How.WITH_SUPPORT: '<circle cx="5" cy="5" r="3"/>',
    How.INDEPENDENTLY: '<circle class="full" cx="5" cy="5" r="3.5"/>',
    How.NEW_SITUATION: '<path class="full" d="M5 .8 9.2 5 5 9.2.8 5z"/>',
}


@lru_cache
def drawn(hows: tuple[str, ...]) -> SafeString:
    """Draw *hows* from left to right. Whoever shows them says them in words beside it."""
    marks = "".join(
        f'<g transform="translate({place * WIDE})">{SHAPES[How(how)]}</g>'
        for place, how in enumerate(hows)
    )
    return framed(marks, len(hows))


@lru_cache
def strip(months: tuple[bool, ...]) -> SafeString:
    """Draw a square for each of *months*: filled where it is true, else a short line."""
    shapes = {
        True: '<path class="full" d="M1 1h8v8H1z"/>',
        False: '<path d="M3 9h4"/>',
    }
    marks = "".join(
        f'<g transform="translate({place * WIDE})">{shapes[month]}</g>'
        for place, month in enumerate(months)
    )
    return framed(marks, len(months))


def framed(marks: str, count: int) -> SafeString:
    """Put *marks*, *count* of them, into a drawing that is not read out."""
    across = WIDE * count
    return SafeString(
        f'<svg class="marks" aria-hidden="true" width="{across}" height="{WIDE}" '
        f'viewBox="0 0 {across} {WIDE}">{marks}</svg>'
    )
