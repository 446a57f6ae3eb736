"""What a lead types about one child's data."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from portal.people.models import Child, Home, Purpose


class PaperForm(forms.Form):
    """An answer that a home gave on paper."""

    home = forms.ModelChoiceField(
        queryset=Home.objects.none(), label=_("Which home"), empty_label=None
    )
    purpose = forms.ChoiceField(label=_("For what"))
    given = forms.TypedChoiceField(
        label=_("What they said"),
        choices=[("no", _("no")), ("yes", _("yes"))],
        coerce=lambda answer: answer == "yes",
        widget=forms.RadioSelect,
    )

    def __init__(self, child: Child, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        homes = list(Home.objects.of(child))
        numbers = {home.pk: number for number, home in enumerate(homes, start=1)}
        self.fields["home"].queryset = Home.objects.of(child)
        self.fields["home"].label_from_instance = lambda home: (
            _("Home %(n)d") % {"n": numbers[home.pk]}
        )
        self.fields["purpose"].choices = [(each.value, each.label) for each in Purpose.asked()]


class EraseForm(forms.Form):
    """The name of the child, typed, so that nobody is erased by a slip."""

    name = forms.CharField(label=_("Type the child's name as shown above"), max_length=60)

    def __init__(self, child: Child, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.child = child

    def clean_name(self) -> str:
        typed = " ".join(self.cleaned_data["name"].split())
        if typed.casefold() != str(self.child).casefold():
            raise ValidationError(_("That is not the name above. Nothing was erased."))
        return typed
