"""What libraries and programs of others read in a file: its format, and what it tells.

ExifRead and MediaInfo come with the tests; ExifTool and FFmpeg's programs are asked where they are.
"""

import io
import json
import struct
import subprocess
from pathlib import Path
from typing import Any

import exifread
from pymediainfo import MediaInfo

from tests.programs import program

HEADER = b"Exif\x00\x00"
# What would tell a place, device, person or time, in the names that the readers give.
TELLING = ("gps", "make", "model", "software", "lens", "serial", "location", "author", "artist",
           "comment", "copyright", "title", "encoder", "vendor", "xmp", "iptc", "icc", "xyz",
           "thumbnail", "creat", "performer", "writing", "encod", "tagged")  # fmt: skip
# What describes the file or its pixels; everything else would be metadata.
PLAIN_GROUPS = {"SourceFile", "ExifTool", "System", "File", "Composite", "JFIF"}
NO_TIME = "0000:00:00 00:00:00"


def exif_of(path: Path) -> dict[str, str]:
    """Return the EXIF that ExifRead finds in the photo at *path*, by group and name."""
    content = path.read_bytes()
    if content[4:8] == b"ftyp":
        # It knows HEIC as one maker writes it: what is given to it is the EXIF inside.
        content = content[content.rindex(HEADER) + len(HEADER) :] if HEADER in content else b""
    if not content:
        return {}
    return {key: str(value) for key, value in exifread.process_file(io.BytesIO(content)).items()}


def tracks_of(path: Path) -> dict[str, dict[str, Any]]:
    """Return what MediaInfo reads in *path*: of the whole (General) and of each kind of track."""
    return {track.track_type: track.to_data() for track in MediaInfo.parse(path).tracks}


def segments_of(path: Path) -> set[int]:
    """Return the markers of the segments of the JPEG at *path* before its pixels.

    Source: ITU-T T.81, annex B.1.1: marker, then a length that counts itself.
    """
    content, at, found = path.read_bytes(), 2, set()
    while content[at + 1] != 0xDA:
        assert content[at] == 0xFF
        found.add(content[at + 1])
        at += 2 + int.from_bytes(content[at + 2 : at + 4])
    return found


def told_by(path: Path) -> dict[str, Any]:
    """Return what ExifRead and MediaInfo find in *path* of a place, device, person or time."""
    read: dict[str, Any] = dict(exif_of(path))
    for kind, track in tracks_of(path).items():
        read |= {f"{kind} {key}": value for key, value in track.items() if is_inside(key)}
    return {
        key: value for key, value in read.items() if any(word in key.lower() for word in TELLING)
    }


def is_inside(key: str) -> bool:
    """Whether MediaInfo's *key* is about what is in the file, not about its name and times."""
    return not key.startswith(("file_", "other_", "complete_name", "folder_name"))


def places_in(path: Path) -> list[str]:
    """Return the places that ExifRead and MediaInfo find in *path*."""
    told = told_by(path).items()
    return [*(f"{key}: {value}" for key, value in told if is_place(key)), *location_boxes(path)]


def location_boxes(path: Path) -> list[str]:
    """Return the places in the location boxes of the 3GP at *path*, which MediaInfo passes over.

    Source: 3GPP TS 26.244, table 8.10: after version, language, name and role, 16.16 each.
    """
    found = []
    for box in path.read_bytes().split(b"loci")[1:]:
        at = box.index(b"\x00", 6) + 2
        longitude, latitude = struct.unpack(">2i", box[at : at + 8])
        found.append(f"{latitude / 65536:.4f} {longitude / 65536:.4f}")
    return found


def is_place(key: str) -> bool:
    """Whether *key* names a place."""
    return any(word in key.lower() for word in ("gpslatitude", "xyz", "location"))


def exiftool(path: Path) -> dict[str, Any]:
    """Return every tag ExifTool finds in *path*, unknown ones too, by group and name."""
    command = [program("exiftool"), "-json", "-G1", "-a", "-u", "-U", "-ee", path]
    run = subprocess.run(command, capture_output=True, check=True, timeout=60)
    return json.loads(run.stdout)[0]


def told_by_exiftool(path: Path) -> dict[str, Any]:
    """Return the tags that ExifTool finds in *path* of a place, device, person or time."""
    tags = {
        key: value
        for key, value in exiftool(path).items()
        if key.split(":")[0] not in PLAIN_GROUPS and value != NO_TIME
    }
    return {
        key: value for key, value in tags.items() if any(word in key.lower() for word in TELLING)
    }


def ffprobe(path: Path) -> dict[str, Any]:
    """Return what FFmpeg reads of the container at *path*."""
    command = [program("ffprobe"), "-v", "error", "-of", "json", "-show_format", "-show_streams"]
    run = subprocess.run(
        [*command, "-show_chapters", path], capture_output=True, check=True, timeout=60
    )
    return json.loads(run.stdout)
