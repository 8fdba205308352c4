"""The same sheets in two renderers: a browser measures the text itself, the typesetter takes them without a warning."""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from svg_reading import Item, overlaps

from bolewright.drawings.photo_marks import PhotoMark, marked_photo
from bolewright.drawings.type_widths import Box

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
FLAGS = ["--headless", "--no-sandbox", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync", "--dump-dom"]  # fmt: skip
SCRIPT = """<script>
const all = {};
for (const svg of document.querySelectorAll('svg')) {
  all[svg.dataset.name] = Array.from(svg.querySelectorAll('text')).map(t => {
    const b = t.getBBox(); return [t.textContent, b.x, b.y, b.x + b.width, b.y + b.height]; });
}
document.getElementById('out').textContent = JSON.stringify(all);
</script>"""


@pytest.mark.skipif(CHROMIUM is None, reason="no chromium here")
def test_no_text_overlaps_in_a_browser(sheets: dict[str, str], tmp_path: Path) -> None:
    """Boxes measured by the browser with the fonts it has: no two texts of a sheet share more than half a unit. The
    words of a mark on a photograph lie inside their slip."""
    word = "Wm" * 60
    photo = marked_photo(b"\xff\xd8", 1200, 1600, [PhotoMark("arrow", (0.9, 0.9), (0.1, 0.1), word)], "Photograph 1")
    measured = measured_in_browser({**sheets, "photograph": photo}, tmp_path)
    assert set(measured) == {*sheets, "photograph"}
    (slip,) = re.findall(r'<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"[^>]*stroke=', photo)
    left, wide = map(float, slip)
    rows = measured.pop("photograph")
    assert "".join(words for words, *_ in rows) == word
    assert all(left < x0 < x1 < left + wide <= 900 for _, x0, _, x1, _ in rows)
    for name, rows in measured.items():
        items = [Item("text", words, Box(*box)) for words, *box in rows]
        assert len(items) > 5, name
        assert overlaps(items, slack=0.25) == [], name


def measured_in_browser(sheets: dict[str, str], folder: Path) -> dict[str, list[list]]:
    """Text boxes of all sheets as one page measures them."""
    body = "".join(svg.replace("<svg ", f'<svg data-name="{html.escape(name)}" ', 1) for name, svg in sheets.items())
    page = folder / "page.html"
    page.write_text(f'<!doctype html><meta charset="utf-8"><body>{body}<pre id="out"></pre>{SCRIPT}', encoding="utf-8")
    command = [str(CHROMIUM), *FLAGS, f"--user-data-dir={folder / 'profile'}", page.as_uri()]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    found = re.search(r'<pre id="out">(.*?)</pre>', done.stdout, re.DOTALL)
    assert found, done.stderr[-500:]
    return json.loads(html.unescape(found.group(1)))


def test_the_typesetter_takes_every_sheet(sheets: dict[str, str], tmp_path: Path) -> None:
    """All sheets in one document, without warnings, with the fonts that come with the typesetter alone."""
    typst = pytest.importorskip("typst")
    names = []
    for k, svg in enumerate(sheets.values()):
        (tmp_path / f"{k}.svg").write_text(svg, encoding="utf-8")
        names.append(f'#image("{k}.svg", width: 100%)')
    source = tmp_path / "all.typ"
    source.write_text("#set page(width: 12in, height: 9in, margin: 0.2in)\n" + "\n".join(names), encoding="utf-8")
    pdf, warnings = typst.Compiler(str(source), ignore_system_fonts=True).compile_with_warnings(format="pdf")
    assert pdf.startswith(b"%PDF")
    assert warnings == []
