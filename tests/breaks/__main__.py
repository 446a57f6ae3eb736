"""Take each protection away in a copy of the tree, and see that its test misses it.

.venv/bin/python -m tests.breaks --jobs 2            # all of them
.venv/bin/python -m tests.breaks --only S16 E3       # those of two promises
.venv/bin/python -m tests.breaks --part 1/3          # a third of them: another each day
.venv/bin/python -m tests.breaks --whole             # nothing taken away: all are to be green
"""

import argparse
import multiprocessing
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

from tests.breaks.copies import copy_tree, without_protection
from tests.breaks.rows import CannotBreakError, Row, all_rows
from tests.breaks.trying import Tried, forked, make_database, try_tests, warm_up
from tests.turns import today, whose_turn

ROOT = Path(__file__).resolve().parents[2]
LIMIT = 600.0  # Seconds for the tests of one row, on a machine that is busy.


class Verdict(NamedTuple):
    """What became of one row, in words, and whether it is as it should be."""

    row: Row
    is_good: bool
    words: str
    seconds: float = 0.0


class Place(NamedTuple):
    """A copy of the tree to break, a folder to work in, and a ready database."""

    tree: Path
    work: Path
    database: Path | None
    limit: float


def try_row(row: Row, place: Place) -> Verdict:
    """Take the protection of *row* away at *place* and run its tests."""
    makes_tables = "/migrations/" in row.path
    database = None if makes_tables else place.database
    try:
        with without_protection(place.tree, row):
            tried = try_tests(
                place.tree, place.work, row.tests, database=database, limit=place.limit
            )
    except CannotBreakError as error:
        return Verdict(row, False, str(error))
    return Verdict(row, tried.is_red, "red" if tried.is_red else in_words(tried), tried.seconds)


def try_whole(row: Row, place: Place) -> Verdict:
    """Run the tests of *row* at *place* with nothing taken away."""
    tried = try_tests(place.tree, place.work, row.tests, database=place.database, limit=place.limit)
    is_good = tried.code == 0 and tried.passed > 0
    return Verdict(row, is_good, "green" if is_good else "not green", tried.seconds)


def in_words(tried: Tried) -> str:
    """Say what is wrong where the tests should have failed."""
    if tried.words:
        return tried.words
    return "still green" if tried.passed and not tried.failed else f"no test ran ({tried.code})"


def keep_trying(rows, said, what, place: Place) -> None:
    """Be one of the processes that take *rows* from a queue; put the verdicts into *said*."""
    while (row := rows.get()) is not None:
        said.put(what(row, place))


def try_all(rows: list[Row], what, places: list[Place]):
    """Yield the verdicts on *rows* as they come; *what* is done with each, at all *places*."""
    fork = multiprocessing.get_context("fork")
    waiting, said = fork.Queue(), fork.Queue()
    for row in [*rows, *[None] * len(places)]:
        waiting.put(row)
    hands = [fork.Process(target=keep_trying, args=(waiting, said, what, at)) for at in places]
    for hand in hands:
        hand.start()
    for _row in rows:
        yield said.get()
    for hand in hands:
        hand.join()


def places_in(folder: Path, root: Path, jobs: int, limit: float) -> list[Place]:
    """Make *jobs* copies of the tree at *root* in *folder*, and a database for all."""
    trees = [copy_tree(root, folder / f"{number}" / "tree") for number in range(jobs)]
    data = folder / "first"
    data.mkdir()
    forked(data, limit, make_database, trees[0], data)
    database = data / "test.sqlite3"
    ready = database if database.exists() else None
    return [Place(tree, tree.parent, ready, limit) for tree in trees]


def chosen(options: argparse.Namespace) -> list[Row]:
    """Return the rows that are asked for. Of `--part 1/3`, each day takes the next third."""
    rows = all_rows()
    if options.only:
        rows = [row for row in rows if row.promise in options.only]
    if options.part:
        rows = whose_turn(options.part, rows, today())
    return rows


def options_of(arguments: list[str]) -> argparse.Namespace:
    """Read what is asked for."""
    parser = argparse.ArgumentParser(prog="tests.breaks", description=__doc__)
    parser.add_argument("--only", nargs="+", metavar="PROMISE", help="those of these promises")
    parser.add_argument("--part", metavar="1/3", help="a part of them, by the day")
    parser.add_argument("--jobs", type=int, default=1, help="how many at once")
    parser.add_argument("--limit", type=float, default=LIMIT, help="seconds for each")
    parser.add_argument("--whole", action="store_true", help="take nothing away: all are green")
    return parser.parse_args(arguments)


def main(arguments: list[str]) -> int:
    """Try the rows that are asked for and give an account; 0: every one is as it should be."""
    options = options_of(arguments)
    rows = chosen(options)
    warm_up()
    what = try_whole if options.whole else try_row
    verdicts = []
    with tempfile.TemporaryDirectory(prefix="kitchen-counter-breaks-") as folder:
        places = places_in(Path(folder), ROOT, options.jobs, options.limit)
        for verdict in try_all(rows, what, places):
            verdicts.append(verdict)
            say(f"{verdict.seconds:5.0f} s  {verdict.words:11}  {verdict.row.name}")
    return account(verdicts)


def say(words: str) -> None:
    """Print a line at once."""
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


def account(verdicts: list[Verdict]) -> int:
    """Print how many there are of each, and those that are not as they should be."""
    bad = [verdict for verdict in verdicts if not verdict.is_good]
    promises = {verdict.row.promise for verdict in verdicts}
    say(f"rows {len(promises)}, patches {len(verdicts)}, red {len(verdicts) - len(bad)}")
    for verdict in bad:
        say(f"NOT HELD: {verdict.row.name}\n    {verdict.words}; {', '.join(verdict.row.tests)}")
    return 1 if bad or not verdicts else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
