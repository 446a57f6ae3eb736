"""What the office types and chooses about homes and invitations."""

from typing import Any

from django import forms
from django.conf import settings
from django.core.exceptions import ValidationError
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from portal.people.models import Child, Guardianship, Home, SchoolClass, User
from portal.translation.languages import ENGLISH, ENGLISH_NAMES

NEW_HOME = "new"
TWO = 2


class LanguageField(forms.ChoiceField):
    """Asks which of the languages families can choose an invitation is written in."""

    def __init__(self, **kwargs: Any) -> None:
        names = [
            (code, f"{ENGLISH_NAMES[code]} ({own_name})" if code in ENGLISH_NAMES else own_name)
            for code, own_name in settings.LANGUAGES
        ]
        usual = {"label": _("In which language"), "initial": ENGLISH}
        super().__init__(**usual | {"choices": names} | kwargs)


class SlipLanguageForm(forms.Form):
    """The language of one slip."""

    language = LanguageField()


class MailInvitationForm(forms.Form):
    """Whom to invite by mail, to which home, in which language."""

    email = forms.EmailField(label=_("E-mail address of the adult"))
    home = forms.ChoiceField(label=_("Where they live"), widget=forms.RadioSelect)
    language = LanguageField()

    def __init__(self, child: Child, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.child = child
        homes = list(Home.objects.of(child))
        known = [(str(home.pk), _("home %(n)s") % {"n": n}) for n, home in enumerate(homes, 1)]
        words = _("another home") if known else _("their home")
        self.fields["home"].choices = [*known, (NEW_HOME, words)]
        self.fields["home"].initial = self.fields["home"].choices[0][0]

    def clean_email(self) -> str:
        email = User.normalise(self.cleaned_data["email"])
        adults = User.objects.proved(email)
        here = Guardianship.objects.current().filter(child=self.child, adult__in=adults)
        if here.exists():
            raise ValidationError(_("They have come in already."))
        return email


class ChildForm(forms.ModelForm):
    """A child's name and class; in no class once they have left."""

    class Meta:
        model = Child
        fields = ("first_name", "initial", "school_class")
        labels = {
            "first_name": _("First name"),
            "initial": _("First letter of the family name"),
            "school_class": _("Class"),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        school = self.instance.school
        year = school.years.filter(ends__gte=school.today())
        classes = SchoolClass.objects.filter(Q(year__in=year) | Q(pk=self.instance.school_class_id))
        self.fields["school_class"].queryset = classes.select_related("year")
        self.fields["school_class"].label_from_instance = lambda each: f"{each} ({each.year})"
        self.fields["school_class"].empty_label = _("in no class: has left")

    def clean_initial(self) -> str:
        return self.cleaned_data["initial"].upper()


class SlipsForm(forms.Form):
    """Which slips to print for a class."""

    WAITING, EVERYBODY = "waiting", "everybody"
    ONE, SEVERAL = "one", "several"
    whom = forms.ChoiceField(
        label=_("For whom"),
        choices=[
            (WAITING, _("children for whom nobody has come in yet")),
            (EVERYBODY, _("every child")),
        ],
        initial=WAITING,
        widget=forms.RadioSelect,
    )
    each = forms.TypedChoiceField(
        label=_("Slips for each child"),
        choices=[(1, _("one")), (2, _("two, for two adults who live together"))],
        coerce=int,
        initial=1,
        widget=forms.RadioSelect,
    )
    layout = forms.ChoiceField(
        label=_("On paper"),
        choices=[(SEVERAL, _("several on a page, to be cut apart")), (ONE, _("a page for each"))],
        initial=SEVERAL,
        widget=forms.RadioSelect,
    )
    language = LanguageField()


class JoinHomesForm(forms.Form):
    """Which two homes of a child are one, and that somebody has made sure."""

    homes = forms.MultipleChoiceField(
        label=_("These two are one"), widget=forms.CheckboxSelectMultiple
    )
    sure = forms.BooleanField(
        label=_("I have asked the adults of both: they live together."),
        help_text=_("Each then sees what the other has sent. This cannot be undone."),
    )

    def __init__(self, child: Child, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.known = {str(home.pk): home for home in Home.objects.of(child)}
        self.fields["homes"].choices = [
            (pk, _("Home %(n)s: %(who)s") % {"n": number, "who": names_in(home)})
            for number, (pk, home) in enumerate(self.known.items(), start=1)
        ]
        if len(self.known) == TWO:
            self.fields["homes"].initial = list(self.known)

    def clean_homes(self) -> list[Home]:
        chosen = [home for pk, home in self.known.items() if pk in self.cleaned_data["homes"]]
        if len(chosen) != TWO:
            raise ValidationError(_("Choose two."))
        return chosen


def names_in(home: Home) -> str:
    """Return the adults of *home*, and the children that live there, by name."""
    adults = User.objects.filter(guardianships__in=home.guardianships.current()).distinct()
    children = ", ".join(str(child) for child in home.children.all())
    names = ", ".join(adult.name for adult in adults.order_by("pk")) or _("nobody has come in")
    return f"{names} ({children})"
