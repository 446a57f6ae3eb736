"""Everything that `doctor` looks at, in the order it tells of it."""

from collections.abc import Callable, Iterable, Iterator

from portal.operations.checks import bucket, configuration, data, mail, site, work
from portal.operations.checks.lines import Level, Line, bad

Check = Callable[[], Iterable[Line]]
HERE: tuple[tuple[str, Check], ...] = (
    ("settings", configuration.check_settings),
    ("system", configuration.check_system),
    ("Django", configuration.check_framework),
    ("database", data.check_database),
    ("clock", data.check_clock),
    ("storage", data.check_storage),
    ("modes", data.check_modes),
    ("broker", work.check_broker),
    ("beat", work.check_beat),
    ("stuck work", work.check_figures),
    ("upkeep", data.check_upkeep),
)
ELSEWHERE: tuple[tuple[str, Check], ...] = (
    ("bucket", bucket.check_bucket),
    ("certificate", site.check_certificate),
    ("mail server", mail.check_server),
    ("mail records", mail.check_records),
)


def look_over(*, offline: bool) -> Iterator[Line]:
    """Yield what is found; *offline*: ask nothing of other machines but database and broker."""
    for about, check in HERE if offline else HERE + ELSEWHERE:
        try:
            yield from check()
        except Exception as error:  # One that breaks must not hide the others.
            yield bad(about, f"Could not be checked: {type(error).__name__}. See the log.")


def worst(lines: Iterable[Line]) -> Level:
    """Return the worst level among *lines*."""
    order = list(Level)
    return max((line.level for line in lines), key=order.index, default=Level.OK)
