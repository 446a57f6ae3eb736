"""The parts that pages are put together from: {% load components %}."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from django import template
from django.core.paginator import Page
from django.forms import BaseForm, BoundField
from django.templatetags.static import static
from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.timezone import localtime
from django.utils.translation import gettext_lazy as _

register = template.Library()

SPRITE = Path(__file__).resolve().parents[1] / "static" / "portal" / "icons.svg"
ICONS = {name: name for name in re.findall(r'symbol id="([\w-]+)"', SPRITE.read_text())}
STATUS = {
    "draft": ("pencil", _("not sent yet")),
    "arrived": ("sent", _("arrived")),
    "preparing": ("wait", _("being made ready")),
    "ready": ("tick", _("ready")),
    "unreadable": ("warn", _("could not be read")),
    "looked_at": ("look", _("looked at")),
    "withdrawn": ("undo", _("taken back")),
}
NOTICE = {
    "info": ("info", _("To know")),
    "warn": ("warn", _("Take care")),
    "caution": ("caution", _("Stay safe")),
    "done": ("tick", _("Done")),
}
MESSAGE = {
    "debug": "info",
    "info": "info",
    "success": "done",
    "warning": "warn",
    "error": "caution",
}
PIECE = {"photo": "camera", "clip": "clip", "voice": "voice", "page": "page"}
DIGITS = "1234567890"


def known(table: dict[str, Any], key: str, what: str) -> Any:
    """Return the entry of a table, or stop the page with the words that it knows."""
    try:
        return table[key]
    except KeyError:
        words = ", ".join(table)
        raise template.TemplateSyntaxError(f"{what} is one of {words}; not {key!r}.") from None


@register.simple_tag
def icon(name: str, label: str = "") -> SafeString:
    """Draw one icon of the set; give a label only where no word stands beside it."""
    role = format_html('role="img" aria-label="{}"', label) if label else 'aria-hidden="true"'
    return format_html(
        '<svg class="icon icon-{0}" {1} focusable="false"><use href="{2}#{0}"></use></svg>',
        known(ICONS, name, "The name of an icon"),
        SafeString(role),
        static("portal/icons.svg"),
    )


@register.filter
def moment(at: dt.datetime, day: str = "j E Y") -> str:
    """Write a day, by the format *day*, and the time on it as the page's language joins them."""
    here = localtime(at)
    words = {"day": date_format(here, day), "time": date_format(here, "H:i")}
    return _("%(day)s, %(time)s") % words


@register.inclusion_tag("components/page_head.html")
def page_head(
    title: str, purpose: str = "", back_url: str = "", back_label: str = ""
) -> dict[str, object]:
    """Head a page: its title and one line that says what the page is for."""
    return {"title": title, "purpose": purpose, "back_url": back_url, "back_label": back_label}


@register.inclusion_tag("components/empty_state.html")
def empty_state(
    text: str, next_step: str = "", url: str = "", label: str = "", icon_name: str = "page"
) -> dict[str, object]:
    """Say that there is nothing here yet, and what to do next."""
    return {"text": text, "next_step": next_step, "url": url, "label": label, "icon": icon_name}


@register.simple_block_tag
def notice(content: str, kind: str = "info", word: str = "") -> SafeString:
    """Frame a message as info, warn, caution or done: an icon, a word, and the content."""
    icon_name, usual_word = known(NOTICE, kind, "The kind of a notice")
    return format_html(
        '<div class="notice notice-{}">{}<p class="notice-word">{}</p><div>{}</div></div>',
        kind,
        icon(icon_name),
        word or usual_word,
        SafeString(content),
    )


@register.filter
def notice_kind(level: str) -> str:
    """Turn the level of a Django message into the kind of a notice."""
    return MESSAGE.get(level, "info")


@register.filter
def notice_icon(kind: str) -> str:
    """Return the icon that goes with a kind of notice."""
    return known(NOTICE, kind, "The kind of a notice")[0]


@register.inclusion_tag("components/caution_box.html")
def caution_box(items: Iterable[tuple[str, str]]) -> dict[str, object]:
    """List the cautions of a task, each as (icon name, sentence); nothing when there are none."""
    return {"items": list(items)}


@register.inclusion_tag("components/piece_figure.html")
def piece_figure(
    kind: str,
    src: str = "",
    alt: str = "",
    caption: str = "",
    status: str = "",
    url: str = "",
    poll: str = "",
) -> dict[str, object]:
    """Show a piece (photo, clip, voice, page) small; without src, its icon stands for it.

    With poll, the address of this same part, the page asks again until it comes without one.
    """
    blank = known(PIECE, kind, "The kind of a piece")
    shown = {"src": src, "alt": alt, "caption": caption, "status": status}
    return {"kind": kind, "blank": blank, "url": url, "poll": poll, **shown}


@register.inclusion_tag("components/progress_line.html")
def progress_line(label: str, value: int = 0, most: int = 100) -> dict[str, object]:
    """Draw how much is done: value of most, in words too."""
    return {"label": label, "value": value, "most": most}


@register.inclusion_tag("components/upload_line.html")
def upload_line() -> dict[str, object]:
    """Stand inside a form with data-upload: how far the sending is, and whether it failed."""
    return {}


@register.simple_tag
def status_word(code: str) -> SafeString:
    """Say with an icon and words how far a piece has got; the codes are the keys of STATUS."""
    icon_name, word = known(STATUS, code, "A status")
    return format_html('<span class="status status-{}">{}{}</span>', code, icon(icon_name), word)


@register.inclusion_tag("components/number_keys.html")
def number_keys(
    name: str, field_id: str, label: str, value: object = "", most: int = 3, error: str = ""
) -> dict[str, object]:
    """Ask for a whole number of at most `most` digits, with large keys where scripts run."""
    value = "" if value is None else value
    asked = {"name": name, "id": field_id, "label": label, "value": value}
    return {**asked, "most": most, "error": error, "digits": DIGITS}


@register.inclusion_tag("components/listen.html")
def listen(
    text: str = "", lang: str = "", label: str = "", parts_of: str = ""
) -> dict[str, object]:
    """Offer to say a text aloud, or every [data-part] inside the element with id parts_of."""
    return {"text": text, "lang": lang, "label": label or _("Listen"), "parts_of": parts_of}


@register.inclusion_tag("components/choice_row.html")
def choice_row(
    name: str,
    legend: str,
    choices: Iterable[tuple[object, str]],
    chosen: object = "",
    keys: Sequence[str] = "",
    several: bool = False,
    field: BoundField | None = None,
) -> dict[str, object]:
    """Offer a row of choices as radio buttons, or as checkboxes when several may be chosen.

    `keys` gives the single-key shortcut of each choice in order ("1234"); staff pages only.
    `field` is the field of a form whose errors it says.
    """
    taken = {str(value) for value in chosen} if several else {str(chosen)}
    rows = [
        {"value": value, "label": label, "on": str(value) in taken, "key": key}
        for (value, label), key in zip(choices, list(keys) + [""] * 99, strict=False)
    ]
    return {
        "name": name,
        "legend": legend,
        "rows": rows,
        "type": "checkbox" if several else "radio",
        "field": field,
    }


@register.inclusion_tag("components/tag_list.html")
def tag_list(tags: Iterable[tuple[str, str]], label: str = "") -> dict[str, object]:
    """List tags as (goal, how shown)."""
    return {"tags": list(tags), "label": label or _("Tags")}


@register.inclusion_tag("components/stack_table.html")
def stack_table(
    caption: str, headings: Sequence[str], rows: Iterable[Sequence[object]]
) -> dict[str, object]:
    """Draw a table that becomes a stack on a narrow screen; each row's first cell heads it."""
    paired = [list(zip(headings, row, strict=True)) for row in rows]
    return {"caption": caption, "headings": headings, "rows": paired}


@register.inclusion_tag("components/pager.html", takes_context=True)
def pager(
    context: template.Context, page: Page[Any], label: str = "", parameter: str = "page"
) -> dict[str, object]:
    """Link to the pages before and after, keeping what else the address asks for."""
    query = context["request"].GET.copy() if "request" in context else None

    def address(number: int) -> str:
        if query is None:
            return f"?{parameter}={number}"
        query[parameter] = str(number)
        return f"?{query.urlencode()}"

    before = address(page.previous_page_number()) if page.has_previous() else ""
    after = address(page.next_page_number()) if page.has_next() else ""
    return {"page": page, "label": label or _("Pages"), "before": before, "after": after}


@register.inclusion_tag("components/ask_link.html")
def ask_link(ask_id: str, label: str, icon_name: str = "") -> dict[str, object]:
    """Link to a question drawn by `ask` with the same id."""
    return {"id": ask_id, "label": label, "icon": icon_name}


@register.inclusion_tag("components/ask.html", takes_context=True)
def ask(
    context: template.Context, ask_id: str, title: str, text: str, action: str, button: str
) -> dict[str, object]:
    """Ask before a POST to `action` that is not taken back lightly."""
    asked = {"id": ask_id, "title": title, "text": text, "action": action, "button": button}
    return {**asked, "csrf_token": context.get("csrf_token")}


@register.inclusion_tag("components/undo_line.html", takes_context=True)
def undo_line(context: template.Context, text: str, action: str) -> dict[str, object]:
    """Say what has been done and offer to undo it by a POST to `action`."""
    return {"text": text, "action": action, "csrf_token": context.get("csrf_token")}


@register.inclusion_tag("components/form_errors.html")
def form_errors(form: BaseForm | None) -> dict[str, object]:
    """Say what is amiss in the whole of a form and link to the fields that say so themselves.

    Forms drawn by `|crispy` bring it along; a template that draws its fields one by one starts
    with this, and has `field_errors` after each.
    """
    if form is None or not form.is_bound or not form.errors:
        return {"whole": [], "fields": []}
    hidden = [error for bound in form.hidden_fields() for error in bound.errors]
    fields = [bound for bound in form.visible_fields() if bound.errors]
    return {"whole": [*form.non_field_errors(), *hidden], "fields": fields}


@register.inclusion_tag("components/field_errors.html")
def field_errors(field: BoundField) -> dict[str, object]:
    """Say what is amiss in one field, where its `aria-describedby` looks for it."""
    return {"field": field}
