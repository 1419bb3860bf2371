"""What stands where in a figure, read off its SVG: boxes, lines and dots in page pixels, y downward."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import dataclass

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]
Box = tuple[float, float, float, float]  # left, top, right, foot


@dataclass(frozen=True)
class Figure:
    """One figure; shapes are asked for by their style, such as "body", "" for a plain one."""

    root: ET.Element

    @classmethod
    def of(cls, svg: str) -> Figure:
        """From its text."""
        return cls(ET.fromstring(svg))

    def _shapes(self, tag: str, style: str) -> list[ET.Element]:
        wanted = f"hb-{style}" if style else None
        return [each for each in self.root.findall(f"{SVG}{tag}") if each.get("class") == wanted]

    def outlines(self, style: str) -> list[list[Point]]:
        """The corners of every polygon."""
        pairs = [[pair.split(",") for pair in each.get("points", "").split()] for each in self._shapes("polygon", style)]
        return [[(float(x), float(y)) for x, y in corners] for corners in pairs]

    def boxes(self, style: str) -> list[Box]:
        """What each polygon takes up."""
        return [(min(x for x, _ in each), min(y for _, y in each), max(x for x, _ in each), max(y for _, y in each))
                for each in self.outlines(style)]  # fmt: skip

    def lines(self, style: str) -> list[tuple[Point, Point]]:
        """From where to where each line goes."""
        ends = [[float(each.get(name, "nan")) for name in ("x1", "y1", "x2", "y2")] for each in self._shapes("line", style)]
        return [((x1, y1), (x2, y2)) for x1, y1, x2, y2 in ends]

    def arrows(self) -> list[tuple[Point, Point]]:
        """Lines with a tip at their end, but for those of dimensions."""
        tipped = [each for each in self._shapes("line", "") if each.get("marker-end")]
        ends = [[float(each.get(name, "nan")) for name in ("x1", "y1", "x2", "y2")] for each in tipped]
        return [((x1, y1), (x2, y2)) for x1, y1, x2, y2 in ends]

    def dots(self, style: str) -> list[tuple[Point, float]]:
        """Middle and radius of each circle."""
        return [((float(each.get("cx", "nan")), float(each.get("cy", "nan"))), float(each.get("r", "nan")))
                for each in self._shapes("circle", style)]  # fmt: skip

    def words(self) -> list[tuple[str, Point]]:
        """Every text with where it is put."""
        return [(each.text or "", (float(each.get("x", "nan")), float(each.get("y", "nan")))) for each in self.root.iter(f"{SVG}text")]

    def written(self) -> list[tuple[str, Box]]:
        """Level words with the room they take; 0.56 em a letter is a little more than a sans face takes."""
        found = []
        for each in self.root.iter(f"{SVG}text"):
            if each.get("transform") is None:
                size, words = float(each.get("font-size", "nan")), each.text or ""
                wide, x, y = 0.56 * size * len(words), float(each.get("x", "nan")), float(each.get("y", "nan"))
                x -= {"start": 0.0, "middle": wide / 2, "end": wide}[each.get("text-anchor", "start")]
                found.append((words, (x, y - 0.75 * size, x + wide, y + 0.1 * size)))
        return found

    @property
    def size(self) -> Point:
        """Width and height of the page."""
        wide, high = map(float, self.root.get("viewBox", "").split()[2:])
        return wide, high

    def sectors(self) -> list[list[Point]]:
        """The dashed slices of circles, their middle first."""
        return [each for each in self.outlines("ghost") if len(each) > 5]
