"""One reply to many pieces at once: each with its own name in it, and each by itself."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from assessment.looks.looking import (
    LookData,
    LookedMeanwhileError,
    WithdrawnError,
    save_look,
    undo_look,
)
from assessment.looks.marking import done_in, kinds_by_weight, marked_tasks
from assessment.looks.ready_made import filled
from evidence.models import Submission, SubmissionQuerySet
from portal.people.models import User


@dataclass
class BatchReply:
    """What became of one action on many pieces: done, or not as somebody was at them meanwhile.

    done: with the version of the look that came of it.
    """

    done: list[tuple[Submission, int]] = field(default_factory=list)
    meanwhile: list[Submission] = field(default_factory=list)
    gone: int = 0


def reply_to_batch(
    rows: SubmissionQuerySet, user: User, saying: LookData, versions: Mapping[str, int]
) -> BatchReply:
    """Save *saying* for each submission of *rows* that *versions* names by its token.

    versions: of each look as it was on screen, 0 for none. A piece that somebody changed or took
    back since is left as it is; the others are saved all the same.
    """
    outcome = BatchReply()
    related = rows.filter(token__in=versions).select_related("child").prefetch_related("answers")
    found = list(related.order_by("sent_at", "pk"))
    outcome.gone = len(versions) - len(found)
    for submission in found:
        tasks = marked_tasks(submission)
        words = filled(saying.reply, submission.child, kinds_by_weight(tasks), done_in(tasks))
        own = replace(saying, reply=words)
        try:
            look = save_look(submission, user, own, versions[submission.token])
        except LookedMeanwhileError:
            outcome.meanwhile.append(submission)
        except WithdrawnError:
            outcome.gone += 1
        else:
            outcome.done.append((submission, look.version))
    return outcome


def undo_batch(rows: SubmissionQuerySet, versions: Mapping[str, int]) -> BatchReply:
    """Undo the last save of each submission of *rows* of *versions* that is unchanged since."""
    outcome = BatchReply()
    for submission in rows.filter(token__in=versions).select_related("child"):
        try:
            undo_look(submission, versions[submission.token])
        except LookedMeanwhileError:
            outcome.meanwhile.append(submission)
        except WithdrawnError:
            outcome.gone += 1
        else:
            outcome.done.append((submission, 0))
    return outcome
