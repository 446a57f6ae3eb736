"""Parts of the pages of seeing: {% load progress %}."""

from django import template
from django.urls import reverse
from django.utils.safestring import SafeString
from django.utils.translation import gettext_lazy as _

from assessment.charts import mark
from assessment.insight.taking_part import Part, drawn_as
from assessment.progress.pictures.marks import drawn
from assessment.progress.wording import HOW
from portal.people.models import SchoolClass, StaffPost

register = template.Library()

PLACES = (
    ("goals", _("All goals")),
    ("gaps", _("Gaps")),
    ("next-groups", _("Groups for next week")),
    ("taking-part", _("Taking part")),
    ("judgements", _("Judgements")),
    ("class-goals", _("Which goals")),
)
FOR_JUDGES = ("judgements", "class-goals")
BANDS = {
    "poor": _("poor"),
    "slight": _("slight"),
    "fair": _("fair"),
    "moderate": _("moderate"),
    "substantial": _("substantial"),
    "almost perfect": _("almost perfect"),
}
NO_KAPPA = {
    "no work was looked at by both": _("no work was looked at by both"),
    "both used one word only, so chance agreement is already complete": _(
        "both used one word only, so chance agreement is already complete"
    ),
}
PARTS = {
    Part.SENT: _("sent"),
    Part.COULD_NOT: _("could not"),
    Part.ON_PAPER: _("on paper"),
    Part.NOT_IN: _("not come in yet"),
    Part.SILENT: _("silence"),
    Part.OPEN: _("day not over"),
}
JUDGES = (StaffPost.Role.TEACHER, StaffPost.Role.LEAD)


@register.inclusion_tag("progress/_places.html", takes_context=True)
def seeing_places(
    context: template.Context, school_class: SchoolClass, here: str
) -> dict[str, object]:
    """Link the pages of seeing a class, and mark the one that is *here*."""
    roles = {post.role for post in context["request"].user.posts_held}
    rows = [
        (label, reverse(f"assessment:{name}", args=[school_class.pk]), name == here)
        for name, label in PLACES
        if name not in FOR_JUDGES or roles.intersection(JUDGES)
    ]
    return {"rows": rows, "leads": StaffPost.Role.LEAD in roles}


@register.inclusion_tag("progress/_download.html", takes_context=True)
def take_away(context: template.Context, name: str, *arguments: object) -> dict[str, object]:
    """Offer a table to take away, as CSV and as a workbook, as the page's own address asks."""
    query = context["request"].GET.urlencode()
    forms = [
        (label, reverse(f"assessment:{name}", args=[*arguments, sheet]))
        for sheet, label in (("csv", _("as CSV")), ("xlsx", _("as a workbook")))
    ]
    return {"forms": [(label, f"{url}?{query}" if query else url) for label, url in forms]}


@register.inclusion_tag("progress/_legend.html")
def marks_legend(*, with_week: bool = False) -> dict[str, object]:
    """Say in one line what each mark means; with_week: also what is of this week."""
    return {"with_week": with_week, "marks": [(drawn((how,)), words) for how, words in HOW.items()]}


@register.filter
def band_word(band: str) -> object:
    """Return Landis and Koch's word for a kappa in the reader's language."""
    return BANDS.get(band, band)


@register.filter
def no_kappa(reason: str) -> object:
    """Say in the reader's language why there is no kappa."""
    return NO_KAPPA.get(reason, reason)


@register.filter
def as_drawing(svg: str) -> SafeString:
    """Let a chart through that assessment.charts drew: all words in it are escaped there."""
    return SafeString(svg)


@register.simple_tag
def part_mark(part: Part, day: str = "") -> SafeString:
    """Draw the mark of what became of a day's work; read out with its word and the *day*."""
    words = f"{day}: {PARTS[part]}" if day else str(PARTS[part])
    return SafeString(mark(drawn_as(part), words))


@register.filter
def part_word(part: Part) -> object:
    """Say in a word what became of a day's work."""
    return PARTS[part]


@register.inclusion_tag("progress/_part_key.html")
def part_key() -> dict[str, object]:
    """Say what each mark of a register means."""
    return {
        "parts": [(mark(part.value.replace(" ", "-"), ""), word) for part, word in PARTS.items()]
    }
