"""The page on which a teacher edits what families read beside the week's summary."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from assessment.class_access import class_run
from assessment.insight.weeks import Week, summary_due
from assessment.models import WeekSummary
from assessment.weekly.family_words import save_word, words_for
from assessment.weekly.forms import WordForm
from assessment.weekly.summaries import closures_of
from portal.people.models import SchoolClass


@require_http_methods(["GET", "HEAD", "POST"])
def family_words(request: HttpRequest, class_pk: int, week: Week) -> HttpResponse:
    """Show the words to families of a week, and store what was changed."""
    school_class = class_run(request, class_pk)
    words = words_for(school_class, list(school_class.children.all()), week)
    sent = request.POST or None
    rows = [(word, WordForm(sent, prefix=word.prefix, initial=vars(word))) for word in words]
    if request.method == "POST" and all(form.is_valid() for _word, form in rows):
        kept = [
            save_word(school_class, week, request.user, form.seen(word), form.cleaned_data["text"])
            for word, form in rows
            if form.changes(word)
        ]
        if all(kept):
            messages.success(request, _("Your words are saved."))
        else:
            messages.warning(
                request,
                _("Somebody changed a word in the meantime. It is shown here as it is now."),
            )
        return redirect("assessment:family-words", class_pk, week)
    context = {
        "school_class": school_class,
        "week": week,
        "rows": rows,
        "due": due(school_class, week),
        "rolled_up": WeekSummary.objects.filter(
            audience=WeekSummary.Audience.STAFF, school_class=school_class, week=week.monday
        ).first(),
    }
    status = 422 if request.method == "POST" else 200
    return render(request, "weekly/family_words.html", context, status=status)


def due(school_class: SchoolClass, week: Week) -> object:
    """Return when *week* goes out to families; None for one without school."""
    school = school_class.school
    return summary_due(week, school.zone, closures_of(school), school.summary_hour)
