"""What a lead looks for among the things done and seen."""

from django import forms
from django.apps import apps
from django.db import models
from django.utils.translation import gettext_lazy as _

from portal.people.models import Event, School, User


class LogForm(forms.Form):
    """Narrows the list down; everything is optional."""

    what = forms.ChoiceField(
        label=_("What"), choices=[("", _("everything")), *Event.What.choices], required=False
    )
    who = forms.ModelChoiceField(
        label=_("Who"),
        queryset=User.objects.none(),
        required=False,
        empty_label=_("everybody"),
    )
    kind = forms.ChoiceField(label=_("About what kind of thing"), required=False)
    number = forms.IntegerField(label=_("Its number"), min_value=1, required=False)
    first = forms.DateField(
        label=_("From"), required=False, widget=forms.DateInput(attrs={"type": "date"})
    )
    last = forms.DateField(
        label=_("Until"), required=False, widget=forms.DateInput(attrs={"type": "date"})
    )

    def __init__(self, school: School, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["who"].queryset = (
            User.objects.filter(posts__school=school).distinct().order_by("name")
        )
        kinds = Event.objects.filter(school=school).exclude(kind="").order_by("kind")
        found = kinds.values_list("kind", flat=True).distinct()
        self.fields["kind"].choices = [
            ("", _("anything")),
            *((kind, kind_in_words(kind)) for kind in found),
        ]

    def narrow(self, events: models.QuerySet[Event]) -> models.QuerySet[Event]:
        """Return those of *events* that are asked for; days are the school's own."""
        self.is_valid()
        asked = getattr(self, "cleaned_data", {})
        wanted = {
            "what": asked.get("what"),
            "who": asked.get("who") and asked["who"].pk,
            "kind": asked.get("kind"),
            "object_id": asked.get("number"),
            "at__date__gte": asked.get("first"),
            "at__date__lte": asked.get("last"),
        }
        return events.filter(**{key: value for key, value in wanted.items() if value})


def kind_in_words(kind: str) -> str:
    """Say what kind of thing an event is about: "people.schoolclass" is a school class.

    What was refused is the name of a page, and stays as it is.
    """
    app, _dot, model = kind.partition(".")
    try:
        return str(apps.get_model(app, model)._meta.verbose_name)
    except LookupError:
        return kind
