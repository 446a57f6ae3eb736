"""What a teacher says to families beside the week's summary."""

from dataclasses import replace

from django import forms
from django.utils.translation import gettext_lazy as _

from assessment.weekly.family_words import Word


class WordForm(forms.Form):
    """One word, and the version of it that was on screen."""

    version = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    text = forms.CharField(
        label=_("Your word"),
        max_length=1000,
        required=False,
        widget=forms.Textarea({"rows": 2, "class": "form-control"}),
    )

    def changes(self, word: Word) -> bool:
        """Whether something else was typed than what stands there now."""
        return self.cleaned_data["text"] != word.text

    def seen(self, word: Word) -> Word:
        """Return *word* as it was on screen."""
        return replace(word, version=self.cleaned_data["version"])
