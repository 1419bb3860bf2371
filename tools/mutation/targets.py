"""What is mutated, in groups that share the sample."""

from __future__ import annotations

from pathlib import Path

from .mutant import Site

# Each group's share of the sample. Figures of the rule sets count by figure, all else by place.
SHARES = {"calculators": 0.40, "rules": 0.15, "pages": 0.25, "escape": 0.12, "policy": 0.08}
POLICY = ("tools/post/policy.py",)
ESCAPING = ("calculators/core/html.py", "calculators/core/forms.py")
# Turn data into pages; the other folders work on finished pages or belong to the site generator.
PAGES = ("tools/book", "tools/results", "tools/blocks", "tools/pages")
RULES = "calculators/rules"


def group_of(path: str) -> str:
    """The group of a file, "" where it is not mutated."""
    if path in POLICY:
        return "policy"
    if path in ESCAPING:
        return "escape"
    if path.startswith(f"{RULES}/"):
        return "rules" if path.endswith(".toml") else ""
    if path.startswith("calculators/") and path.endswith(".py"):
        return "calculators"
    folder, _, name = path.rpartition("/")
    return "pages" if folder in PAGES and name.endswith(".py") else ""


def group_of_site(site: Site) -> str:
    """The group of one place: a call of escape belongs to escaping wherever it stands."""
    return "escape" if site.operator == "Unescape" else group_of(site.path)


def files(root: Path, only: list[str]) -> list[str]:
    """The files to mutate, those under ``only`` where that names any."""
    found = sorted(path.relative_to(root).as_posix() for folder in ("calculators", *PAGES, "tools/post")
                   for path in (root / folder).rglob("*") if path.suffix in (".py", ".toml"))  # fmt: skip
    return [path for path in found if group_of(path) and _chosen(path, only)]


def _chosen(path: str, only: list[str]) -> bool:
    return not only or any(path == each or path.startswith(f"{each.rstrip('/')}/") for each in only)
