"""A small writer of SVG: absolute coordinates, attributes only, numbers always written the same way.

No style sheets, filters, patterns, transforms or markers, so that every renderer shows the same drawing and every
text's place can be read from the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape, quoteattr

from bolewright.drawings.ink import MEDIUM, MONO, SERIF, Ink
from bolewright.drawings.type_widths import Box

Spot = tuple[float, float]
_NOT_XML = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def number(value: float) -> str:
    """A coordinate to a hundredth, without idle zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def plain(text: str) -> str:
    """Text with what XML cannot hold taken out and all white space made single blanks."""
    return " ".join(_NOT_XML.sub("", text).split())


class Sheet:
    """Elements of one drawing in drawing order."""

    def __init__(self, width: float, height: float, ink: Ink, title: str, desc: str) -> None:
        self.width, self.height, self.ink = width, height, ink
        self._title, self._desc = plain(title), plain(desc)
        self._parts: list[str] = []

    def add(self, tag: str, attributes: dict[str, str | float | None], text: str | None = None) -> None:
        """One element; attributes that are None are left out."""
        pairs = ((k, number(v) if isinstance(v, float | int) else v) for k, v in attributes.items() if v is not None)
        head = f"<{tag} " + " ".join(f"{key}={quoteattr(value)}" for key, value in pairs)
        self._parts.append(f"{head}/>" if text is None else f"{head}>{escape(text)}</{tag}>")

    def line(self, spots: Sequence[Spot], weight: float = MEDIUM, colour: str | None = None, dash: str | None = None,
             kind: str | None = None) -> None:  # fmt: skip
        """An open run of straight lines."""
        if len(spots) < 2:
            return
        run = " ".join(f"{number(x)},{number(y)}" for x, y in spots)
        self.add("polyline", {"class": kind, "points": run, "fill": "none", "stroke": colour or self.ink.ink,
                              "stroke-width": weight, "stroke-dasharray": dash, "stroke-linecap": "round",
                              "stroke-linejoin": "round"})  # fmt: skip

    def area(self, spots: Sequence[Spot], fill: str = "none", colour: str | None = None, weight: float = MEDIUM,
             dash: str | None = None, kind: str | None = None, opacity: float | None = None) -> None:  # fmt: skip
        """A closed shape; no outline when colour is None."""
        if len(spots) < 3:
            return
        run = " ".join(f"{number(x)},{number(y)}" for x, y in spots)
        self.add("polygon", {"class": kind, "points": run, "fill": fill, "fill-opacity": opacity,
                             "stroke": colour or "none", "stroke-width": weight if colour else None,
                             "stroke-dasharray": dash, "stroke-linejoin": "round"})  # fmt: skip

    def strokes(self, pairs: Iterable[tuple[Spot, Spot]], weight: float, colour: str, kind: str | None = None) -> None:
        """Many separate straight strokes as one path."""
        run = "".join(f"M{number(a[0])} {number(a[1])}L{number(b[0])} {number(b[1])}" for a, b in pairs)
        if run:
            self.add("path", {"class": kind, "d": run, "fill": "none", "stroke": colour, "stroke-width": weight,
                              "stroke-linecap": "round"})  # fmt: skip

    def circle(self, centre: Spot, radius: float, fill: str = "none", colour: str | None = None,
               weight: float = MEDIUM, dash: str | None = None, kind: str | None = None) -> None:  # fmt: skip
        """A circle."""
        self.add("circle", {"class": kind, "cx": centre[0], "cy": centre[1], "r": radius, "fill": fill,
                            "stroke": colour or "none", "stroke-width": weight if colour else None,
                            "stroke-dasharray": dash})  # fmt: skip

    def rect(self, box: Box, fill: str = "none", colour: str | None = None, weight: float = MEDIUM,
             opacity: float | None = None, kind: str | None = None) -> None:  # fmt: skip
        """A rectangle."""
        self.add("rect", {"class": kind, "x": box.x0, "y": box.y0, "width": box.x1 - box.x0, "height": box.y1 - box.y0,
                          "fill": fill, "fill-opacity": opacity, "stroke": colour or "none",
                          "stroke-width": weight if colour else None})  # fmt: skip

    def text(self, x: float, y: float, text: str, size: float, anchor: str = "start", bold: bool = False,
             mono: bool = False, italic: bool = False, colour: str | None = None, kind: str = "text",
             halo: bool = False) -> None:  # fmt: skip
        """One line of text with its baseline at y, on a halo of paper where asked."""
        shown = plain(text)
        if shown:
            self.add("text", {"class": kind, "x": x, "y": y, "font-size": size, "font-family": MONO if mono else SERIF,
                              "font-weight": "bold" if bold else None, "font-style": "italic" if italic else None,
                              "text-anchor": None if anchor == "start" else anchor,
                              "fill": colour or self.ink.ink, "paint-order": "stroke" if halo else None,
                              "stroke": self.ink.paper if halo else None, "stroke-width": 3.2 if halo else None,
                              "stroke-linejoin": "round" if halo else None}, shown)  # fmt: skip

    def written(self) -> str:
        """The whole drawing as one SVG document."""
        w, h = number(self.width), number(self.height)
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w} {h}" width="{w}" height="{h}" role="img" '
            f"aria-label={quoteattr(self._title)}>\n<title>{escape(self._title)}</title>\n"
            f"<desc>{escape(self._desc)}</desc>\n"
            f'<rect width="{w}" height="{h}" fill="{self.ink.paper}"/>\n'
        )
        return head + "\n".join(self._parts) + "\n</svg>\n"
