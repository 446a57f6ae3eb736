"""What a person's saved phrases are written in."""

from django import forms
from django.utils.translation import gettext_lazy as _

from assessment.looks.models.phrases import LONGEST
from assessment.models import SavedPhrase
from portal.people.models import User


class PhraseForm(forms.Form):
    """One phrase of one person, who has no other like it."""

    text = forms.CharField(
        label=_("Phrase"),
        max_length=LONGEST,
        widget=forms.Textarea(attrs={"rows": 2, "class": "form-control"}),
        help_text=_(
            "Write {child} for the child's first name, {task} for the work, "
            "{done} for what was found."
        ),
    )

    def __init__(
        self, *args: object, user: User, phrase: SavedPhrase | None = None, **more: object
    ) -> None:
        """Make the form; *phrase*: the one that is changed, none for a new one."""
        super().__init__(*args, **more)
        self.user, self.phrase = user, phrase

    def clean_text(self) -> str:
        text = " ".join(self.cleaned_data["text"].split())
        own = SavedPhrase.objects.of(self.user).filter(text=text)
        if own.exclude(pk=self.phrase.pk if self.phrase else None).exists():
            raise forms.ValidationError(_("You have saved this phrase already."))
        return text


class MoveForm(forms.Form):
    """Which way a phrase moves."""

    by = forms.TypedChoiceField(choices=[(-1, "up"), (1, "down")], coerce=int)
