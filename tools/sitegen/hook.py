"""The one place that knows MkDocs: its events, handed on to plain functions.

MkDocs loads this file by path (``hooks`` in mkdocs.yml), so the repository's root is put
on the import path first.
"""

from __future__ import annotations

import json
import os
import posixpath
import re
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

from mkdocs.config.defaults import MkDocsConfig  # noqa: E402
from mkdocs.exceptions import Abort  # noqa: E402
from mkdocs.structure.files import File, Files  # noqa: E402
from mkdocs.structure.nav import Navigation  # noqa: E402
from mkdocs.structure.pages import Page  # noqa: E402

from tools.sitegen import pages, places, procedures, sheet  # noqa: E402
from tools.sitegen.blocks import HandbookBlocks  # noqa: E402
from tools.sitegen.blocks.context import Context  # noqa: E402
from tools.sitegen.booklets import packs  # noqa: E402
from tools.sitegen.booklets.packs import HANDED_ON  # noqa: E402
from tools.sitegen.data import OperatorData, load  # noqa: E402
from tools.sitegen.drills import pages as drill_pages  # noqa: E402
from tools.sitegen.drills.find import find  # noqa: E402
from tools.sitegen.problems import Problem, Problems  # noqa: E402

_STATE: dict[str, Any] = {}


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Read the operator's data and hang the blocks into Markdown."""
    docs = Path(config.docs_dir)
    try:
        data = load(docs / "data")
        wanted = packs.load(docs / "data", docs)
    except Problems as error:
        raise Abort(str(error)) from error
    context = Context(data.rules, data, docs / "assets" / "drawings",
                      os.environ.get("HANDBOOK_BUILD", ""), lambda: sheet.site_rows(data))  # fmt: skip
    _STATE.update(data=data, context=context, packs=wanted,
                  drills=find(data, int(data.company.get("drills", "0"))))  # fmt: skip
    # MkDocs types them as names; Python-Markdown takes the extension itself just as well.
    extensions: list[Any] = list(config.markdown_extensions)
    kept: list[Any] = [each for each in extensions if not isinstance(each, HandbookBlocks)]
    kept.append(HandbookBlocks(context))
    config.markdown_extensions = kept
    config.nav = [*(config.nav or []), *pages.navigation(data, wanted, _STATE["drills"])]
    config.site_name = data.company["name"]
    config.extra["handbook"] = pages.facts(data)
    return config


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the pages that are made from data."""
    data: OperatorData = _STATE["data"]
    for made in pages.generate(data, _STATE["packs"], _STATE["drills"]):
        files.append(File.generated(config, made.path, content=made.markdown))
    return files


def on_nav(nav: Navigation, config: MkDocsConfig, files: Files) -> Navigation:
    """A page that no menu leads to is told: nobody would find it."""
    context: Context = _STATE["context"]
    listed = {page.file.src_uri for page in nav.pages}
    for file in files.documentation_pages():
        if file.generated_by is None and file.src_uri not in listed:
            context.problems.append(Problem(file.src_uri, "", "No menu leads to this page.",
                                            "Give it a line under nav in mkdocs.yml."))  # fmt: skip
    return nav


def on_page_markdown(markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Tell the blocks which page and line they stand in; check a procedure's parts."""
    context: Context = _STATE["context"]
    context.page = page.file.src_uri
    context.first = _first_line(page, markdown)
    if page.meta.get("kind") == "procedure":
        for line, what, mend in procedures.check(markdown, context.first):
            context.report(line, what, mend)
    return markdown


def on_page_content(html: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Tell each link of a procedure in which part its page stands: paper cannot be clicked."""
    if page.meta.get("kind") != "procedure":
        return html
    parts = {file.url: file.page.parent.title for file in files if file.page and file.page.parent}
    return places.mark(html, posixpath.dirname(page.url), parts)


def _first_line(page: Page, markdown: str) -> int:
    # MkDocs hands over the page without its front matter; mistakes are told by file line.
    source = page.file.content_string
    match = re.match(r"---\s*\n.*?\n---\s*\n+", source, re.DOTALL)
    return source[: match.end()].count("\n") + 1 if match else 1


def on_post_build(config: MkDocsConfig) -> None:
    """Stop the build with every mistake at once; hand the drills on to the booklets."""
    found: list[Problem] = _STATE["context"].problems
    if found:
        raise Abort(str(Problems(found)))
    if _STATE["drills"]:
        told = json.dumps(drill_pages.told(_STATE["drills"]), ensure_ascii=False)
        Path(config.site_dir, HANDED_ON).write_text(told, encoding="utf-8")
