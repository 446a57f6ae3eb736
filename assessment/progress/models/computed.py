"""What was reckoned from tags and answers, kept so that a year of them is not read on every page.

Nothing here is anybody's word. Each row says what it was reckoned from: where that has changed
the row is made again, and the tables may be emptied at any time. A migration that changes how
mistakes are spotted empties MistakesFound.
"""

from django.db import models
from django.utils.translation import gettext_lazy as _

from evidence.models import Submission
from portal.people.models import Child


class EvidenceWeighed(models.Model):
    """What was gathered on each goal for one child, as of the tags there were.

    `tags` and `newest` are the count and the highest key of the child's tags: keys only grow and
    tags are never rewritten, so the two together tell every change.
    """

    child = models.OneToOneField(Child, on_delete=models.CASCADE, related_name="+")
    tags = models.PositiveIntegerField()
    newest = models.BigIntegerField()
    on = models.DateField(help_text=_("The day on which it was weighed."))
    goals = models.JSONField(default=dict)

    def __str__(self) -> str:
        return f"evidence of child {self.child_id} on {self.on}"


class MistakesFound(models.Model):
    """Which mistakes the answers of one submission could show, and which they suggest.

    `looked_at` is the submission's: until it is looked at, the family may still change it.
    """

    submission = models.OneToOneField(Submission, on_delete=models.CASCADE, related_name="+")
    looked_at = models.DateTimeField()
    tasks = models.JSONField(help_text=_("For each task: kind, could show, found."))

    def __str__(self) -> str:
        return f"mistakes in submission {self.submission_id}"
