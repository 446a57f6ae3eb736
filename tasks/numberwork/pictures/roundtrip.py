"""Pictures to JSON and back, exactly."""

from dataclasses import fields
from typing import Any

from tasks.numberwork.pictures.comparing import CompareSets, TwoLots, TwoRows
from tasks.numberwork.pictures.counters import Array, Counters, MovedRow
from tasks.numberwork.pictures.dots import DiceDots, FiveAndDots
from tasks.numberwork.pictures.fingers import Fingers, TwoHands
from tasks.numberwork.pictures.frames import FiveFrame, TenFrame
from tasks.numberwork.pictures.halves import ShapeCut, ShapeCutChoice
from tasks.numberwork.pictures.house import House
from tasks.numberwork.pictures.hundred_square import HundredSquare
from tasks.numberwork.pictures.loose_rows import LooseRows
from tasks.numberwork.pictures.number_cards import NumberCards
from tasks.numberwork.pictures.number_line import NumberLine
from tasks.numberwork.pictures.part_whole import PartWhole
from tasks.numberwork.pictures.picture import Picture
from tasks.numberwork.pictures.plates import Plates
from tasks.numberwork.pictures.rows_of_things import PatternRow, Things
from tasks.numberwork.pictures.scattered import ScatteredDots
from tasks.numberwork.pictures.tally import Tally
from tasks.numberwork.pictures.tracing import NumeralTrace

KINDS: dict[str, type[Picture]] = {
    kind.__name__: kind
    for kind in (
        Array,
        CompareSets,
        Counters,
        DiceDots,
        Fingers,
        FiveAndDots,
        FiveFrame,
        House,
        HundredSquare,
        LooseRows,
        MovedRow,
        NumberCards,
        NumberLine,
        NumeralTrace,
        PartWhole,
        PatternRow,
        Plates,
        ScatteredDots,
        ShapeCut,
        ShapeCutChoice,
        Tally,
        TenFrame,
        Things,
        TwoHands,
        TwoLots,
        TwoRows,
    )
}


def picture_to_json(picture: Picture) -> dict[str, Any]:
    """Return a picture as a JSON object: its kind under "picture", then its fields by name.

    Raises ValueError for a picture of a kind that is not in KINDS.
    """
    kind = type(picture).__name__
    if KINDS.get(kind) is not type(picture):
        raise ValueError(f"not a kind of picture that can be kept: {kind}")
    names = [field.name for field in fields(picture)]  # type: ignore[arg-type]
    return {"picture": kind} | {name: _plain(getattr(picture, name)) for name in names}


def picture_from_json(data: dict[str, Any]) -> Picture:
    """Return back the picture which `picture_to_json` wrote.

    Raises ValueError for an unknown kind, a missing or unknown field, or a wrong value.
    """
    values = dict(data)
    kind = KINDS.get(str(values.pop("picture", "")))
    if kind is None:
        raise ValueError(f"unknown kind of picture: {data.get('picture')!r}")
    try:
        return kind(**{name: _frozen(value) for name, value in values.items()})
    except TypeError as error:
        raise ValueError(f"wrong fields for {kind.__name__}: {sorted(values)}") from error


def _plain(value: Any) -> Any:
    if isinstance(value, Picture):
        return picture_to_json(value)
    return [_plain(item) for item in value] if isinstance(value, tuple) else value


def _frozen(value: Any) -> Any:
    if isinstance(value, dict):
        return picture_from_json(value)
    return tuple(_frozen(item) for item in value) if isinstance(value, list) else value
