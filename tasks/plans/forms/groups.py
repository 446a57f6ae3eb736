"""What a teacher fills in about a group of children."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from portal.people.models import Child, Group, SchoolClass


class ChildrenField(forms.ModelMultipleChoiceField):
    """Children to tick; of one who is in another group it says in which."""

    widget = forms.CheckboxSelectMultiple
    elsewhere: dict[int, Group] = {}

    def label_from_instance(self, child: Child) -> str:
        """Name the child, and the group the child would leave."""
        group = self.elsewhere.get(child.pk)
        return (
            _("%(child)s, now in %(group)s") % {"child": child, "group": group}
            if group
            else str(child)
        )


class GroupForm(forms.ModelForm):
    """A group: its name, its depth, and its children, each in one group of the class only."""

    children = ChildrenField(
        label=gettext_lazy("Children"),
        queryset=Child.objects.none(),
        required=False,
        help_text=gettext_lazy(
            "Each child is in one group at most: ticked here, a child leaves another group."
        ),
    )

    class Meta:
        model = Group
        fields = ("name", "depth", "children")
        labels = {"depth": gettext_lazy("How hard")}

    def __init__(self, *args: Any, school_class: SchoolClass, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.school_class = school_class
        others = school_class.groups.exclude(pk=self.instance.pk).prefetch_related("children")
        field = self.fields["children"]
        field.queryset = school_class.children.all()
        field.elsewhere = {child.pk: group for group in others for child in group.children.all()}

    def clean_name(self) -> str:
        """Check that no other group of the class has the name."""
        name = self.cleaned_data["name"]
        others = self.instance.school_class.groups.exclude(pk=self.instance.pk)
        if others.filter(name__iexact=name).exists():
            raise forms.ValidationError(_("There is a group of that name. Choose another name."))
        return name

    def leaving(self) -> list[tuple[Child, Group]]:
        """Return the ticked children who are in another group of the class, with that group."""
        elsewhere = self.fields["children"].elsewhere
        return [
            (child, elsewhere[child.pk])
            for child in self.cleaned_data["children"]
            if child.pk in elsewhere
        ]
