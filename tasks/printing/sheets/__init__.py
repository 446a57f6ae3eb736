"""The sheets there are, in the order in which they are printed."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from django.utils.translation import gettext_lazy as _

from tasks.printing.layout.pages import Pages
from tasks.printing.sheets.adult_side import adult_side, adult_week
from tasks.printing.sheets.answer_slip import answer_slip
from tasks.printing.sheets.child_side import child_side
from tasks.printing.sheets.cut_cards import number_cards
from tasks.printing.sheets.number_mat import number_mat
from tasks.printing.sheets.right_slip import right_slip
from tasks.printing.sheets.shared_sheets import hundred_square, number_lines
from tasks.printing.sheets.task_cards import task_cards
from tasks.printing.values import Day, Order, Pack

TWO_SIDES = "two-sides"
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
        TWO_SIDES: _("The day on two sides"),
        "cards": _("Task cards"),
        "mat": _("Number-of-the-day mat"),
        "answers": _("Answer slip"),
        "right": _("What right looks like, for the adult"),
        "hundred-square": _("Hundred square"),
        "number-lines": _("Number lines"),
        "number-cards": _("Number and dot cards to cut out"),
    }
)
OF_A_DAY = frozenset((TWO_SIDES, *EACH_DAY, *LAST))


def print_sheets(pages: Pages, pack: Pack, order: Order) -> None:
    """Print for one reader what *order* asks for: day by day, then the shared, then the adult's."""
    if TWO_SIDES in order.sheets:
        _print_two_sides(pages, pack)
    _print_daily(pages, pack, order, EACH_DAY)
    for name, make in ONCE.items():
        if name in order.sheets:
            make(pages, pack, order)
    _print_daily(pages, pack, order, LAST)


def _print_two_sides(pages: Pages, pack: Pack) -> None:
    """Print one day on two sides; of several, the adult's share theirs."""
    for day in pack.days:
        child_side(pages, pack, day)
        if len(pack.days) == 1:
            adult_side(pages, pack, day)
    if len(pack.days) > 1:
        adult_week(pages, pack)


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
