"""What a mark for the lead is written in."""

from django import forms
from django.utils.translation import gettext_lazy as _


class MarkForm(forms.Form):
    """Why a piece is marked, in a few words or none."""

    words = forms.CharField(
        label=_("Why, in a few words"),
        max_length=200,
        required=False,
        widget=forms.TextInput(attrs={"class": "form-control", "autocomplete": "off"}),
        help_text=_("Families never see it."),
    )
