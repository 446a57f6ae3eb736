"""Pictures of number: values that check, describe and draw themselves as SVG."""

from tasks.numberwork.pictures.counters import Array, Counters
from tasks.numberwork.pictures.dots import DiceDots, FiveAndDots
from tasks.numberwork.pictures.fingers import Fingers
from tasks.numberwork.pictures.frames import FiveFrame, TenFrame
from tasks.numberwork.pictures.hundred_square import HundredSquare
from tasks.numberwork.pictures.number_line import NumberLine
from tasks.numberwork.pictures.part_whole import PartWhole
from tasks.numberwork.pictures.picture import Drawing, Picture
from tasks.numberwork.pictures.plates import Plates
from tasks.numberwork.pictures.roundtrip import picture_from_json, picture_to_json
from tasks.numberwork.pictures.scattered import ScatteredDots
from tasks.numberwork.pictures.tally import Tally

__all__ = [
    "Array",
    "Counters",
    "DiceDots",
    "Drawing",
    "Fingers",
    "FiveAndDots",
    "FiveFrame",
    "HundredSquare",
    "NumberLine",
    "PartWhole",
    "Picture",
    "Plates",
    "ScatteredDots",
    "Tally",
    "TenFrame",
    "picture_from_json",
    "picture_to_json",
]
