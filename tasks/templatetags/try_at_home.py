"""What right looks like, on a family's card: {% load try_at_home %}."""

from dataclasses import dataclass

from django import template
from django.utils.safestring import SafeString

from tasks.cards.glossary import words_for
from tasks.cards.languages import ENGLISH, has_words, phrase_in
from tasks.cards.ready import unlike_page
from tasks.numberwork import describe
from tasks.numberwork.try_at_home import Try, tries_of

register = template.Library()


@dataclass(frozen=True)
class Shown:
    """One try as a family sees it. lang: of its words, where that is not the page's."""

    picture: SafeString
    words: str
    lang: str

    @classmethod
    def of(cls, each: Try, language: str) -> "Shown":
        """Draw *each*, and say it in *language* if that has the words."""
        words, lang = phrase_in(each.words, language)
        alt = describe(each.picture, language if has_words(language) else ENGLISH)
        # The picture is drawn by our own code, which escapes the words in it.
        return cls(SafeString(each.picture.svg(alt)), words, unlike_page(lang))


@register.inclusion_tag("cards/_try_at_home.html")
def right_looks_like(kind: str, language: str = ENGLISH) -> dict[str, object]:
    """Show a good try and a common slip at *kind*, and how to help; nothing for one not known."""
    tries = tries_of(kind)
    if tries is None:
        return {}
    help_words, lang = phrase_in(tries.help, language)
    return {
        "words": words_for(kind),
        "good": Shown.of(tries.good, language),
        "slip": Shown.of(tries.slip, language),
        "help": help_words,
        "help_lang": unlike_page(lang),
    }
