"""Which child a piece is put to."""

from collections.abc import Sequence

from django import forms
from django.utils.translation import gettext_lazy as _

from assessment.looks.another_child.places import Place


class PlaceForm(forms.Form):
    """The other child, and whether the piece stays with the first one as well."""

    to = forms.ChoiceField(
        label=_("Child"), error_messages={"required": _("Choose a child of the class.")}
    )
    also = forms.BooleanField(required=False)

    def __init__(self, places: Sequence[Place], *given: object, **more: object) -> None:
        super().__init__(*given, **more)
        self.places = {place.value: place for place in places}
        self.fields["to"].choices = [(place.value, place.label) for place in places]
        self.fields["to"].error_messages["invalid_choice"] = _(
            "This child is not one of the class any more. Choose another."
        )

    @property
    def place(self) -> Place:
        """Return what a valid form chose."""
        return self.places[self.cleaned_data["to"]]
