"""All the words of one language that number work needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from tasks.numberwork.words.plurals import category


@dataclass(frozen=True, slots=True)
class Table:
    """The words of one language.

    written, spoken: "kind/form" to a template. alts: a picture's key to a template of its text
    alternative. phrases: an English phrase of a card to the same in this language; None for
    English itself. count, plural: how nouns are counted and named in the plural.
    gap: how a box among things is said. articles, same_meaning: what an answer may be typed as.
    comma, conjunction: what stands between listed words, and before the last of them.
    quotes: the marks before and after what is said aloud (Unicode CLDR, delimiters; from memory).
    number_words: numbers said otherwise than num2words says them.
    checked_by: who has read it whose first language it is; empty for nobody yet.
    """

    language: str
    written: Mapping[str, str]
    spoken: Mapping[str, str]
    alts: Mapping[str, str]
    count: Callable[[int, str, str], str]
    plural: Callable[[str, str], str]
    phrases: Mapping[str, str] | None = None
    gap: str = ""
    articles: tuple[str, ...] = ()
    same_meaning: Mapping[str, str] = field(default_factory=dict)
    comma: str = ", "
    conjunction: str = " and "
    quotes: str = "“”"
    right_to_left: bool = False
    number_words: Mapping[int, str] = field(default_factory=dict)
    checked_by: str = ""

    def phrase(self, text: str) -> str:
        """Return the English phrase *text* in this language. Raises KeyError where it lacks it."""
        if self.phrases is None:
            return text
        if found := self.phrases.get(text):
            return found
        raise KeyError(f"{self.language} has no words for {text!r}")

    def quoted(self, text: str) -> str:
        """Mark *text* as said aloud."""
        return f"{self.quotes[0]}{text}{self.quotes[1]}"

    def listed(self, words: list[str]) -> str:
        """Join *words* as a sentence of this language does."""
        if len(words) < 2:
            return "".join(words)
        return f"{self.comma.join(words[:-1])}{self.conjunction}{words[-1]}"


@dataclass(frozen=True, slots=True)
class Nouns:
    """Nouns as tables of forms, by plural category.

    forms: {"spoon": {"one": "{n} łyżka", "few": "{n} łyżki", "many": "{n} łyżek",
    "plural": "łyżki", "gender": "f"}}. A form may be for one number alone ("=2"); {n} is the
    number as it is said or written. gendered: {"f": {2: "dwie"}}: numbers that are said
    otherwise beside a noun of that gender. A verb is a noun whose forms have no {n}.
    """

    language: str
    forms: Mapping[str, Mapping[str, str]]
    gendered: Mapping[str, Mapping[int, str]]

    def count(self, number: int, said: str, noun: str) -> str:
        """Count things: *said* is the number in words or numerals. Raises KeyError."""
        forms = self.forms[noun]
        if not said.isdecimal():
            said = self.gendered.get(forms.get("gender", ""), {}).get(number, said)
        form = forms.get(f"={number}") or forms[category(self.language, number)]
        return form.format(n=said)

    def plural(self, noun: str, case: str = "") -> str:
        """Name several of a thing, without a number. Raises KeyError."""
        return self.forms[noun][f"plural {case}".strip()]
