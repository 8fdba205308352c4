"""Photographs over the page: kept untouched, shown smaller, refused in words, once only, waived with a reason."""

from __future__ import annotations

import hashlib
import io
import sys
from pathlib import Path
from typing import Any

import pillow_heif
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from bolewright.store.models.kept import WrittenOnce
from bolewright.store.pictures import LARGEST_FILE
from bolewright.web.records import records_of

pytestmark = pytest.mark.django_db


def photograph(kind: str = "JPEG", size: tuple[int, int] = (640, 480), colour: str = "brown") -> bytes:
    """A picture with the camera's time and place in it."""
    out = io.BytesIO()
    exif = Image.Exif()
    exif[0x0132] = "2026:04:11 06:45:10"
    exif.get_ifd(0x8825).update({1: "N", 2: (41.0, 30.0, 36.0), 3: "W", 4: (73.0, 15.0, 0.0)})
    Image.new("RGB", size, colour).save(out, kind, exif=exif)
    return out.getvalue()


def send(client: Client, job: Any, content: bytes, name: str = "a.jpg", **more: str) -> Any:
    """Post one file."""
    return client.post(f"/job/{job.key}/photos/add", {"file": SimpleUploadedFile(name, content), **more})


def test_a_photograph_is_kept_as_it_came(client: Client, kept: Any, data: Path) -> None:
    """Original byte for byte with hash, time, place, who and facing; the copy on the page carries no camera data."""
    job, content = kept(), photograph()
    client.cookies["bolewright-who"] = "Ann"
    assert send(client, job, content, view="butt", facing="NE").status_code == 302
    photo = job.photos.get()
    assert photo.sha256 == hashlib.sha256(content).hexdigest()
    assert (photo.by, photo.facing, photo.taken, photo.view) == ("Ann", "NE", "2026:04:11 06:45:10", "butt")
    assert photo.place == "41.51000 N, 73.25000 W"
    original = client.get(f"/job/{job.key}/photos/1/original")
    assert b"".join(original.streaming_content) == content  # type: ignore[attr-defined]
    copy = b"".join(client.get(f"/job/{job.key}/photos/1/copy").streaming_content)  # type: ignore[attr-defined]
    assert dict(Image.open(io.BytesIO(copy)).getexif()) == {}
    page = client.get(f"/job/{job.key}/photos/1").content.decode()
    assert "as it came: its hash agrees" in page
    (place,) = (data / "photographs").rglob("*.jpg")
    place.write_bytes(content[:-1] + b"x")
    assert "not as it came" in client.get(f"/job/{job.key}/photos/1").content.decode()


def test_a_note_stands_beside_what_the_camera_wrote(client: Client, kept: Any, data: Path) -> None:
    """The newest note stands on the page and in the photo log; earlier ones, the camera's data and the file stay as
    they were; the same words again are no new note, and none can be altered."""
    job, content = kept(), photograph()
    send(client, job, content, facing="NE")
    client.cookies["bolewright-who"] = "Ann"
    address = f"/job/{job.key}/photos/1/note"
    for shows in ("gutter, torn", "gutter and fascia, torn", "gutter and fascia, torn"):
        said = {"shows": shows, "facing": "NW", "taken": "2026-04-11 07:45"}
        assert client.post(address, said).status_code == 302
    photo = job.photos.get()
    assert [(n.shows, n.by) for n in photo.notes.all()] == [("gutter, torn", "Ann"), ("gutter and fascia, torn", "Ann")]
    assert photo.sha256 == hashlib.sha256(content).hexdigest()
    assert (photo.taken, photo.facing) == ("2026:04:11 06:45:10", "NE")
    page = client.get(f"/job/{job.key}/photos/1").content.decode()
    assert 'value="gutter and fascia, torn"' in page
    assert "gutter, torn" in page
    (row,) = records_of(job, job.latest, None, data).photos
    assert (row.shows, row.facing, row.taken) == ("gutter and fascia, torn", "NW", "2026-04-11 07:45")
    with pytest.raises(WrittenOnce):
        photo.notes.first().save()


def test_the_same_photograph_sent_twice_is_kept_once(client: Client, kept: Any) -> None:
    """As after a lost connection; for another view it counts again."""
    job, content = kept(), photograph()
    for view in ("butt", "butt", "lines"):
        send(client, job, content, view=view)
    assert [p.number for p in job.photos.all()] == [1, 2]


def heic() -> bytes:
    """What a telephone sends: made here, held upright, with the camera's time and place in it."""
    pillow_heif.register_heif_opener()
    out, exif = io.BytesIO(), Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8769)[0x9003] = "2026:04:11 06:45:10"
    exif.get_ifd(0x8825).update({1: "S", 2: (33.0, 51.0, 30.0), 3: "E", 4: (151.0, 12.0, 36.0)})
    Image.linear_gradient("L").resize((320, 240)).convert("RGB").save(out, "HEIF", exif=exif.tobytes())
    return out.getvalue()


def test_a_heic_photograph_is_kept_as_it_came(client: Client, kept: Any, data: Path) -> None:
    """Byte for byte, with hash, time and place; the copy for the page is an upright JPEG."""
    job, content = kept(), heic()
    assert content[4:12] == b"ftypheic"
    assert send(client, job, content, name="IMG_0417.HEIC", view="lines").status_code == 302
    photo = job.photos.get()
    assert photo.sha256 == hashlib.sha256(content).hexdigest()
    assert (photo.kind, photo.taken, photo.place) == ("HEIF", "2026:04:11 06:45:10", "33.85833 S, 151.21000 E")
    original = client.get(f"/job/{job.key}/photos/1/original")
    assert b"".join(original.streaming_content) == content  # type: ignore[attr-defined]
    copy = b"".join(client.get(f"/job/{job.key}/photos/1/copy").streaming_content)  # type: ignore[attr-defined]
    shown = Image.open(io.BytesIO(copy))
    assert (shown.format, shown.size, dict(shown.getexif())) == ("JPEG", (240, 320), {})
    assert [p.suffix for p in (data / "photographs").rglob("*.*")] == [".heic"]


def test_without_the_reader_heic_is_refused_with_what_to_do(
    client: Client, kept: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Install the reader, or send JPEG; the original stays on the telephone."""
    content = heic()
    monkeypatch.setitem(sys.modules, "pi_heif", None)
    answer = send(client, kept(), content, name="IMG_0417.HEIC")
    assert answer.status_code == 422
    assert b"IMG_0417.HEIC: This photograph is HEIC" in answer.content
    assert b"take JPEG" in answer.content


def bomb() -> bytes:
    """100 megapixels in a few kB."""
    out = io.BytesIO()
    Image.new("1", (10_000, 10_000)).save(out, "PNG")
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (lambda: b"", "empty"),
        (lambda: b"GIF89a not one", "not a photograph"),
        (lambda: b"%PDF-1.7", "not a photograph"),
        (lambda: photograph()[:-2000], "cut short or damaged"),
        (lambda: photograph("PNG")[:-200], "cut short or damaged"),
        (bomb, "million pixels"),
        (lambda: photograph(size=(100, 90)), "only 100 by 90"),
        (lambda: b"\x00\x00\x00\x18ftypheic" + b"\x00" * 400, "cut short or damaged"),
        (lambda: heic()[:-200], "cut short or damaged"),
    ],
)
def test_what_is_no_photograph_is_refused_in_words(
    client: Client, kept: Any, data: Path, content: Any, words: str
) -> None:
    """Which file and why; nothing of it is kept; a good one sent along is."""
    job = kept()
    files = [SimpleUploadedFile("bad.jpg", content()), SimpleUploadedFile("good.jpg", photograph())]
    answer = client.post(f"/job/{job.key}/photos/add", {"file": files, "view": "butt"})
    assert answer.status_code == 422
    assert "bad.jpg: " in answer.content.decode()
    assert words in answer.content.decode()
    assert job.photos.count() == 1
    assert len(list((data / "photographs").rglob("*.*"))) == 1


def test_a_file_that_is_too_large_is_refused(client: Client, kept: Any) -> None:
    """Before it is opened."""
    answer = send(client, kept(), photograph() + b"\x00" * LARGEST_FILE)
    assert answer.status_code == 422
    assert b"the limit is 40 MB" in answer.content


def test_a_view_is_waived_with_reason_and_name_only(client: Client, kept: Any) -> None:
    """Each missing one is told; then it stands with both."""
    job = kept()
    place = f"/job/{job.key}/photos/waive"
    assert b"Write down why" in client.post(place, {"view": "butt", "reason": " ", "by": "Ann"}).content
    assert b"Write down who" in client.post(place, {"view": "butt", "reason": "under water"}).content
    assert client.post(place, {"view": "butt", "reason": "under water", "by": "Ann"}).status_code == 302
    page = client.get(f"/job/{job.key}/photos").content.decode()
    assert "Done without: under water (Ann" in page


def test_names_of_files_are_only_names(client: Client, kept: Any, data: Path) -> None:
    """A name with a path in it writes nowhere else and comes back as text."""
    job = kept()
    send(client, job, photograph(), name="../../<b>evil.jpg", view="")
    assert {p.parent.parent.name for p in data.rglob("*.jpg")} == {"photographs", "photograph-copies"}
    assert b"<b>evil" not in client.get(f"/job/{job.key}/photos/1").content


def test_large_photographs_come_down_to_a_copy(client: Client, kept: Any) -> None:
    """12 megapixels in, at most 1600 pixels out."""
    job = kept()
    send(client, job, photograph(size=(4000, 3000)))
    copy = b"".join(client.get(f"/job/{job.key}/photos/1/copy").streaming_content)  # type: ignore[attr-defined]
    assert Image.open(io.BytesIO(copy)).size == (1600, 1200)


def test_a_file_gone_from_the_folder_is_told(client: Client, kept: Any, data: Path) -> None:
    """The page of the photograph says so, and asking for the file is no error of ours."""
    job = kept()
    send(client, job, photograph(), view="butt")
    for place in (*(data / "photographs").rglob("*.jpg"), *(data / "photograph-copies").rglob("*.jpg")):
        place.unlink()
    assert "not as it came, or gone" in client.get(f"/job/{job.key}/photos/1").content.decode()
    for part in ("original", "copy", "marked.svg", "marks"):
        answer = client.get(f"/job/{job.key}/photos/1/{part}")
        assert answer.status_code == 404
        assert b"put the folder back from a backup" in answer.content
