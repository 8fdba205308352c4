"""Drawing on a copy: kept as data beside the file, by numbers or taps, taken back, printed beside the file's hash."""

from __future__ import annotations

import base64
import hashlib
import io
import re
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from PIL import Image
from tests.functional.test_web_photos import send

from bolewright.documents import photo_log
from bolewright.documents.insurer_pack.tables import data_files
from bolewright.documents.paper import contents, printed, text_lines
from bolewright.job.syntax import tables_of
from bolewright.store.models.kept import WrittenOnce
from bolewright.web.records import given, records_of

SMALL = Path(__file__).parent / "data" / "small-stem.toml"
pytestmark = pytest.mark.django_db


def turned() -> bytes:
    """A photograph the camera held upright: 1600 by 1200 on file, 1200 by 1600 to look at."""
    out, exif = io.BytesIO(), Image.Exif()
    exif[0x0112] = 6
    Image.new("RGB", (1600, 1200), "tan").save(out, "JPEG", exif=exif)
    return out.getvalue()


@pytest.fixture
def photo(client: Client, kept: Any) -> Any:
    """A job's one photograph."""
    job = kept(tables_of(SMALL.read_text(encoding="utf-8")))
    client.cookies["bolewright-who"] = "Ann"
    send(client, job, turned(), view="butt")
    return job.photos.get()


def draw(client: Client, photo: Any, kind: str, *places: float, **more: str) -> Any:
    """Send the form as a browser does."""
    numbers = dict(zip(("x1", "y1", "x2", "y2"), map(str, places), strict=False))
    address = f"/job/{photo.job.key}/photos/1/marks"
    return client.post(address, {"kind": kind, "shown": "1500", "draw": "1", **numbers, **more})


def test_drawn_on_a_copy_and_never_on_the_file(client: Client, photo: Any, data: Path) -> None:
    """Arrow, words, scale, length: kept with name and time; the file keeps its hash; all of it on paper beside that."""
    assert draw(client, photo, "arrow", 10, 10, 50, 40, words="flashing torn").status_code == 302
    draw(client, photo, "text", "5", "5", words="before the first cut")
    draw(client, photo, "scale", 10, 80, 60, 80, measure="2 ft 8 in")
    draw(client, photo, "length", 20, 30, 20, 60, words="opening")
    assert [(m.kind, m.by) for m in photo.marks.all()] == [(k, "Ann") for k in ("arrow", "text", "scale", "length")]
    with pytest.raises(WrittenOnce):
        photo.marks.first().delete()
    (place,) = (data / "photographs").rglob("*.jpg")
    assert hashlib.sha256(place.read_bytes()).hexdigest() == photo.sha256 == hashlib.sha256(turned()).hexdigest()

    # 50 % of 1200 pixels are 32 in; 30 % of 1600 pixels are 25.6 in; 8 of 1500 pixels off at each of four ends.
    answer = client.get(f"/job/{photo.job.key}/photos/1/marked.svg")
    drawing = answer.content.decode()
    assert answer["Content-Type"] == "image/svg+xml"
    assert 'viewBox="0 0 900 1200"' in drawing  # upright, as it is looked at
    picture = base64.b64decode(re.search(r"base64,([^\"]+)", drawing)[1])  # type: ignore[index]
    assert Image.open(io.BytesIO(picture)).size == (1200, 1600)
    assert "opening: 26 in (25 to 26)" in drawing
    assert "scale 2 ft 8 in" in drawing
    page = client.get(f"/job/{photo.job.key}/photos/1").content.decode()
    assert "it holds only in the plane of the scale" in page

    records = records_of(photo.job, photo.job.latest, None, data)
    found = given(photo.job.latest.text, "", records, pictures=True)
    assert found is not None
    made = printed(photo_log.PAPER, found)
    assert made.accessible
    lines = "\n".join(text_lines(contents(photo_log.PAPER, found)))
    assert "opening: 26 in (25 to 26), Ann, " in lines
    assert f"SHA-256 {photo.sha256}" in lines
    assert "flashing torn" in data_files(found)["data/photographs.csv"].decode()


@pytest.mark.parametrize(
    ("kind", "places", "more", "words"),
    [
        ("arrow", (10, 10), {}, "Tap where it ends"),
        ("arrow", (), {}, "Tap the place"),
        ("arrow", (10, 10, 10.1, 10.1), {}, "the same"),
        ("arrow", (10, 10, 101, 10), {}, "outside the picture"),
        ("text", (10, 10), {}, "Write the words"),
        ("scale", (10, 10, 90, 10), {"measure": ""}, "How long is the scale?"),
        ("scale", (10, 10, 90, 10), {"measure": "80"}, "How long is the scale?"),
        ("scale", (10, 10, 90, 10), {"measure": "0 cm"}, "longer than nothing"),
        ("scale", (10, 10, 12, 10), {"measure": "80 cm"}, "too near to each other"),
        ("length", (10, 10, 90, 10), {}, "Draw a scale first"),
    ],
)
def test_what_cannot_be_drawn_is_said_and_stays_typed(
    client: Client, photo: Any, kind: str, places: Any, more: Any, words: str
) -> None:
    """One sentence; nothing is kept; what was typed still stands in the form."""
    answer = draw(client, photo, kind, *places, **{"words": "" if kind == "text" else "roof", **more})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert words in page
    assert photo.marks.count() == 0
    for value in (*places, *more.values()):
        assert f'value="{value}"' in page


def test_two_taps_without_scripting(client: Client, photo: Any) -> None:
    """The browser sends where the picture was tapped; the page comes back with the cross, and nothing is kept before
    Draw it. A further tap moves the nearer cross; a key pressed on the picture is no tap."""
    address = f"/job/{photo.job.key}/photos/1/marks"
    form = {"kind": "arrow", "words": "hinge", "shown": "760"}  # shown 570 wide, 760 high
    form |= sent(client.post(address, {**form, "at.x": "57", "at.y": "76"}))
    assert (form["x1"], form["y1"], form["x2"]) == ("10.00", "10.00", "")
    form |= sent(client.post(address, {**form, "at.x": "0", "at.y": "0"}))
    assert form["x2"] == ""
    form |= sent(client.post(address, {**form, "at.x": "456", "at.y": "380"}))
    assert (form["x2"], form["y2"], form["words"]) == ("80.00", "50.00", "hinge")
    form |= sent(client.post(address, {**form, "at.x": "114", "at.y": "76"}))
    assert (form["x1"], form["x2"]) == ("20.00", "80.00")
    form |= sent(client.post(address, {**form, "to": "360"}))
    assert (form["shown"], form["x1"]) == ("360", "20.00")
    assert photo.marks.count() == 0
    client.post(address, {**form, "draw": "1"})
    mark = photo.marks.get()
    assert (mark.x1, mark.y1, mark.x2, mark.y2) == (0.2, 0.1, 0.8, 0.5)
    assert mark.tap == pytest.approx(8 / 360)  # a small picture is tapped less closely


def sent(answer: Any) -> dict[str, str]:
    """The form as it came back."""
    page = answer.content.decode()
    assert answer.status_code == 200
    return {name: re.search(rf'name="{name}" value="([^"]*)"', page)[1]  # type: ignore[index]
            for name in ("x1", "y1", "x2", "y2", "words", "shown")}  # fmt: skip


def test_a_mark_is_taken_back_with_what_was_read_by_it(client: Client, photo: Any, data: Path) -> None:
    """The rows stay with both names; the drawing is without them; a second time says so."""
    draw(client, photo, "scale", 10, 80, 60, 80, measure="80 cm")
    draw(client, photo, "length", 20, 30, 20, 60)
    draw(client, photo, "arrow", 10, 10, 50, 40)
    scale = photo.marks.first()
    client.cookies["bolewright-who"] = "Bo"
    back = f"/job/{photo.job.key}/photos/1/marks/back"
    assert client.post(back, {"mark": str(scale.pk)}).status_code == 302
    assert "no such mark" in client.post(back, {"mark": str(scale.pk)}).content.decode()
    assert [(m.kind, m.by) for m in photo.marks.all()][3:] == [("taken back", "Bo")] * 2
    assert b"80 cm" not in client.get(f"/job/{photo.job.key}/photos/1/marked.svg").content
    (row,) = records_of(photo.job, photo.job.latest, None, data).photos
    assert [m.kind for m in row.drawn] == ["arrow"]
    assert "Taken back" in client.get(f"/job/{photo.job.key}/photos/1/marks").content.decode()


def test_marks_of_a_tablet_come_in_once_and_keep_their_scale(client: Client, photo: Any) -> None:
    """Sent later under keys of their own: the scale of a length is the one it names, whoever drew another one; without
    it the length is refused in words. What somebody else took back first is no fault, and twice is once."""
    late = {"Entry-Made": "2026-03-01T10:00:00Z"}
    keys = [f"0123456789abcdef-{n}" for n in range(5)]

    def entry(n: int, kind: str, *places: float, **more: str) -> Any:
        numbers = dict(zip(("x1", "y1", "x2", "y2"), map(str, places), strict=False))
        posted = {"kind": kind, "shown": "1500", "draw": "1", **numbers, **more}
        address = f"/job/{photo.job.key}/photos/1/marks"
        return client.post(address, posted, headers={"Entry-Key": keys[n], **late}).json()

    draw(client, photo, "scale", 10, 80, 60, 80, measure="2 ft")
    assert entry(0, "scale", 10, 90, 60, 90, measure="3 ft")["taken"]
    draw(client, photo, "scale", 10, 85, 60, 85, measure="9 ft")
    for _ in "twice":
        assert entry(1, "length", 20, 30, 20, 60, scale=keys[0])["taken"]
    length = photo.marks.get(kind="length")
    assert length.of.measure == "3 ft"
    assert f"{length.drawn_at:%H:%M}" == "10:00"
    back = f"/job/{photo.job.key}/photos/1/marks/back"
    client.post(back, {"mark": length.of_id})
    refused = entry(2, "length", 20, 30, 20, 60, scale=keys[0])
    assert not refused["taken"]
    assert "taken back meanwhile" in refused["said"][0]
    again = client.post(back, {"mark": length.of_id}, headers={"Entry-Key": keys[3], **late}).json()
    assert again["taken"]
    assert again["said"] == ["It was taken back already."]
    assert not client.post(back, {"mark": "999"}, headers={"Entry-Key": keys[4], **late}).json()["taken"]
    assert photo.marks.filter(kind="taken back").count() == 2  # the scale, and the length read by it
