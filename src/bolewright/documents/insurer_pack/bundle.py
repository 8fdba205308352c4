"""Papers, data and photographs in one zip file, with the SHA-256 of each; the same bytes for the same content anywhere.

Originals are copied from where they are kept a piece at a time, so a job may have gigabytes of them.
"""

from __future__ import annotations

import hashlib
import io
import shutil
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from typing import BinaryIO

from bolewright.documents.given import Given
from bolewright.documents.insurer_pack.originals import Original, drawn_on, originals, too_much
from bolewright.documents.insurer_pack.tables import as_csv, data_files

MANIFEST = "manifest.sha256"
CONTENTS = "contents.csv"
READ_ME = """What is in this file
papers/        the papers as PDF; insurer-pack.pdf has a table of contents
data/          the same in numbers: CSV with the unit in the name of the column, and JSON; forces in N, masses in kg
photographs/   {photographs}
contents.csv   every file with its size and SHA-256
manifest.sha256  the same hashes for checking: sha256sum -c manifest.sha256

Photographs are listed with their hashes in data/photographs.csv. Copies that somebody drew on are in
photographs/drawn-on; nothing is drawn on an original.
Nothing here says what an insurance policy will pay.
"""
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can name; no clock is read


@dataclass(frozen=True)
class Pack:
    """The content of the zip. Files are stored, not squeezed: compressors differ from machine to machine."""

    files: Mapping[str, bytes]
    originals: tuple[Original, ...] = ()

    def write(self, out: BinaryIO) -> None:
        """Write the zip into a file that can be gone back in."""
        names = {one.name: one for one in self.originals}
        with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as opened:
            for name in sorted([*self.files, *names]):
                if name in names:
                    _copy(opened, names[name])
                else:
                    opened.writestr(_entry(name), self.files[name])

    def __bytes__(self) -> bytes:
        """The zip in memory."""
        made = io.BytesIO()
        self.write(made)
        return made.getvalue()


def pack(papers: Mapping[str, bytes], given: Given) -> Pack:
    """The papers with the data of the job, its photographs, and the hash of every file."""
    kept = originals(given)
    files = {
        "READ-ME.txt": READ_ME.format(photographs=_words(given, kept)).encode("utf-8"),
        **{f"papers/{name}": content for name, content in papers.items()},
        **data_files(given),
        **drawn_on(given),
    }
    rows = [(name, len(content), _hash(content)) for name, content in files.items()]
    rows += [(one.name, one.size, one.sha256) for one in kept]
    files[CONTENTS] = as_csv(("file", "bytes", "sha256"), sorted(rows))
    listed = sorted([*((name, digest) for name, _, digest in rows), (CONTENTS, _hash(files[CONTENTS]))])
    files[MANIFEST] = "".join(f"{digest}  {name}\n" for name, digest in listed).encode("utf-8")
    return Pack(files, kept)


def _words(given: Given, kept: tuple[Original, ...]) -> str:
    if kept:
        return "the originals as they came, under their numbers, with the time and place the camera wrote into them"
    return too_much(given) or "no original is in this file: they are handed over apart, as they came"


def _copy(opened: zipfile.ZipFile, one: Original) -> None:
    entry = _entry(one.name)
    entry.file_size = one.size
    with one.place.open("rb") as original, opened.open(entry, "w") as inside:
        shutil.copyfileobj(original, inside, 1 << 20)


def _entry(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, _FIRST_DAY)
    entry.create_system = 3
    entry.external_attr = 0o100644 << 16
    return entry


def _hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
