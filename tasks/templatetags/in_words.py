"""What was set, said in the language of the page: {% load in_words %}."""

from django import template
from django.utils.html import format_html

from tasks.cards.languages import (
    ENGLISH,
    Said,
    marked,
    marked_in,
    page_language,
    said_in,
    unlike_page,
)
from tasks.models import TaskPrompt
from tasks.numberwork import choice_word

register = template.Library()


@register.filter
def said_here(text: str) -> str:
    """Return the name of a kind in the page's language; a teacher's words as they are, marked."""
    return marked_in(text, page_language())


@register.filter
def as_written(text: str) -> str:
    """Return a teacher's own words; on a page in another language, marked as English."""
    return marked(text, ENGLISH) if text else text


@register.filter
def sentence_here(row: TaskPrompt) -> str:
    """Write a prompt in the page's language, running the way it runs there."""
    said = said_on_page(row)
    if unlike_page(said.lang):
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
