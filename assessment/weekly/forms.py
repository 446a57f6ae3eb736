"""What a teacher says to families beside the week's summary."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Self

from django import forms
from django.utils.translation import gettext_lazy as _

from assessment.weekly.family_words import Word


class WordForm(forms.Form):
    """One word, and the version of it that was on screen."""

    # What stood in the box when the page was drawn: a draft that nobody touched is not a word.
    was = forms.CharField(required=False, widget=forms.HiddenInput)
    version = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    text = forms.CharField(
        label=_("Your word"),
        max_length=1000,
        required=False,
        widget=forms.Textarea({"rows": 3, "class": "form-control", "data-word": ""}),
    )

    @classmethod
    def of(cls, word: Word, draft: str, sent: Mapping[str, str] | None) -> Self:
        """Return the form for *word*; while there is none, *draft* stands in its box."""
        shown = word.text if word.version else word.text or draft
        initial = {"version": word.version, "text": shown, "was": shown}
        return cls(sent, prefix=word.prefix, initial=initial)

    @property
    def is_changed(self) -> bool:
        """Whether something else was typed than what stood there."""
        return self.cleaned_data["text"] != self.cleaned_data["was"]

    @property
    def is_draft(self) -> bool:
        """Whether what stands in the box is only drafted."""
        return bool(not self.initial["version"] and self.initial["text"])

    def seen(self, word: Word) -> Word:
        """Return *word* as it was on screen."""
        return replace(word, version=self.cleaned_data["version"])
