"""What a teacher fills in when planning. Errors say what to do."""

from tasks.forms.groups import GroupForm
from tasks.forms.planning import (
    MORNING,
    ChoiceForm,
    DayForm,
    KindForm,
    KindSelect,
    PartForm,
    SetForm,
    WordingForm,
)
from tasks.forms.sequences import FirstDayForm, SequenceForm, SetAllForm, SwapForm

__all__ = [
    "MORNING",
    "ChoiceForm",
    "DayForm",
    "FirstDayForm",
    "GroupForm",
    "KindForm",
    "KindSelect",
    "PartForm",
    "SequenceForm",
    "SetAllForm",
    "SetForm",
    "SwapForm",
    "WordingForm",
]
