"""What was set, said in the language of the page: {% load in_words %}."""

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from tasks.cards.languages import ENGLISH, Said, page_language, phrase_in, said_in
from tasks.models import TaskPrompt
from tasks.numberwork import choice_word

register = template.Library()


@register.filter
def said_here(text: str) -> str | SafeString:
    """Return the name of a kind in the page's language; a teacher's words as they are, marked."""
    here = page_language()
    words, lang = phrase_in(text, here)
    return words if lang == here else marked(words, lang)


@register.filter
def as_written(text: str) -> str | SafeString:
    """Return a teacher's own words; on a page in another language, marked as English."""
    return text if not text or page_language() == ENGLISH else marked(text, ENGLISH)


@register.filter
def sentence_here(row: TaskPrompt) -> SafeString:
    """Write a prompt in the page's language, running the way it runs there."""
    said = said_on_page(row)
    if said.lang != page_language():
        return marked(said.sentence, said.lang)
    return format_html('<bdi dir="{}">{}</bdi>', said.direction, said.sentence)


@register.filter
def answer_here(text: str, row: TaskPrompt) -> str:
    """Return what was answered; one of the choices in the page's language."""
    said = said_on_page(row)
    return choice_word(text, said.lang) if text in row.choices else text


def said_on_page(row: TaskPrompt) -> Said:
    """Say a prompt in the page's language; in English as it was set, without reading it all."""
    if page_language() == ENGLISH:
        return Said(ENGLISH, row.sentence, row.spoken, "", tuple(row.choices))
    return said_in(row.prompt, page_language())


def marked(text: str, lang: str) -> SafeString:
    """Mark words that are in another language than the page."""
    return format_html('<span lang="{}" dir="auto">{}</span>', lang, text)
