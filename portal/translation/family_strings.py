"""Which strings families can meet, and so which are translated.

Templates: every one that builds on the family's base page (or may), error pages, and all that
they include. Modules: those whose words reach such pages, mails and prints; where a module speaks
to staff as well, only the functions named after the colon are read. A test renders every family
page in a made-up language and fails for a word that is not found from here.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from django.template import engines
from django.template.base import Node
from django.templatetags.i18n import BlockTranslateNode, TranslateNode

ROOT = Path(__file__).resolve().parents[2]
APPS = ("portal", "tasks", "evidence", "assessment")
BUILDS_ON_FAMILY = re.compile(r'base_family\.html|extends base %|base_error\.html"')
# They may build on the family's page as far as their look goes, and speak to staff alone.
FOR_STAFF = {
    "accounts/staff_sign_in.html",
    "accounts/second_step.html",
    "accounts/second_step_set.html",
    "accounts/recovery_codes.html",
    "accounts/set_password.html",
    "accounts/password.html",
    "accounts/password_reset.html",
    "plans/plan_preview.html",
    "portal/components.html",
}
# Included by name from Python, so that no template says so.
ALSO = (
    "components/account.html",
    "components/ask.html",
    "components/ask_link.html",
    "components/choice_row.html",
    "components/empty_state.html",
    "components/first_steps.html",
    "components/form_errors.html",
    "components/language.html",
    "components/listen.html",
    "components/messages.html",
    "components/number_keys.html",
    "components/page_head.html",
    "components/pager.html",
    "components/piece_figure.html",
    "components/progress_line.html",
    "components/undo_line.html",
    "components/upload_line.html",
    "looks/_reply.html",
    "uploads/no_line.html",
    "reminders/stop.html",
    "reminders/stop.html",
    "weekly/_week_steps.html",
    "weekly/unsubscribe.html",
    "families/_slip.html",
    "data_export/copy_index.html",
    "cards/_try_at_home.html",
    "slots/above_card.html",
    "slots/above_sent.html",
    "slots/begin.html",
    "slots/below_card.html",
    "slots/reply_line.html",
    "slots/reply_to_submission.html",
    "slots/sent_news.html",
)
MODULES = (
    "portal/context_processors.py:family_places",
    "portal/translation/framework_strings.py",
    "portal/templatetags/components.py",
    "portal/guide/people_steps.py",
    "portal/people/accounts/forms/account.py:NewAddressForm",
    "portal/people/accounts/forms/sign_in.py",
    "portal/people/accounts/reauthentication.py",
    "portal/data_protection/retention/of_people.py",
    "portal/people/mails.py:sign_in_code,invitation,address_changed",
    "portal/people/families/models/consent.py",
    "portal/people/families/models/homes.py",
    "portal/people/accounts/sessions.py",
    "portal/data_protection/data_export/of_people.py",
    "portal/people/accounts/views/account.py",
    "portal/people/accounts/views/sign_in.py",
    "portal/data_protection/data_export",
    "portal/data_protection/family_page.py",
    "portal/data_protection/first_steps.py",
    "portal/data_protection/retention/own.py",
    "portal/data_protection/retention/durations.py",
    "portal/data_protection/data_requests.py",
    "portal/data_protection/views/family.py",
    "portal/data_protection/consent/wording.py",
    "tasks/cards/card.py",
    "tasks/cards/glossary.py",
    "tasks/plans/models/parts.py",
    "tasks/printing/sheets/answer_slip.py",
    "tasks/printing/binding.py",
    "tasks/printing/layout/cells.py",
    "tasks/printing/layout/headings.py",
    "tasks/printing/sheets/child_side.py",
    "tasks/printing/sheets/right_slip.py",
    "tasks/printing/sheets/task_cards.py",
    "tasks/cards/safety.py",
    "tasks/data_export.py",
    "tasks/cards/views/cards.py",
    "tasks/cards/wording.py",
    "evidence",
    "assessment/weekly/overview.py",
    "assessment/retention.py",
    "assessment/weekly/family_words.py",
    "assessment/weekly/mails.py:compose,family_words",
    "assessment/looks/models/looks.py",
    "assessment/looks/ready_made.py",
    "assessment/looks/models/voice_replies.py",
    "assessment/data_export.py",
    "assessment/templatetags/replies.py",
    "assessment/weekly/pdf_sheets.py:family_sheets,begin,day_words",
)
STAFF_PARTS = {"migrations", "management"}
CALLS = {"_", "gettext", "gettext_lazy", "gettext_noop", "ngettext", "ngettext_lazy"}


class Text(NamedTuple):
    """One string to translate: its plural and its context, if any, and the file it stands in."""

    text: str
    plural: str
    place: str
    context: str = ""

    @property
    def key(self) -> tuple[str, str, str]:
        """Return what tells it from every other."""
        return self.context, self.text, self.plural


def family_strings() -> list[Text]:
    """List every string once, in the order of the files."""
    found: dict[tuple[str, str, str], Text] = {}
    for one in (*_of_templates(), *_of_modules()):
        found.setdefault(one.key, one)
    return list(found.values())


def template_files() -> dict[str, Path]:
    """Return every template of the portal by its name."""
    found: dict[str, Path] = {}
    for app in APPS:
        for path in sorted((ROOT / app).rglob("templates/**/*.html")):
            name = path.as_posix().split("/templates/")[1]
            found.setdefault(name, path)
    return found


def family_templates() -> list[str]:
    """Name the templates that families can meet."""
    files = template_files()
    reached: list[str] = []
    waiting = [
        name
        for name, path in files.items()
        if name not in FOR_STAFF and BUILDS_ON_FAMILY.search(path.read_text(encoding="utf-8"))
    ]
    waiting += [name for name in ALSO if name in files]
    while waiting:
        name = waiting.pop()
        if name in reached or name == "base_staff.html":
            continue
        reached.append(name)
        named = re.findall(r'"([\w/-]+\.html)', files[name].read_text(encoding="utf-8"))
        waiting += [each for each in named if each in files and each not in FOR_STAFF]
    return sorted(reached)


def _of_templates() -> Iterator[Text]:
    files = template_files()
    for name in family_templates():
        place = files[name].relative_to(ROOT).as_posix()
        template = engines["django"].from_string(files[name].read_text(encoding="utf-8"))
        for node in _nodes(template.template.nodelist):
            yield from _of_node(node, place)


def _nodes(nodes: Iterable[Node]) -> Iterator[Node]:
    """Walk through all nodes of a template, those inside block tags of our own as well."""
    for node in nodes:
        yield node
        lists = dict.fromkeys([*node.child_nodelists, "nodelist"])
        for inner in (getattr(node, name, None) for name in lists):
            yield from _nodes(inner or ())


def _of_node(node: Node, place: str) -> Iterator[Text]:
    if isinstance(node, TranslateNode):
        literal = getattr(node.filter_expression.var, "literal", node.filter_expression.var)
        if isinstance(literal, str):
            yield Text(literal.replace("%%", "%"), "", place, _context(node))
    elif isinstance(node, BlockTranslateNode):
        singular, _names = node.render_token_list(node.singular)
        plural = node.render_token_list(node.plural)[0] if node.plural else ""
        yield Text(singular, plural, place, _context(node))


def _context(node: TranslateNode | BlockTranslateNode) -> str:
    return str(node.message_context.resolve({})) if node.message_context else ""


def _of_modules() -> Iterator[Text]:
    for line in MODULES:
        path, _colon, names = line.partition(":")
        whole = ROOT / path
        for file in sorted(whole.rglob("*.py")) if whole.is_dir() else [whole]:
            if STAFF_PARTS & {*file.parts, file.stem} or not file.is_file():
                continue
            tree = ast.parse(file.read_text(encoding="utf-8"))
            yield from _of_tree(_chosen(tree, names), file.relative_to(ROOT).as_posix())


def _chosen(tree: ast.Module, names: str) -> list[ast.AST]:
    """Return what is read of a module: all of it, or the definitions named."""
    if not names:
        return [tree]
    wanted = names.split(",")
    found = [node for node in tree.body if getattr(node, "name", "") in wanted]
    if len(found) < len(wanted):
        raise ValueError(f"not all of {names} is there")
    return list(found)


def _of_tree(nodes: list[ast.AST], place: str) -> Iterator[Text]:
    for call in (each for node in nodes for each in ast.walk(node)):
        if isinstance(call, ast.Call) and getattr(call.func, "id", "") in CALLS:
            texts = [
                arg.value
                for arg in call.args[:2]
                if isinstance(arg, ast.Constant) and isinstance(arg.value, str)
            ]
            if texts:
                yield Text(texts[0], texts[1] if len(texts) > 1 else "", place)
