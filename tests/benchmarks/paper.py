"""How long a stack of sheets takes to draw."""

from collections.abc import Iterator

from tasks.printing import bench_pdf
from tests.benchmarks import Figure, seconds


def measure() -> Iterator[Figure]:
    """Return the time for 30 pages, and how it grows to 120."""
    bench_pdf(2)
    short, long = seconds(lambda: bench_pdf(30)), seconds(lambda: bench_pdf(120))
    yield Figure("30 pages of cards as PDF", short, "s", most=1)
    yield Figure("120 pages / 30 pages", long / short, "times", most=4.5)
