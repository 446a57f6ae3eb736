"""What a lead decides for the school: how long things are kept, and whom people turn to."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from portal.data_protection.models import RetentionRule
from portal.data_protection.retention.durations import in_words
from portal.data_protection.retention.purge import rules_of
from portal.people.models import School


class RulesForm(forms.ModelForm):
    """The school's own rules: one number of days a kind, and the names shown to people."""

    class Meta:
        model = School
        fields = ("safeguarding_lead_name", "safeguarding_lead_phone", "privacy_contact")
        labels = {
            "safeguarding_lead_name": _("Designated safeguarding lead"),
            "safeguarding_lead_phone": _("Their telephone"),
            "privacy_contact": _("Whom families ask about their data"),
        }
        help_texts = {
            "privacy_contact": _("For example: the school office, with its telephone number."),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rules = [rule for rule in rules_of(self.instance) if rule.kept.is_chosen]
        for rule in self.rules:
            kept = rule.kept
            self.fields[self.name_of(kept.key)] = forms.IntegerField(
                label=kept.what,
                help_text=_("Days %(from)s. Usual: %(usual)s.")
                % {"from": kept.counted_from, "usual": in_words(kept.length)},
                initial=rule.length.days,
                min_value=kept.least.days,
                max_value=kept.most.days,
            )

    @staticmethod
    def name_of(key: str) -> str:
        """Return the name of the field for the kind *key*."""
        return f"days_{key.replace(' ', '_')}"

    def save(self, commit: bool = True) -> School:
        """Keep the names, and a rule for each kind that is not kept as is usual."""
        school = super().save(commit)
        for rule in self.rules:
            days = self.cleaned_data[self.name_of(rule.kept.key)]
            own = RetentionRule.objects.filter(school=school, kind=rule.kept.key)
            if days == rule.kept.length.days:
                own.delete()
            else:
                RetentionRule.objects.update_or_create(
                    school=school, kind=rule.kept.key, defaults={"days": days}
                )
        return school
