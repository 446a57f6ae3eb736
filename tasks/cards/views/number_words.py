"""The number words with pictures, for families; staff may read them too."""

from typing import NamedTuple

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.functional import Promise
from django.utils.safestring import SafeString
from django.utils.translation import get_language
from django.views.decorators.http import require_safe

from tasks.cards.glossary import GLOSSARY, NumberWord
from tasks.cards.languages import ENGLISH, base_of, has_words
from tasks.numberwork import describe
from tasks.numberwork.words import LANGUAGES, from_left_to_right


class ShownWord(NamedTuple):
    """One word as it stands on the page."""

    key: str
    word: str | Promise
    sentence: str
    picture: SafeString

    @property
    def aloud(self) -> str:
        """Return what is said: the word, then its sentence."""
        return f"{self.word}. {self.sentence}"


@require_safe
def number_words(request: HttpRequest) -> HttpResponse:
    """Show every number word by the alphabet of the reader's language."""
    language = base_of(get_language() or ENGLISH)
    told = language if has_words(language) else ENGLISH
    words = sorted(
        (shown(each, told) for each in GLOSSARY), key=lambda one: str(one.word).casefold()
    )
    return render(request, "cards/number_words.html", {"words": words})


def shown(each: NumberWord, language: str) -> ShownWord:
    """Draw the picture of a word, and tell it in *language*."""
    # The picture is drawn by our own code, which escapes the words in it.
    drawn = SafeString(each.picture.svg(describe(each.picture, language)))
    sentence = str(each.sentence)
    if LANGUAGES[language].right_to_left:
        sentence = from_left_to_right(sentence)
    return ShownWord(each.key, each.word, sentence, drawn)
