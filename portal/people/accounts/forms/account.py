"""What people type about their own account."""

from django import forms
from django.contrib.auth.forms import SetPasswordForm
from django.utils.translation import gettext_lazy as _

from portal.people.models import User


class PasswordForm(SetPasswordForm):  # type: ignore[type-arg] # it takes none when it runs
    """A new password, typed twice."""

    new_password1, new_password2 = SetPasswordForm.create_password_fields(
        _("New password"), _("The new password again")
    )


class NewAddressForm(forms.Form):
    """The address to change to."""

    email = forms.EmailField(
        label=_("Your new e-mail address"),
        help_text=_("We send a code there, to see that it is yours."),
        widget=forms.EmailInput(attrs={"autocomplete": "email"}),
    )

    def clean_email(self) -> str:
        return User.normalise(self.cleaned_data["email"])


class DigitsForm(forms.Form):
    """Six digits from the app on a phone."""

    code = forms.CharField(
        label=_("The 6 digits your app shows"),
        max_length=12,
        widget=forms.TextInput(
            attrs={"inputmode": "numeric", "autocomplete": "one-time-code", "autofocus": True}
        ),
    )


class SecondStepForm(forms.Form):
    """Six digits from the app, or a recovery code."""

    code = forms.CharField(
        label=_("The 6 digits your app shows, or a recovery code"),
        max_length=24,
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "autofocus": True}),
    )
