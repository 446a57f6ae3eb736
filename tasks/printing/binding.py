"""An order becomes a file."""

from django.utils.translation import gettext as _

from tasks.printing.layout.pages import Pages
from tasks.printing.sheets import SHEETS, print_sheets
from tasks.printing.values import Order


class NothingToPrintError(ValueError):
    """Not one page comes of what was asked for."""


def make_pdf(order: Order) -> bytes:
    """Print *order* as one PDF, one pack after the other. Equal orders give equal files.

    Raises ValueError for an unknown sheet, NothingToPrintError when there is no page.
    """
    if unknown := order.sheets - set(SHEETS):
        raise ValueError(f"there are no sheets named {sorted(unknown)}")
    pages = Pages(order.paper, _("Number work"), order.dated)
    for pack in order.packs:
        print_sheets(pages, pack, order)
    if not pages.count:
        raise NothingToPrintError("not one page comes of this order")
    return pages.finish()
