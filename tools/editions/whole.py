"""Makes the whole handbook one file, to be sent in a message and opened: `whole.js` shows its pages.

The file is in UTF-16, which its first two bytes say: what it carries packed then takes two bytes a character, a third
less than base64 would. A browser runs no script in it and takes no style that the policy does not name by its hash.
"""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from html import escape
from pathlib import Path

from tools.post import app, bundle, pages, policy, search
from tools.problems import Problem, Problems
from tools.runtime import scripts

from . import inside

HERE = Path(__file__).parent
NAME = "handbook.html"
HOME, LOST = "index.html", "404.html"
PYTHON = "assets/runtime/runtime.js"
PARTS = ("assets/runtime/python-*.js", "assets/forms/*.js", "assets/presets/*.js", "assets/*.js", search.WORKER)
DIRECTIVES = (
    "default-src 'none'; script-src {scripts} 'wasm-unsafe-eval'; style-src {styles}; img-src data:; "
    "worker-src blob:; base-uri 'none'; form-action 'none'"
)
HANDED = re.compile(r"\(self\.HandbookAssets \?\?= \{\}\)(?:\[\"([\w-]+)\"\]|\.(\w+)) = (.*);\n")
FORM = re.compile(r"\{\"html\": '((?:[^'\\]|\\.)*)'\}")
ESCAPED = re.compile(r"\\(.)")
# The theme's script asks for the search's settings by a script's address; whole.js has them ready.
THEME = "assets/javascripts/bundle."
SETTINGS = re.compile(r"\w+\(`\$\{new URL\(\"search/search_index\.js\",\w+\.base\)\}`\)")
READY = re.compile(r"window\.document\$=(\w+);")
SCOPE = 'new URL("../../",document.currentScript.src)'
# What no page runs again: Python, which stays warm, and the installed app's.
UNRUN = (PYTHON, app.SCRIPT)
OPENING = (
    "Opening the handbook … If nothing comes, this browser is too old, or the file was cut off on its way: "
    "have it sent again."
)
NO_SCRIPTS = "This file needs a browser with scripts (JavaScript) switched on. Save it, and open it in one."


@dataclass
class Carried:
    """What the file carries: the archive's bytes and where each file lies in them; scripts, styles and pictures."""

    site: Path
    unrun: tuple[str, ...] = UNRUN
    data: bytearray = field(default_factory=bytearray)
    files: dict[str, tuple[int, int]] = field(default_factory=dict)
    pieces: dict[str, str] = field(default_factory=dict)
    runs: dict[str, str] = field(default_factory=dict)
    styles: dict[str, str] = field(default_factory=dict)

    def add(self, name: str, text: str) -> None:
        """Put a file into the archive."""
        packed = gzip.compress(text.encode(), 9, mtime=0)
        self.files[name] = (len(self.data), len(packed))
        self.data += packed

    def script(self, name: str) -> str:
        """The name of the piece that runs a script of the site."""
        return self.inline(name, wrapped(name, pages.read(self.site / name)))

    def inline(self, name: str, text: str) -> str:
        """The name of a piece that is a script."""
        if name not in self.pieces:
            self.runs[name] = text
            self.pieces[name] = element("script", name, text)
        return name

    def style(self, name: str) -> str:
        """The name of the piece that is a style sheet of the site."""
        if name not in self.pieces:
            self.styles[name] = pages.read(self.site / name)
            self.pieces[name] = element("style", name, self.styles[name])
        return name

    def picture(self, name: str) -> str:
        """The name of the piece that is a picture's address."""
        if name not in self.pieces:
            self.pieces[name] = inside.data_address(self.site / name)
        return name


def element(tag: str, name: str, text: str) -> str:
    """A script or a style as it stands in a page; Problems where its text would end it, or a page's slots."""
    if re.search(rf"</{tag}|<!--|{inside.SLOT}|\r", text, re.IGNORECASE):
        raise Problems([Problem(name, "", "This cannot stand in a page.", "Write its closing tags or remarks otherwise.")])
    return f"<{tag}>{text}</{tag}>"


def wrapped(name: str, text: str) -> str:
    """A script in a function of its own, to which `location` is that of the page in view: see whole.js."""
    text = scripts.replace_once(text, SCOPE, "new URL(HandbookWhole.root)") if SCOPE in text else text
    if name.startswith(THEME):
        text = themed(text)
    return f"(function (location, history, matchMedia) {{\n{text}\n}}).apply(self, HandbookWhole.given);"


def themed(text: str) -> str:
    """The theme's script, which finds the search's settings without asking for them."""
    ready = READY.search(text)
    made, count = SETTINGS.subn(lambda _: f"{ready[1]}.pipe()" if ready else "", text)
    if count != 1 or not ready:
        raise bundle.mismatch(f"The theme's script asks for the search's settings in {count} places, not 1.")
    return made


def make(site: Path) -> bytes:
    """Return the one file of a finished folder.

    Raises:
        Problems: the folder holds something that it cannot carry.
    """
    carried = Carried(site)
    for name, text in inside.texts(site):
        carried.add(name, inside.page(text, name, carried))
    texts = dict(handed(site))
    for name, value in texts.items():
        if not isinstance(value, Raw):
            carried.add(f"part {name}", json.dumps(value, ensure_ascii=False))
    carried.add("pieces", json.dumps(carried.pieces, ensure_ascii=False))
    raw = {name: value for name, value in texts.items() if isinstance(value, Raw)}
    return scripts.MARK_OF_ORDER + frame(carried, raw).encode("utf-16-le")


class Raw(str):
    """What a part of Python hands over: text that carries sixteen bits a character."""

    __slots__ = ()


def handed(site: Path) -> Iterator[tuple[str, object]]:
    """Yield what the scripts hand over that a page brings when it wants them: name and value."""
    for path in sorted({path for pattern in PARTS for path in site.glob(pattern)}):
        data = path.read_bytes()
        is_python = data.startswith(scripts.MARK_OF_ORDER)
        text = data.decode("utf-16" if is_python else "utf-8")
        for found in HANDED.finditer(text):
            yield found[1] or found[2], Raw(found[3][1:-1]) if is_python else value(found[3])


def value(text: str) -> object:
    """What a script hands over; a form's HTML stands in single quotes, see blocks/row.py."""
    form = FORM.fullmatch(text)
    return {"html": ESCAPED.sub(lambda found: "\n" if found[1] == "n" else found[1], form[1])} if form else json.loads(text)


def frame(carried: Carried, raw: Mapping[str, str]) -> str:
    """The file's own page, out of which whole.js takes all others."""
    runs = [(carried.site / PYTHON).read_text(encoding="utf-8"), shell(carried)]
    home = pages.read(carried.site / HOME)
    sources = sorted({policy.source(text) for text in (*runs, *carried.runs.values())})
    styles = sorted({policy.source(text) for text in carried.styles.values()})
    told = DIRECTIVES.format(scripts=" ".join(sources), styles=" ".join(styles))
    blocks = [block('id="hb-archive"', scripts.sixteen_bits(bytes(carried.data)))]
    blocks += [block(f'data-part="{name}"', text) for name, text in raw.items()]
    return "\n".join([
        f'<!doctype html><html lang="{inside.language(home)}"><head>{policy.MARK} content="{told}">',
        '<meta name="viewport" content="width=device-width,initial-scale=1">',
        f"<title>{escape(inside.title(home))}</title></head>",
        f"<body><p>{OPENING}</p><noscript><p>{NO_SCRIPTS}</p></noscript>", *blocks,
        *(element("script", NAME, text) for text in runs), "</body></html>\n",
    ])  # fmt: skip


def shell(carried: Carried) -> str:
    """whole.js with what it has to know."""
    index = json.loads(pages.read(carried.site / search.INDEX).removeprefix("var __index = ").rstrip().removesuffix(";"))
    facts = json.dumps({"files": carried.files, "home": HOME, "lost": LOST, "index": index}, ensure_ascii=False)
    text = scripts.replace_once(pages.read(HERE / "whole.js"), "const WHOLE = {};", f"const WHOLE = {facts};")
    return scripts.replace_once(text, "// unpack.js\n", scripts.own_script("unpack.js"))


def block(mark: str, text: str) -> str:
    """Text that is no HTML, in an element that runs nothing: no sign in it begins a tag."""
    turned = chr(scripts.ESCAPE) + chr(ord("<") ^ scripts.TURNED)
    return f'<script type="application/octet-stream" {mark}>{text.replace("<", turned)}</script>'
