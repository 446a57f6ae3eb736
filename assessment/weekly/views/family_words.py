"""The page on which a teacher edits what families read beside the week's summary."""

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from assessment.class_access import class_run
from assessment.insight.weeks import Week, summary_due
from assessment.models import WeekSummary
from assessment.weekly.child_drafts import ChildFacts, facts_of
from assessment.weekly.family_words import Word, save_word, words_for
from assessment.weekly.forms import WordForm
from assessment.weekly.summaries import closures_of
from portal.people.models import SchoolClass


@require_http_methods(["GET", "HEAD", "POST"])
def family_words(request: HttpRequest, class_pk: int, week: Week) -> HttpResponse:
    """Show the words to families of a week, and store what was changed, or the one box that is."""
    school_class = class_run(request, class_pk)
    words = words_for(school_class, list(school_class.children.all()), week)
    if request.method == "POST" and "box" in request.POST:
        return keep_one(request, school_class, week, words)
    facts = facts_of(school_class, request.user, week)
    sent = request.POST or None
    rows = [row_of(word, facts, sent) for word in words]
    if request.method == "POST" and all(row["form"].is_valid() for row in rows):
        return keep_all(request, school_class, week, rows)
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


def row_of(
    word: Word, facts: Mapping[int, ChildFacts], sent: Mapping[str, str] | None
) -> dict[str, Any]:
    """Return one box with what stands beside it."""
    own = facts.get(word.child.pk) if word.child else None
    form = WordForm.of(word, own.draft if own else "", sent)
    return {"word": word, "form": form, "facts": own, "version": word.version}


def keep_all(
    request: HttpRequest, school_class: SchoolClass, week: Week, rows: list[dict[str, Any]]
) -> HttpResponse:
    """Store every box that was changed, and the one whose button was pressed."""
    pressed = request.POST.get("keep")
    kept = [
        save_word(school_class, week, request.user, form.seen(word), form.cleaned_data["text"])
        for word, form in ((row["word"], row["form"]) for row in rows)
        if form.is_changed or word.prefix == pressed
    ]
    if all(kept):
        messages.success(request, _("Your words are saved."))
    else:
        words = _("Somebody changed a word in the meantime. It is shown here as it is now.")
        messages.warning(request, words)
    page = reverse("assessment:family-words", args=[school_class.pk, week])
    names = [row["word"].prefix for row in rows]
    after = names[names.index(pressed) + 1 :] if pressed in names else []
    return redirect(f"{page}#box-{after[0]}" if after else page)


def keep_one(
    request: HttpRequest, school_class: SchoolClass, week: Week, words: list[Word]
) -> HttpResponse:
    """Store one box as it is left, and answer with the line below it: kept, with a way to undo."""
    word = next((each for each in words if each.prefix == request.POST["box"]), None)
    if word is None:
        raise Http404
    form = WordForm.of(word, "", request.POST)
    if not form.is_valid():
        return render(request, "weekly/_word_state.html", {"wrong": form}, status=422)
    text = form.cleaned_data["text"]
    kept = save_word(school_class, week, request.user, form.seen(word), text)
    now = words_for(school_class, [word.child] if word.child else [], week)[-1]
    context = {
        "word": now,
        "version": now.version,
        "kept": kept,
        "undone": "undone" in request.POST,
        "before": word.text,
    }
    return render(request, "weekly/_word_state.html", context, status=200 if kept else 409)


def due(school_class: SchoolClass, week: Week) -> object:
    """Return when *week* goes out to families; None for one without school."""
    school = school_class.school
    return summary_due(week, school.zone, closures_of(school), school.summary_hour)
