"""On paper: a day or a week of number work as a PDF to print, from plain values."""

from tasks.printing.binding import NothingToPrintError, make_pdf
from tasks.printing.paper import A4, LETTER, PAPERS, Paper
from tasks.printing.sample import bench_pdf
from tasks.printing.sheets import OF_A_DAY, SHEETS
from tasks.printing.values import Day, Line, Order, Pack, Part

__all__ = [
    "A4",
    "LETTER",
    "OF_A_DAY",
    "PAPERS",
    "SHEETS",
    "Day",
    "Line",
    "NothingToPrintError",
    "Order",
    "Pack",
    "Paper",
    "Part",
    "bench_pdf",
    "make_pdf",
]
