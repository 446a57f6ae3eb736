"""The sheets there are, in the order in which they are printed."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from django.utils.translation import gettext_lazy as _

from tasks.printing.layout.pages import Pages
from tasks.printing.sheets.answer_slip import answer_slip
from tasks.printing.sheets.cut_cards import number_cards
from tasks.printing.sheets.number_mat import number_mat
from tasks.printing.sheets.right_slip import right_slip
from tasks.printing.sheets.shared_sheets import hundred_square, number_lines
from tasks.printing.sheets.task_cards import task_cards
from tasks.printing.values import Day, Order, Pack

EACH_DAY: Mapping[str, Callable[[Pages, Pack, Day], None]] = MappingProxyType(
    {"cards": task_cards, "mat": number_mat, "answers": answer_slip}
)
ONCE: Mapping[str, Callable[[Pages, Pack, Order], None]] = MappingProxyType(
    {
        "hundred-square": hundred_square,
        "number-lines": number_lines,
        "number-cards": number_cards,
    }
)
# The adult's alone, so away from the child's.
LAST: Mapping[str, Callable[[Pages, Pack, Day], None]] = MappingProxyType({"right": right_slip})

SHEETS: Mapping[str, str] = MappingProxyType(
    {
        "cards": _("Task cards"),
        "mat": _("Number-of-the-day mat"),
        "answers": _("Answer slip"),
        "right": _("What right looks like, for the adult"),
        "hundred-square": _("Hundred square"),
        "number-lines": _("Number lines"),
        "number-cards": _("Number and dot cards to cut out"),
    }
)
OF_A_DAY = frozenset((*EACH_DAY, *LAST))


def print_sheets(pages: Pages, pack: Pack, order: Order) -> None:
    """Print for one reader what *order* asks for: day by day, then the shared, then the adult's."""
    _print_daily(pages, pack, order, EACH_DAY)
    for name, make in ONCE.items():
        if name in order.sheets:
            make(pages, pack, order)
    _print_daily(pages, pack, order, LAST)


def _print_daily(
    pages: Pages,
    pack: Pack,
    order: Order,
    sheets: Mapping[str, Callable[[Pages, Pack, Day], None]],
) -> None:
    for day in pack.days:
        for name, make in sheets.items():
            if name in order.sheets:
                make(pages, pack, day)
