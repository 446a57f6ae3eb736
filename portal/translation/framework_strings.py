"""What the framework says on family pages of its own accord; it has the names of days itself."""

from django.utils.translation import gettext_noop

FORMS = (
    gettext_noop("This field is required."),
    gettext_noop("Enter a valid email address."),
    gettext_noop("Enter a valid value."),
    gettext_noop("No file was submitted. Check the encoding type on the form."),
    gettext_noop("The submitted file is empty."),
)
