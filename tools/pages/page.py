"""One page made from data, and the one way it is written down for the site generator."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from tools.book import text

HEADING = "this-page"


@dataclass(frozen=True)
class Page:
    """A page among the sources.

    ``title`` is plain text, as a cell may hold it; ``body`` is Markdown without the page's own heading.
    ``menu`` names the headings that lead to the page, from the top; where it is empty, no menu does.
    ``label`` is what the menu calls it, the title where that is blank; ``order`` is its place among the lines
    of its heading. ``heading`` stands over the page where that is not the title. ``listed`` is the page that lists
    all of its kind, where there may be many. ``meta`` is further front matter.
    """

    path: str
    title: str
    body: str
    menu: tuple[str, ...] = ()
    label: str = ""
    order: int = 50
    heading: str = ""
    listed: str = ""
    meta: Mapping[str, Any] = field(default_factory=dict)

    @property
    def source(self) -> str:
        """The page as Markdown with front matter. A value is written as JSON, which YAML reads as it is.

        No name makes an id: it could be one that a script of ours looks for.
        """
        told = {"title": text.line(self.title), **self.meta}
        front = "".join(f"{key}: {json.dumps(value, ensure_ascii=False)}\n" for key, value in told.items())
        head = f"# {text.markdown(self.heading or self.title)} {{ #{HEADING} }}"
        return f"---\n{front}---\n{head}\n\n{self.body.strip()}\n"
