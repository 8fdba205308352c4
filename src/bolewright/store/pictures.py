"""Photographs let in: looked at before they are kept, the original kept byte for byte, a smaller copy for the page."""

from __future__ import annotations

import hashlib
import io
import os
import tempfile
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from PIL import ExifTags, Image, ImageOps, UnidentifiedImageError

LARGEST_FILE = 40_000_000  # bytes
MOST_PIXELS = 60_000_000
SMALLEST = 200  # pixels on a side: less shows nothing
COPY_SIZE = 1600
KINDS = ("JPEG", "PNG", "WEBP")  # a JPEG with several pictures in it opens as MPO
SUFFIX = {"JPEG": ".jpg", "MPO": ".jpg", "PNG": ".png", "WEBP": ".webp", "HEIF": ".heic"}
_CUT_SHORT = "This photograph is cut short or damaged, so nothing was kept of it: send it again, or take it again."
_HEIC_BRANDS = (b"heic", b"heix", b"mif1", b"msf1", b"hevc")


class NotAPhoto(ValueError):
    """A file that is not let in; the message is one plain sentence that says what to do."""


@dataclass(frozen=True)
class Picture:
    """What was found out about a file, with its copy for the page as JPEG."""

    sha256: str
    kind: str
    size: int
    width: int
    height: int
    taken: str
    place: str
    content: bytes
    copy: bytes


def looked_at(file: BinaryIO, size: int | None = None) -> Picture:
    """The picture in an uploaded file. Raises NotAPhoto for what is too large, cut short, or no picture."""
    if size is not None and size > LARGEST_FILE:
        raise NotAPhoto(_too_large(size))
    content = file.read(LARGEST_FILE + 1)
    if len(content) > LARGEST_FILE:
        raise NotAPhoto(_too_large(len(content)))
    if not content:
        raise NotAPhoto("This file is empty: take or choose the photograph again.")
    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        return _opened(content)


def _opened(content: bytes) -> Picture:
    try:
        with Image.open(io.BytesIO(content), formats=(*KINDS, *_heic_formats())) as image:
            _check_size(image.width, image.height)
            kind, width, height = str(image.format), image.width, image.height
            taken, place = _camera_words(image)
            copy = _copy(image)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise NotAPhoto(_too_many_pixels()) from None
    except UnidentifiedImageError:
        raise NotAPhoto(_not_a_picture(content)) from None
    except (OSError, SyntaxError, ValueError, EOFError) as fault:
        if isinstance(fault, NotAPhoto):
            raise
        raise NotAPhoto(_CUT_SHORT) from None
    digest = hashlib.sha256(content).hexdigest()
    return Picture(digest, kind, len(content), width, height, taken, place, content, copy)


def _check_size(width: int, height: int) -> None:
    if width * height > MOST_PIXELS:
        raise NotAPhoto(_too_many_pixels())
    if min(width, height) < SMALLEST:
        raise NotAPhoto(
            f"This picture is only {width} by {height} pixels: send the photograph itself, not its preview."
        )


def _copy(image: Image.Image) -> bytes:
    """An upright copy without the camera's data. Reading it to the end shows whether the file is whole."""
    if image.format in ("JPEG", "MPO"):
        image.draft("RGB", (COPY_SIZE, COPY_SIZE))
    image.load()
    upright = ImageOps.exif_transpose(image)
    upright.thumbnail((COPY_SIZE, COPY_SIZE))
    out = io.BytesIO()
    upright.convert("RGB").save(out, "JPEG", quality=82)
    return out.getvalue()


def _camera_words(image: Image.Image) -> tuple[str, str]:
    """Time and place as the camera wrote them, "" where it did not."""
    try:
        exif = image.getexif()
        inner = exif.get_ifd(ExifTags.IFD.Exif)
        taken = str(inner.get(ExifTags.Base.DateTimeOriginal) or exif.get(ExifTags.Base.DateTime) or "")
        return _printable(taken)[:40], _place(exif.get_ifd(ExifTags.IFD.GPSInfo))
    except Exception:  # a camera may write anything there; the picture itself is what counts
        return "", ""


def _place(gps: dict[int, object]) -> str:
    values = [gps.get(k) for k in (ExifTags.GPS.GPSLatitude, ExifTags.GPS.GPSLongitude)]
    marks = [str(gps.get(k) or "") for k in (ExifTags.GPS.GPSLatitudeRef, ExifTags.GPS.GPSLongitudeRef)]
    if not all(isinstance(v, tuple) and len(v) == 3 for v in values):
        return ""
    degrees = [float(v[0]) + float(v[1]) / 60 + float(v[2]) / 3600 for v in values]  # type: ignore[index]
    return ", ".join(f"{value:.5f} {_printable(mark)[:1]}" for value, mark in zip(degrees, marks, strict=True))


def _printable(text: str) -> str:
    return "".join(c for c in text if c.isprintable()).strip()


def _heic_formats() -> tuple[str, ...]:
    """HEIF too where the reader for it is installed."""
    try:
        import pi_heif
    except ImportError:
        return ()
    pi_heif.register_heif_opener()
    return ("HEIF",)


def _not_a_picture(content: bytes) -> str:
    if content[4:8] == b"ftyp" and content[8:12] in _HEIC_BRANDS:
        if _heic_formats():
            return _CUT_SHORT
        return (
            "This photograph is HEIC, which this installation cannot read, because the package pi-heif is missing: "
            "install it, or set the phone to take JPEG (most compatible). Keep the original on the phone."
        )
    return "This file is not a photograph that can be read: send a JPEG, HEIC, PNG or WebP picture."


def _too_large(size: int) -> str:
    return f"This file has {size / 1e6:.0f} MB, the limit is {LARGEST_FILE / 1e6:.0f} MB: send a smaller photograph."


def _too_many_pixels() -> str:
    return (
        f"This picture has more than {MOST_PIXELS / 1e6:.0f} million pixels: set the camera to a smaller picture and "
        "take it again. Keep the large one on the phone."
    )


def keep(folder: Path, picture: Picture) -> None:
    """Write original and copy under their hash, each whole or not at all; one already there is left alone."""
    for place, content in (
        (original_place(folder, picture.sha256, picture.kind), picture.content),
        (copy_place(folder, picture.sha256), picture.copy),
    ):
        if not place.exists():
            _write_whole(place, content)


def original_place(folder: Path, sha256: str, kind: str) -> Path:
    """Where an original is kept."""
    return folder / "photographs" / sha256[:2] / (sha256 + SUFFIX.get(kind, ".bin"))


def copy_place(folder: Path, sha256: str) -> Path:
    """Where the copy for the page is kept."""
    return folder / "photograph-copies" / sha256[:2] / f"{sha256}.jpg"


def _write_whole(place: Path, content: bytes) -> None:
    place.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=place.parent)
    try:
        with os.fdopen(handle, "wb") as opened:
            opened.write(content)
            opened.flush()
            os.fsync(opened.fileno())
        os.replace(name, place)
    except OSError:
        Path(name).unlink(missing_ok=True)
        raise


def is_untouched(folder: Path, sha256: str, kind: str) -> bool:
    """Whether the original on disk still has the hash it came with."""
    place = original_place(folder, sha256, kind)
    return place.is_file() and hashlib.sha256(place.read_bytes()).hexdigest() == sha256


def size_of(place: Path) -> tuple[int, int]:
    """Width and height of a kept copy [pixels]."""
    with Image.open(place) as image:
        return image.size


def small_copy(place: Path, most: int) -> tuple[bytes, tuple[int, int]] | None:
    """A copy small enough for paper, as JPEG, with its size; None when there is no picture to make it from."""
    try:
        with Image.open(place) as image:
            upright = ImageOps.exif_transpose(image)
            upright.thumbnail((most, most))
            out = io.BytesIO()
            upright.convert("RGB").save(out, "JPEG", quality=72)
            return out.getvalue(), upright.size
    except (OSError, ValueError):
        return None
