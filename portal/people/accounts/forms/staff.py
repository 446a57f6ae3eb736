"""What a lead types about staff, and what staff type to set a password."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from portal.people.models import School, SchoolClass, StaffPost, User

TEACHES = (StaffPost.Role.TEACHER, StaffPost.Role.ASSISTANT)


class PostForm(forms.Form):
    """What somebody does at the school, and in which classes."""

    role = forms.ChoiceField(
        label=_("What they do"), choices=StaffPost.Role.choices, widget=forms.RadioSelect
    )
    classes = forms.ModelMultipleChoiceField(
        queryset=SchoolClass.objects.none(),
        label=_("Their classes"),
        help_text=_("For teachers and assistants. Leads see every class; the office sees none."),
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )

    def __init__(self, school: School, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        last = school.years.filter(starts__lte=school.today()).last()
        classes = SchoolClass.objects.filter(year__school=school).select_related("year")
        if last:
            classes = classes.filter(year__ends__gte=min(last.ends, school.today()))
        field: Any = self.fields["classes"]
        field.queryset = classes
        field.label_from_instance = lambda each: f"{each.name} ({each.year})"

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if data.get("role") not in TEACHES:
            data["classes"] = SchoolClass.objects.none()
        return data


class StaffForm(PostForm):
    """Who is to be added."""

    field_order = ["name", "email", "role", "classes"]
    name = forms.CharField(label=_("Name, as the children's families know it"), max_length=80)
    email = forms.EmailField(label=_("E-mail address at the school"))

    def clean_email(self) -> str:
        return User.normalise(self.cleaned_data["email"])
