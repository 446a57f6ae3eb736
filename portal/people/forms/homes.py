"""What the office types and chooses about homes and invitations."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from portal.people.models import Child, Guardianship, Home, User

NEW_HOME = "new"


class MailInvitationForm(forms.Form):
    """Whom to invite by mail, and to which home."""

    email = forms.EmailField(label=_("E-mail address of the adult"))
    home = forms.ChoiceField(label=_("Where they live"), widget=forms.RadioSelect)

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
        here = Guardianship.objects.current().filter(child=self.child, adult__email=email)
        if here.exists():
            raise ValidationError(_("They have come in already."))
        return email


class SlipsForm(forms.Form):
    """Which slips to print for a class."""

    WAITING, EVERYBODY = "waiting", "everybody"
    ONE, SEVERAL = "one", "several"
    whom = forms.ChoiceField(
        label=_("For whom"),
        choices=[
            (WAITING, _("children with whom nobody has come in yet")),
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
