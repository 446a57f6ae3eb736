"""Pictures of number: values that check, describe and draw themselves as SVG."""

from tasks.numberwork.pictures.comparing import CompareSets, TwoLots, TwoRows
from tasks.numberwork.pictures.counters import Array, Counters, MovedRow
from tasks.numberwork.pictures.cuts import CUTS, HALF_CUTS, NOT_HALF_CUTS
from tasks.numberwork.pictures.dots import DiceDots, FiveAndDots
from tasks.numberwork.pictures.fingers import Fingers, TwoHands
from tasks.numberwork.pictures.frames import FiveFrame, TenFrame
from tasks.numberwork.pictures.halves import ShapeCut, ShapeCutChoice
from tasks.numberwork.pictures.house import House
from tasks.numberwork.pictures.hundred_square import HundredSquare
from tasks.numberwork.pictures.loose_rows import LooseRows
from tasks.numberwork.pictures.number_cards import NumberCards
from tasks.numberwork.pictures.number_line import NumberLine, hops
from tasks.numberwork.pictures.outlines import OUTLINES
from tasks.numberwork.pictures.part_whole import PartWhole
from tasks.numberwork.pictures.picture import Drawing, Picture
from tasks.numberwork.pictures.plates import Plates
from tasks.numberwork.pictures.roundtrip import picture_from_json, picture_to_json
from tasks.numberwork.pictures.rows_of_things import PatternRow, Things
from tasks.numberwork.pictures.scattered import ScatteredDots
from tasks.numberwork.pictures.tally import Tally
from tasks.numberwork.pictures.things import THINGS
from tasks.numberwork.pictures.tracing import NumeralTrace

__all__ = [
    "CUTS",
    "HALF_CUTS",
    "NOT_HALF_CUTS",
    "OUTLINES",
    "THINGS",
    "Array",
    "CompareSets",
    "Counters",
    "DiceDots",
    "Drawing",
    "Fingers",
    "FiveAndDots",
    "FiveFrame",
    "House",
    "HundredSquare",
    "LooseRows",
    "MovedRow",
    "NumberCards",
    "NumberLine",
    "NumeralTrace",
    "PartWhole",
    "PatternRow",
    "Picture",
    "Plates",
    "ScatteredDots",
    "ShapeCut",
    "ShapeCutChoice",
    "Tally",
    "TenFrame",
    "Things",
    "TwoHands",
    "TwoLots",
    "TwoRows",
    "hops",
    "picture_from_json",
    "picture_to_json",
]
