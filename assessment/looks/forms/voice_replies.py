"""The form that a recording comes in."""

from django import forms
from django.http import QueryDict
from django.utils.datastructures import MultiValueDict
from django.utils.translation import gettext_lazy as _

from evidence.uploads.upload_handler import ArrivedFile


class VoiceForm(forms.Form):
    """One recording. Whether it is a voice shows when it is decoded."""

    voice = forms.Field(
        widget=forms.FileInput, error_messages={"required": _("There was no recording in it.")}
    )

    def __init__(self, data: QueryDict, files: MultiValueDict[str, ArrivedFile]) -> None:
        super().__init__(data, files)

    def clean_voice(self) -> ArrivedFile:
        file = self.cleaned_data["voice"]
        if not isinstance(file, ArrivedFile):
            raise forms.ValidationError(self.fields["voice"].error_messages["required"])
        if file.refusal:
            raise forms.ValidationError(file.refusal)
        return file
