"""Takes in the words of a form whose files were sent ahead of it."""

from collections.abc import Sequence
from functools import partial

from evidence.models import Submission
from evidence.submissions.permissions import Sender
from evidence.uploads import arrivals
from evidence.uploads.arrivals import Arrival, NotSavedError, Words
from evidence.uploads.tus.parts import open_submission
from evidence.uploads.tus.upload import Upload

MOST_TOKENS = 60


def finish(
    sender: Sender,
    words: Words,
    tokens: Sequence[str],
    also: Sequence[Sender] = (),
    adds_to: Submission | None = None,
) -> Arrival:
    """Save *words* beside the pieces that came ahead as uploads, and count those that are saved.

    Raises NotSavedError while one of the uploads is still on its way, and else as `arrivals.add`.
    """
    uploads = Upload.objects.filter(
        token__in=tokens[:MOST_TOKENS], sender=sender.user, child=sender.child
    )
    if any(upload.is_open for upload in uploads):
        raise NotSavedError
    saved = Submission.objects.active().filter(
        child=sender.child, pieces__uploads__in=uploads, pieces__withdrawn_at=None
    )
    count = saved.values("pieces").distinct().count()
    last = saved.order_by("-pk").first()
    if last and words.are_empty:
        return Arrival(last, count)
    first = partial(open_submission, sender, adds_to.pk if adds_to else None)
    others = [partial(open_submission, each) for each in also]
    return Arrival(arrivals.take_in([first, *others], words, []).submission, count)
