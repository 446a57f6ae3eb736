"""The early learning goals as England's Profile names them, and the good level of development.

Source: result columns of the Profile as the Department for Education's own service reads
them; the twelve goals of a good level of development from the Department's statistics
methodology. Mathematics is E11 and E12. This is no statutory return.
"""

from collections.abc import Mapping

AREAS: Mapping[str, tuple[str, ...]] = {
    "communication and language": ("FSP_COM_E01", "FSP_COM_E02"),
    "personal, social and emotional development": ("FSP_PSE_E03", "FSP_PSE_E04", "FSP_PSE_E05"),
    "physical development": ("FSP_PHY_E06", "FSP_PHY_E07"),
    "literacy": ("FSP_LIT_E08", "FSP_LIT_E09", "FSP_LIT_E10"),
    "mathematics": ("FSP_MAT_E11", "FSP_MAT_E12"),
    "understanding the world": ("FSP_UTW_E13", "FSP_UTW_E14", "FSP_UTW_E15"),
    "expressive arts and design": ("FSP_EXP_E16", "FSP_EXP_E17"),
}
GOOD_LEVEL_AREAS = (
    "communication and language",
    "personal, social and emotional development",
    "physical development",
    "literacy",
    "mathematics",
)
ALL_COLUMNS = tuple(column for columns in AREAS.values() for column in columns)
GOOD_LEVEL_COLUMNS = tuple(column for area in GOOD_LEVEL_AREAS for column in AREAS[area])


def good_level(judgements: Mapping[str, str]) -> bool | None:
    """Say whether a teacher's *judgements* make a good level of development.

    judgements: result column to "emerging" or "expected". True when all twelve goals are
    expected, False when one is emerging, None while one that matters is not judged.
    Raises ValueError for another word.
    """
    found = [judgements[column] for column in GOOD_LEVEL_COLUMNS if column in judgements]
    for level in found:
        if level not in ("emerging", "expected"):
            raise ValueError(f"a judgement is emerging or expected, not {level}")
    if "emerging" in found:
        return False
    return True if len(found) == len(GOOD_LEVEL_COLUMNS) else None
