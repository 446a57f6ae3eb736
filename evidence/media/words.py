"""What a family is told when a file is refused: the reason, and what to do about it."""

from evidence.media.outcome import RefusalReason


def gettext_noop(words: str) -> str:
    """Mark *words* for translation and give them back unchanged."""
    return words


WORDS = {
    RefusalReason.EMPTY: gettext_noop("This file is empty. Please send it again."),
    RefusalReason.UNKNOWN_KIND: gettext_noop(
        "We cannot open this kind of file. Send a photo, a video, a voice recording or a PDF."
    ),
    RefusalReason.UNREADABLE: gettext_noop(
        "We could not open this file. Take the photo or clip again, then send the new one."
    ),
    RefusalReason.CUT_SHORT: gettext_noop(
        "Part of this file is missing. Look at it on your phone. If it is all there, send it again."
    ),
    RefusalReason.LOCKED: gettext_noop(
        "This PDF has a password. Send one without a password, or a photo of the page."
    ),
    RefusalReason.TOO_BIG: gettext_noop(
        "This file is too big. Send a shorter clip or a smaller photo."
    ),
    RefusalReason.TOO_MANY_PIXELS: gettext_noop(
        "This picture is too large for us to open. Choose a smaller size in your camera settings."
    ),
    RefusalReason.TOO_NARROW: gettext_noop(
        "This picture is too long and thin to show. Send it in two or more parts."
    ),
    RefusalReason.TOO_LONG: gettext_noop(
        "This clip is longer than 3 minutes. Send a shorter piece, or two."
    ),
    RefusalReason.TOO_MANY_PAGES: gettext_noop(
        "This PDF has more than 10 pages. Send only the pages your child worked on."
    ),
    RefusalReason.TOOK_TOO_LONG: gettext_noop(
        "This file took too long to open. Send a shorter clip, or a photo."
    ),
    RefusalReason.TOO_MUCH_MEMORY: gettext_noop(
        "This file is too large for us to open. Send a shorter clip or a smaller photo."
    ),
}


def refusal_words(reason: RefusalReason) -> str:
    """Give the plain English for *reason*: one or two sentences, and the id of their translation.

    The numbers in them are those of LIMITS (held by a test).
    """
    return WORDS[reason]
