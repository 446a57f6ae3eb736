"""Goal frameworks: the files shipped here, and readers for those of other publishers."""

from .case_read import read_case
from .case_write import write_case
from .csv_read import read_csv
from .files import DEFAULT, all_frameworks, framework_by_id, load_framework
from .framework import FROM_MEMORY, Framework, FrameworkError, Goal, Strand, strands_of
from .suggest import goals_for_kinds

__all__ = [
    "DEFAULT",
    "FROM_MEMORY",
    "Framework",
    "FrameworkError",
    "Goal",
    "Strand",
    "all_frameworks",
    "framework_by_id",
    "goals_for_kinds",
    "load_framework",
    "read_case",
    "read_csv",
    "strands_of",
    "write_case",
]
