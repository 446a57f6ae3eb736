"""What staff choose and write about children they have not heard from."""

from collections.abc import Mapping

from django import forms
from django.utils.translation import gettext_lazy as _

DAYS = 5
CHOICES = (2, 3, 5, 10, 15, 20)


class DaysForm(forms.Form):
    """On how many of the days that were set nothing came."""

    days = forms.TypedChoiceField(
        label=_("Days set without a piece of work"),
        choices=[(number, str(number)) for number in CHOICES],
        coerce=int,
        widget=forms.Select(attrs={"class": "form-select"}),
    )

    def __init__(self, query: Mapping[str, str]) -> None:
        """Read *query*; what makes no sense in it counts as the usual number."""
        super().__init__({"days": DAYS, **query})
        if not self.is_valid():
            super().__init__({"days": DAYS})
            self.is_valid()

    @property
    def chosen(self) -> int:
        """Return the number of days."""
        return self.cleaned_data["days"]


class CallForm(forms.Form):
    """What came of a call."""

    words = forms.CharField(
        label=_("What came of it"),
        max_length=200,
        error_messages={"required": _("Write in a few words what came of the call.")},
    )
