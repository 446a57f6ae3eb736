"""What people type to come in."""

from typing import Any

from django import forms
from django.contrib.auth import authenticate
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from portal.people.accounts.rate_limits import may_try_password, note_wrong_password
from portal.people.asking import SignedInRequest
from portal.people.models import Invitation, User


class AddressForm(forms.Form):
    """Where to send a one-time code."""

    email = forms.EmailField(
        label=_("Your e-mail address"),
        widget=forms.EmailInput(attrs={"autocomplete": "email", "autofocus": True}),
    )

    def clean_email(self) -> str:
        return User.normalise(self.cleaned_data["email"])


class ForgottenForm(forms.Form):
    """The address of a member of staff who has forgotten the password."""

    email = forms.EmailField(
        label=_("E-mail address"),
        help_text=_("The one you sign in with."),
        widget=forms.EmailInput(attrs={"autocomplete": "username", "autofocus": True}),
    )

    def clean_email(self) -> str:
        return User.normalise(self.cleaned_data["email"])


class CodeForm(forms.Form):
    """The six digits from the mail."""

    code = forms.CharField(
        label=_("The 6 digits from the mail"),
        max_length=12,
        widget=forms.TextInput(
            attrs={"inputmode": "numeric", "autocomplete": "one-time-code", "autofocus": True}
        ),
    )


class StaffSignInForm(forms.Form):
    """Address and password of a member of staff."""

    email = forms.EmailField(
        label=_("E-mail address"),
        widget=forms.EmailInput(attrs={"autocomplete": "username", "autofocus": True}),
    )
    password = forms.CharField(
        label=_("Password"),
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )

    def __init__(self, request: HttpRequest, *args: Any, **kwargs: Any) -> None:
        self.request = request
        self.user: User | None = None
        self.too_often = False
        super().__init__(*args, **kwargs)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if "email" in data and "password" in data:
            if not may_try_password(self.request, data["email"]):
                self.too_often = True
                return data
            self.user = authenticate(
                self.request, username=data["email"], password=data["password"]
            )
            if self.user is None:
                note_wrong_password(self.request, data["email"])
                raise forms.ValidationError(
                    _("That address and password do not match. Type both again.")
                )
        return data


class LinkForm(forms.Form):
    """What stands behind the # of the link in the mail; a script moves it here."""

    link = forms.CharField(max_length=64, widget=forms.HiddenInput, required=False)


class PasswordAgainForm(forms.Form):
    """The password of who is signed in, typed once more."""

    password = forms.CharField(
        label=_("Your password"),
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password", "autofocus": True}),
    )

    def __init__(self, request: SignedInRequest, *args: Any, **kwargs: Any) -> None:
        self.request = request
        super().__init__(*args, **kwargs)

    def clean_password(self) -> str:
        password = str(self.cleaned_data["password"])
        user = authenticate(self.request, username=self.request.user.email, password=password)
        if user != self.request.user:
            raise forms.ValidationError(_("That is not your password."))
        return password


class SlipForm(forms.Form):
    """The words on a printed invitation, and who holds it."""

    slip = forms.CharField(
        label=_("The 16 letters on your slip"),
        max_length=40,
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "characters"}),
    )
    name = forms.CharField(
        label=_("Your name"), max_length=80, widget=forms.TextInput(attrs={"autocomplete": "name"})
    )
    email = forms.EmailField(
        label=_("Your e-mail address"),
        help_text=_("So that you can come back on any phone. You can leave it empty."),
        widget=forms.EmailInput(attrs={"autocomplete": "email"}),
        required=False,
    )

    def clean_email(self) -> str:
        return User.normalise(self.cleaned_data["email"])

    def clean_slip(self) -> Invitation:
        invitation = Invitation.find(self.cleaned_data["slip"])
        if invitation is None:
            raise forms.ValidationError(
                _("This slip does not work. Check the letters, or ask school for a new one.")
            )
        return invitation
