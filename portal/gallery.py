"""Every component in every state on one page, for looking at and for the tests."""

from typing import Any

from django import forms
from django.core.paginator import Paginator
from django.views.generic import TemplateView

from portal.context_processors import Place
from portal.templatetags.components import ICONS, NOTICE, PIECE, STATUS

HOW_SHOWN = (
    ("not_yet", "not yet"),
    ("with_support", "with support"),
    ("independently", "independently"),
    ("new_situation", "in a new situation"),
)


class SampleForm(forms.Form):
    """One field of each sort."""

    words = forms.CharField(label="What did you see?", help_text="A few words are enough.")
    note = forms.CharField(label="A note", widget=forms.Textarea(attrs={"rows": 3}), required=False)
    depth = forms.ChoiceField(label="How much help?", choices=[("none", "none"), ("some", "some")])
    photo = forms.FileField(label="A photo", required=False)
    agreed = forms.BooleanField(label="The class may see it")
    days = forms.MultipleChoiceField(
        label="Days",
        choices=[("mon", "Monday"), ("tue", "Tuesday")],
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )


class Gallery(TemplateView):
    """Show the components; ?at=family shows them on a family's page."""

    template_name = "portal/components.html"

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        """Add invented data for every part."""
        family = self.request.GET.get("at") == "family"
        words = (
            (("Today", "today"), ("Sent", "sent"), ("Week", "week"))
            if family
            else tuple((word, "page") for word in ("Plan", "Look", "Children", "Goals", "Week"))
        )
        return super().get_context_data(
            base="base_family.html" if family else "base_staff.html",
            places=[Place(word, "#title", n == 0, name) for n, (word, name) in enumerate(words)],
            class_switch=[Place("Owls", "#title", True), Place("Wrens", "#title")],
            notices=NOTICE,
            statuses=STATUS,
            pieces=PIECE,
            icons=ICONS,
            how_shown=HOW_SHOWN,
            cautions=CAUTIONS,
            tags=[("Subitising up to 5", "independently"), ("Number bonds to 5", "with support")],
            headings=("Child", "Heard from", "Pieces"),
            rows=(("Bo T.", "Monday", 3), ("Ade K.", "not this week", 0)),
            middle=Paginator(range(30), 10).page(2),
            first=Paginator(range(30), 10).page(1),
            empty_form=SampleForm(prefix="new"),
            wrong_form=SampleForm({"wrong-depth": "none"}, prefix="wrong"),
            **kwargs,
        )


CAUTIONS = (
    ("cut", "Cut only with an adult beside you."),
    ("small-parts", "Small things can choke: keep them away from babies."),
    ("food", "Leave out any food that somebody at home must not eat."),
    ("battery", "Keep button batteries out of reach."),
    ("water", "Stay beside a child who plays with water."),
)
