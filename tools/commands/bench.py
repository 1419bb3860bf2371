"""`bench`: speed and size in one run; times as ratios, since machines are noisy."""

from __future__ import annotations

import argparse
import json
import statistics
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from . import (
    bench_engines,
    bench_float,
    bench_floor,
    bench_hosted,
    bench_log,
    bench_memory,
    bench_page,
    bench_scale,
    build,
    inside_page,
    node,
    planning,
)
from .progress import Progress, Trouble

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

# The same work as a page opened by a person: load Python, run one line, show it.
STOCK = """<!doctype html><meta charset="utf-8"><script src="pyodide.js"></script><script>
loadPyodide().then((python) => { python.runPython("1 + 1"); window.readyAt = performance.now(); });
</script>"""
GOALS = {"Firefox": 0.3}
ROUND_TRIPS = """async ([name, texts]) => {
  const times = [];
  for (const text of texts) {
    const start = performance.now();
    let first = null;
    await HandbookPython.run(name, text, undefined, undefined, () => { first ??= performance.now() - start; });
    const last = performance.now() - start;
    times.push([last, first ?? last]);
  }
  return times;
}"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """How often each page is opened; or that large handbooks are built instead, and of how many sites."""
    parser.add_argument("--runs", type=int, default=5, help="how often each page is opened")
    parser.add_argument("--scale", type=int, nargs="*", metavar="SITES",
                        help="build handbooks of so many sites instead (without a number: 100 and 1000)")  # fmt: skip


def main(args: argparse.Namespace) -> int:
    """Print the ratio of first results, round trips, longest tasks, long logs, the folder's size and the plan's ratio."""
    import calculators

    from .browsers import CHROMIUM, find

    if args.scale is not None:
        sizes = args.scale or bench_scale.SIZES
        print(bench_scale.told(bench_scale.measure(sizes, Progress(2 * len(sizes)))))
        return 0
    if not (build.SITE / "index.html").is_file():
        raise Trouble("There is no handbook to measure: run “python3 tools/handbook.py build”.")
    progress = Progress(10)
    found = node.find_node(progress.note)
    modules = node.ensure_packages(found, progress.note, checks=True)
    progress.step("Starting a browser")
    with _browser(progress) as browser, _stock(modules / "pyodide") as stock, bench_floor.page() as floor:
        progress.step(f"Opening each page {args.runs} times")
        page = (build.SITE / "calculators" / "clearance.html").as_uri()
        opened = {"Chromium": _first_results(browser, (page, stock, floor), args.runs)}
        progress.step("The same in Firefox and WebKitGTK")
        opened.update(bench_engines.first_results((page, stock, floor), args.runs, progress))
        progress.step("Asking for results again and again")
        trips = _round_trips(browser)
        progress.step("Looking for the longest task of the page")
        tasks = bench_page.longest_tasks(browser, calculators.NAMES)
        progress.step("Reading long logs of temperatures in the page")
        logs = bench_log.seconds(browser)
        progress.step("Weighing pages in memory")
        memory = bench_memory.megabytes(browser)
        progress.step("Planning cabinets, here and in the page, against a general solver")
        plans = planning.compare(_asker(browser))
    progress.step("Asking Lighthouse for the speed of the hosted pages")
    hosted = bench_hosted.points(found, find([CHROMIUM], progress)[CHROMIUM], build.SITE, args.runs)
    progress.step("Looking for a float, and playing it event by event")
    _print(opened, trips)
    _print_float(bench_float.ratios())
    print(planning.told(plans))
    print(bench_page.told(tasks))
    print(bench_log.told(logs))
    print(bench_memory.told(memory))
    print(bench_hosted.told(hosted))
    return 0


@contextmanager
def _browser(progress: Progress) -> Iterator[Browser]:
    from playwright.sync_api import sync_playwright

    from .browsers import CHROMIUM, find

    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=find([CHROMIUM], progress)[CHROMIUM], args=["--no-sandbox"]
        )
        yield browser
        browser.close()


@contextmanager
def _stock(pyodide: Path) -> Iterator[str]:
    """Stock Pyodide as its documentation has it: its own files behind a server, nothing cached."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for path in pyodide.iterdir():
            if path.is_file():
                (folder / path.name).symlink_to(path)
        (folder / "index.html").write_text(STOCK, encoding="utf-8")
        with bench_hosted.served(folder) as address:
            yield f"{address}index.html"


def _first_results(browser: Browser, pages: Sequence[str], runs: int) -> list[tuple[float, ...]]:
    """Milliseconds from opening to the first result, the pages in turn, each in a new profile."""
    return [tuple(_open(browser, page) for page in pages) for _ in range(runs)]


def _open(browser: Browser, address: str) -> float:
    context = browser.new_context()
    page = context.new_page()
    page.goto(address)
    ready = _wait(page)
    context.close()
    return ready


def _wait(page: Page) -> float:
    # Polled by hand: the driver's own waiting uses eval, which the page's policy forbids.
    for _ in range(1200):
        ready = page.evaluate(bench_engines.READY_AT)
        if ready is not None:
            return float(ready)
        page.wait_for_timeout(50)
    raise Trouble("A page gave no result within a minute.")


def _round_trips(browser: Browser) -> dict[str, list[list[float]]]:
    """Milliseconds of one recalculation of each example, page and back, 60 times each: to the last and to the first answer.

    Where buyers are drawn by a seed it is another one each time: what is kept of the last answer is of no use then.
    """
    import calculators

    page = browser.new_page()
    page.goto((build.SITE / "calculators" / "clearance.html").as_uri())
    _wait(page)
    trips = {}
    for name in calculators.NAMES:
        found = calculators.get(name)
        seeded = any(each.key == "seed" for each in found.inputs.fields())
        texts = [json.dumps({"units": found.example_units, "html": True, "early": True,
                             "inputs": {**found.example, **({"seed": number + 1} if seeded else {})}})
                 for number in range(60 if found.probe else 10)]  # fmt: skip
        trips[name] = page.evaluate(ROUND_TRIPS, [name, texts])
    trips["smallest"] = page.evaluate(ROUND_TRIPS, ["clearance", ['{"inputs": {}, "units": "?"}'] * 200])
    return trips


def _asker(browser: Browser) -> planning.InPage:
    """Gives texts to the Python of a page, as :mod:`inside_page` says."""
    page = browser.new_page()
    page.add_init_script(inside_page.SCRIPT)
    page.goto((build.SITE / "calculators" / "clearance.html").as_uri())
    _wait(page)
    return lambda text: str(page.evaluate("(text) => HandbookPython.run('replay', text)", text))


def _print(opened: dict[str, list[tuple[float, ...]]], trips: dict[str, list[list[float]]]) -> None:
    sizes = _sizes()
    for engine, each in opened.items():
        _print_opened(engine, each)
    for name, times in trips.items():
        last, first = zip(*times, strict=True)
        _print_trip(name, last)
        if first != last:
            _print_trip(f"{name}, to a first answer", first)
    print(f"The folder's size (goal at most 15 MB):       {sum(sizes.values()) / 1e6:6.2f} MB")
    for part, size in sizes.most_common():
        print(f"    {part:42}{size / 1e6:6.2f} MB")


def _print_opened(engine: str, opened: list[tuple[float, ...]]) -> None:
    ours, stock, floor = map(statistics.median, zip(*opened, strict=True))
    print(f"\n{engine}")
    print(f"First result, opened as a file:        median {ours:6.0f} ms")
    print(f"First result, stock over localhost:    median {stock:6.0f} ms")
    print(f"Floor: the wasm compiled, no more:     median {floor:6.0f} ms")
    _print_ratio(f"Ratio to stock (goal at most {GOALS.get(engine, 0.25)}):", [mine / stock for mine, stock, _ in opened])
    _print_ratio("Ratio to the floor (goal at most 3):", [mine / floor for mine, _, floor in opened])


def _print_trip(name: str, times: Sequence[float]) -> None:
    ninety_five = sorted(times)[int(0.95 * (len(times) - 1))]
    print(f"Round trip, {name:26} median {statistics.median(times):6.1f} ms, p95 {ninety_five:6.1f} ms")


def _print_ratio(what: str, ratios: list[float]) -> None:
    print(f"{what:39}median {statistics.median(ratios):.3f}  (pair by pair {min(ratios):.3f} to {max(ratios):.3f})")


def _sizes() -> Counter[str]:
    """Bytes of the handbook's folder, by what they are for."""
    sizes: Counter[str] = Counter()
    for path in build.SITE.rglob("*"):
        if path.is_file():
            top, *below = path.relative_to(build.SITE).parts
            part = f"{top}/{below[0]}" if top == "assets" and below else top
            sizes[part if below else "home and lists"] += path.stat().st_size
    return sizes


def _print_float(ratios: list[float]) -> None:
    for mean, ratio in zip(bench_float.MEANS, ratios, strict=True):
        print(f"Float, three tubes, {mean} cash sales (goal 1/50):  1/{1 / ratio:.0f} of an event simulation")
