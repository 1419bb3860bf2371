"""The bill of materials: whose works are in the editions, and what they were made with, in CycloneDX 1.6 (ECMA-424).

It bears neither a moment nor a number of its own, so that the same editions have the same bill.
"""

from __future__ import annotations

import base64
import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from tools import licenses
from tools.post import listing, pages

from . import inside, whole

PINNED = re.compile(r"^([\w.-]+)==([\w.!+-]+)", re.MULTILINE)
# What makes a handbook; the other locks are of its checks.
BUILD, NPM = "build.txt", "package-lock.json"


def of(site: Path, editions: Mapping[str, str], locks: Path | None) -> str:
    """Return the bill of editions, whose SHA-256 stand under their names."""
    title = inside.title(pages.read(site / whole.HOME)).rpartition(" - ")[2]
    told = {
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": {"component": {"type": "application", "bom-ref": "handbook", "name": title, "version": listing.read(site).build}},
        "components": [*files(editions), *works(), *(tools(locks) if locks else ())],
    }
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def files(editions: Mapping[str, str]) -> Iterator[dict[str, Any]]:
    """The editions themselves."""
    for name, digest in sorted(editions.items()):
        yield {"type": "file", "bom-ref": f"file:{name}", "name": name, "hashes": [{"alg": "SHA-256", "content": digest}]}


def works() -> Iterator[dict[str, Any]]:
    """What a reader gets: each work with its license."""
    for each in licenses.notices():
        made: dict[str, Any] = {"type": "library", "bom-ref": f"work:{each.key}", "name": each.name, "scope": "required"}
        if each.version:
            made["version"] = each.version
        made["licenses"] = [{"expression": each.license}]
        if each.source.startswith("https://"):
            made["externalReferences"] = [{"type": "website", "url": each.source}]
        yield made


def tools(locks: Path) -> Iterator[dict[str, Any]]:
    """What the handbook was made with: locked packages of which a reader gets nothing but what `works` lists."""
    for name, version in PINNED.findall(pages.read(locks / BUILD)):
        purl = f"pkg:pypi/{name.lower()}@{version}"
        yield {"type": "library", "bom-ref": purl, "name": name, "version": version, "scope": "excluded", "purl": purl}
    packages = json.loads(pages.read(locks.parents[1] / NPM))["packages"]
    for path, told in sorted(packages.items()):
        if path and not told.get("dev"):
            yield npm(path.rpartition("node_modules/")[2], told)


def npm(name: str, told: Mapping[str, Any]) -> dict[str, Any]:
    """A package of the lock of Node's packages, with the hash that it is checked against."""
    purl = f"pkg:npm/{name.replace('@', '%40')}@{told['version']}"
    digest = base64.b64decode(told["integrity"].removeprefix("sha512-")).hex()
    return {"type": "library", "bom-ref": purl, "name": name, "version": told["version"], "scope": "excluded", "purl": purl,
            "hashes": [{"alg": "SHA-512", "content": digest}]}  # fmt: skip
