"""What whoever puts the handbook on a web server has to know, as a text that goes along with it."""

from __future__ import annotations

import html
import re
from pathlib import Path

from tools.post import app, pages, policy
from tools.problems import Problem, Problems

POLICY = re.compile(rf'{policy.MARK} content="([^"]*)">')
TEXT = """How to host this handbook

Put all files of handbook-hosted.zip, as they are, into one folder of a web server: at its top or any number of folders
below it. Nothing runs on the server, and the handbook asks no other one for anything. Serve it by https: without
it a browser neither keeps the handbook for use without a signal nor installs it.

Headers, for every file unless a line says otherwise:

  Cache-Control: no-cache
      The browser asks each time whether a file has changed, and is told "not modified" in a few bytes. Names do
      not change with what is in a file, so no file may be kept unasked. Most of all {worker}: a stored copy of it
      would hide every later edition. Installed, the handbook keeps itself and asks for {worker} alone.
  X-Content-Type-Options: nosniff
  Referrer-Policy: no-referrer
  Content-Security-Policy: {policy}; frame-ancestors 'none'
      Each page brings the same policy with it; the header covers other files and forbids other pages to frame it.

Content types:

  .html          text/html; charset=utf-8
  .js            text/javascript     (parts of Python are in UTF-16, which their first bytes say)
  .css           text/css
  .webmanifest   application/manifest+json
  .pdf           application/pdf
  There is no file of type application/wasm: Python comes packed in scripts, which a folder can load as well.

Compression on the way helps pages, styles and scripts. The files in assets/runtime and packs are compressed already.

Wrong addresses: let the server answer them with 404.html and the status 404. It finds its styles where the handbook
lies at the server's top; anywhere else it is plain, and its links lead to the server's top.

A new edition: put the new files over the old ones, {worker} last. Open pages say that a newer handbook is ready.
A file that is gone may be taken away. Whoever has it installed fetches what has changed and nothing else.
"""


def advice(site: Path) -> str:
    """Return the text for a finished folder. Problems where its pages have not one policy."""
    found = {match[1] for path in pages.all_pages(site) if (match := POLICY.search(pages.read(path)))}
    if len(found) != 1:
        raise Problems([Problem("*.html", "head", f"The pages have {len(found)} policies, not 1.", "Build it again.")])
    return TEXT.format(policy=html.unescape(found.pop()), worker=app.WORKER)
