"""What staff choose to see of what came in."""

from collections.abc import Iterable, Mapping

from django import forms
from django.utils.translation import gettext_lazy as _

from evidence.models import Submission
from portal.people.models import Child


class QueueForm(forms.Form):
    """Which of a class's submissions to list."""

    WAITING, LOOKED_AT, ALL = "waiting", "looked-at", "all"

    show = forms.ChoiceField(
        label=_("Show"),
        choices=[(WAITING, _("waiting")), (LOOKED_AT, _("looked at")), (ALL, _("all"))],
        required=False,
        widget=forms.Select(attrs={"class": "form-select"}),
    )
    child = forms.ModelChoiceField(
        label=_("Child"),
        queryset=Child.objects.none(),
        required=False,
        empty_label=_("all children"),
        widget=forms.Select(attrs={"class": "form-select"}),
    )
    help = forms.ChoiceField(
        label=_("Help given"),
        choices=[("", _("any")), *Submission.Help.choices],
        required=False,
        widget=forms.Select(attrs={"class": "form-select"}),
    )

    def __init__(self, query: Mapping[str, str], children: Iterable[Child]) -> None:
        """Read *query*; *children*: those of the class, as a queryset."""
        super().__init__({"show": self.WAITING, **query})
        self.fields["child"].queryset = children
        self.is_valid()

    @property
    def wanted(self) -> dict[str, object]:
        """Give what was asked for, leaving out what makes no sense."""
        return {name: self.cleaned_data.get(name) for name in self.fields}

    @property
    def waits_only(self) -> bool:
        """Whether only what waits is listed."""
        return self.wanted["show"] not in (self.LOOKED_AT, self.ALL)

    @property
    def is_narrowed(self) -> bool:
        """Whether one child or one sort of help was asked for."""
        return bool(self.wanted["child"] or self.wanted["help"])
