"""British English: the text alternatives of pictures, part by part.

{0}, {1} … are numbers as numerals, {0:dot} counts dots, {listed} is a list such as "3, 4 and an
empty box", {from} and {to} are numbers or empty boxes.
"""

from __future__ import annotations

ALTS: dict[str, str] = {
    "array": "{0:row} of {1:counter}.",
    "cards": "Number cards: {listed}.",
    "counters": "{0:counter}.",
    "counters, some crossed out": "{0:counter}, {1} of them crossed out.",
    "cut": "{shape} cut in two {how}.",
    "cut with a letter": "{label}, {cut}",
    "dots": "{0:dot}.",
    "dots of a die": "{0:dot}, as on a die.",
    "dots scattered": "{0:dot}, scattered.",
    "empty box": "an empty box",
    "empty card": "an empty card",
    "fingers": "Two hands with {0:finger} up: {1} on the left and {2} on the right.",
    "five and dots": "{0} dots: 5 and {1} more.",
    "five frame": "A five frame with {0:counter}.",
    "house": "A house with {0:window}.",
    "line": "A number line from {from} to {to}",
    "line: hidden": "with {0:number} left out",
    "line: jump": "a jump from {from} to {to}",
    "line: marked": "{listed} marked",
    "line: steps": "in steps of {0}",
    "loose rows": "{0:spoon} above, {1:cup} below, not lined up.",
    "loose rows: matched": "{0:spoon} above, {1:cup} below, matched by lines.",
    "moved: pushed together": "A row of {0:counter}, and the same row pushed together below.",
    "moved: spread out": "A row of {0:counter}, and the same row spread out below.",
    "numeral": "The numeral {0} to trace. {ways}",
    "part and whole": "Part–whole picture. Whole: {whole}. Parts: {listed}.",
    "plates": "{0:plate} with {listed} counters.",
    "plates and loose counters": "{0:counter} not on a plate yet, and {plates}",
    "plates, empty": "{0:plate} with nothing on.",
    "row": "A row: {listed}.",
    "square": "Numbers {0} to {1} in rows of ten",
    "square, first or last hidden": "{0} numbers in rows of ten",
    "square: empty and shaded": "{0:empty square} shaded",
    "square: left empty": "{0:square} left empty",
    "square: shaded": "{listed} shaded",
    "tally": "A tally of {0}.",
    "tally of nothing": "A tally with no strokes yet: 0.",
    "ten frame": "A ten frame with {0:counter}.",
    "ten frames": "Two ten frames with {0} counters: 10 in the first, {1} in the second.",
    "things": "{0:things}.",
    "things, some crossed out": "{0:things}, {1} of them crossed out.",
    "two boxes": "Two boxes: {0:dot} on the left, {1:dot} on the right.",
    "two lots": "Two lots: {0:solid counter} and {1:outlined counter}.",
    "two rows": "Two rows lined up: {0:solid counter} above, {1:outlined counter} below.",
}
