"""Papers and data in one zip file, with the SHA-256 of each; the same bytes for the same content on every machine."""

from __future__ import annotations

import hashlib
import io
import zipfile
from collections.abc import Mapping

from bolewright.documents.insurer_pack.tables import as_csv

MANIFEST = "manifest.sha256"
CONTENTS = "contents.csv"
READ_ME = """What is in this file
papers/        the papers as PDF; insurer-pack.pdf has a table of contents
data/          the same in numbers: CSV with the unit in the name of the column, and JSON; forces in N, masses in kg
contents.csv   every file with its size and SHA-256
manifest.sha256  the same hashes for checking: sha256sum -c manifest.sha256

Photographs are listed with their hashes in data/photographs.csv; originals are handed over apart, as they came.
Nothing here says what an insurance policy will pay.
"""
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can name; no clock is read


def bundle(papers: Mapping[str, bytes], data: Mapping[str, bytes]) -> bytes:
    """The zip. Files are stored, not squeezed: compressors differ from machine to machine."""
    files = {
        "READ-ME.txt": READ_ME.encode("utf-8"),
        **{f"papers/{name}": content for name, content in papers.items()},
        **data,
    }
    rows = [(name, len(content), _hash(content)) for name, content in sorted(files.items())]
    files[CONTENTS] = as_csv(("file", "bytes", "sha256"), rows)
    manifest = "".join(f"{_hash(content)}  {name}\n" for name, content in sorted(files.items()))
    files[MANIFEST] = manifest.encode("utf-8")
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_STORED) as opened:
        for name, content in sorted(files.items()):
            opened.writestr(_entry(name), content)
    return made.getvalue()


def _entry(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, _FIRST_DAY)
    entry.create_system = 3
    entry.external_attr = 0o100644 << 16
    return entry


def _hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
