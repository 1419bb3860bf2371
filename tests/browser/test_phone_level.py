"""The phone as a level: its sign, its own error taken out, what it refuses, and where nothing is offered."""

from __future__ import annotations

import math
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Watched
from tests.browser.taps import Reader
from tests.browser.test_finding import SIZES
from tests.browser.test_site_offline import Server
from tests.browser.test_tasks import BAR, STANDS

pytestmark = pytest.mark.browser

PART, READ, SAID, OFFER = ".hb-phone", ".hb-phone-do .hb-button--main", ".hb-phone-said", "button:has-text('Use this phone as a level')"
# As the browser tells it: angles of W3C's Device Orientation, α about the vertical, β and γ about the phone's own axes.
TELL = """([alpha, beta, gamma]) => dispatchEvent(new DeviceOrientationEvent("deviceorientation", { alpha, beta, gamma }))"""
# What a tap waits for before it reads, and for how long it reads, and a little.
READING_MS = 3100


@pytest.fixture(scope="module")
def server(site: Path, tmp_path_factory: Any) -> Iterator[Server]:
    copied = tmp_path_factory.mktemp("served") / "site"
    shutil.copytree(site, copied)
    started = Server(copied)
    yield started
    started.stop()


@pytest.fixture(params=SIZES.values(), ids=SIZES.keys())
def screen(request: Any, browser: Any) -> Iterator[Watched]:
    width, height = request.param
    context = browser.new_context(viewport={"width": width, "height": height}, reduced_motion="reduce")
    yield Watched(context)
    context.close()


@pytest.fixture
def page(browser: Any, server: Server) -> Iterator[Any]:
    """The Level page over the network, the clock in the test's hands once it stands."""
    context = browser.new_context()
    watched = Watched(context)
    watched.page.goto(f"{server.address}calculators/level.html")
    watched.wait(STANDS)
    watched.page.watched = watched
    yield watched.page
    # The theme's own timers, which a test's clock runs after they were taken back.
    complaints = [each for each in watched.complaints if "executing a cancelled action" not in each]
    assert (complaints, watched.violations()) == ([], [])
    context.close()


def angles(slope: float, own: float, heading: float, roll: float) -> list[float]:
    """What a phone tells whose long axis points to ``heading``, on a body that rises by ``slope`` that way.

    A model of its own: the phone's axes as vectors, turned about its long axis by ``roll``, and read back as Z-X′-Y″.
    All in degrees; ``own`` is how far its sensor is off along that axis, ``heading`` is counted from the right side.
    """
    turn, tilt, lean = (math.radians(each) for each in (heading, slope * math.cos(math.radians(heading)) + own, roll))
    long = (math.cos(turn) * math.cos(tilt), math.sin(turn) * math.cos(tilt), math.sin(tilt))
    flat = (math.sin(turn), -math.cos(turn), 0.0)  # to the phone's right, before it is turned
    up = tuple(flat[a] * long[b] - flat[b] * long[a] for a, b in ((1, 2), (2, 0), (0, 1)))
    right = [math.cos(lean) * one - math.sin(lean) * other for one, other in zip(flat, up, strict=True)]
    out = [math.sin(lean) * one + math.cos(lean) * other for one, other in zip(flat, up, strict=True)]
    beta, gamma = math.asin(long[2]), math.atan2(-right[2], out[2])
    alpha = math.atan2(-long[0], long[1])
    if abs(gamma) > math.pi / 2:  # the face turned down: W3C keeps γ within a quarter turn
        alpha, beta, gamma = alpha + math.pi, math.pi - beta, gamma - math.copysign(math.pi, gamma)
    return [math.degrees(alpha) % 360, (math.degrees(beta) + 180) % 360 - 180, math.degrees(gamma)]


def lay(page: Any, *told: list[float]) -> None:
    """Press for a reading, lay the phone down, and tell how it lies while it is read."""
    page.click(READ)
    assert page.inner_text(READ) in ("Read", "Read again")
    assert page.is_disabled(READ)
    page.evaluate(TELL, told[0])
    page.clock.run_for(1100)
    for each in told[1:]:
        page.evaluate(TELL, each)
    page.clock.run_for(READING_MS)


def reverse(page: Any, slope: float, own: float, roll: float = 0.0, turn: float = 180.0) -> None:
    for heading in (0.0, turn):
        lay(page, angles(slope, own, heading, roll))


def reading(page: Any, at: int = 0) -> tuple[str, ...]:
    return tuple(page.input_value(f"[name='readings.{at}.{key}']") for key in ("high", "shown_as", "phone"))


def begin(page: Any) -> None:
    page.clock.install()
    page.click(OFFER)


@pytest.mark.parametrize(("slope", "own", "roll"), [(0.8, 0.5, 0), (-0.8, 0.5, 0), (0.3, -1.2, 90), (-1.6, 2.4, -90), (0.3, 0.9, 100)])
def test_half_the_difference_on_its_back_and_on_either_edge(slope: float, own: float, roll: float, page: Any) -> None:
    """Its own error drops out; what is high is what the body says, and no example stays among the readings."""
    begin(page)
    reverse(page, slope, own, roll)
    assert reading(page) == ("right" if slope > 0 else "left", "phone", f"{abs(slope):.2f}")
    said = page.inner_text(SAID)
    assert f"{abs(slope):.2f}°, good to about 0.1°" in said
    assert f"own error, {abs(own):.2f}°" in said
    assert page.locator("[data-rows=readings] .hb-row").count() == 1
    page.watched.wait(STANDS)
    # Then the other way: the rear where its top end pointed first.
    reverse(page, -slope, own, roll)
    assert reading(page, 1) == ("rear" if slope < 0 else "front", "phone", f"{abs(slope):.2f}")
    page.click("button:text-is('Left to right')")
    reverse(page, 0, own, roll)
    assert reading(page) == ("none_across", "phone", "0.00")
    assert page.locator("[data-rows=readings] .hb-row").count() == 2


def test_one_that_moves_is_refused_and_how_far_it_moved_is_said(page: Any) -> None:
    begin(page)
    lay(page, *(angles(each, 0, 0, 0) for each in (0.4, 0.7)))
    assert "It moved" in page.inner_text(SAID)
    assert page.inner_text(READ) == "Read"
    lay(page, *(angles(each, 0, 0, 0) for each in (0.4, 0.5)))
    lay(page, angles(0.45, 0, 180, 0))
    assert reading(page)[2] == "0.45"
    assert "It moved by 0.10° while it was read." in page.inner_text(SAID)


def test_one_that_was_not_turned_or_laid_elsewhere_gives_nothing(page: Any) -> None:
    begin(page)
    reverse(page, 0.8, 0.5, turn=10)
    assert "not look turned" in page.inner_text(SAID)
    page.click("button:text-is('Start over')")
    reverse(page, 0.8, 5.5)
    assert "do not belong together" in page.inner_text(SAID)
    page.click("button:text-is('Start over')")
    lay(page, [0, 80, 0])
    assert "stands on end" in page.inner_text(SAID)
    assert reading(page)[1] != "phone"


def test_one_that_cannot_tell_whether_it_was_turned_says_so(page: Any) -> None:
    """Two equal readings look level, turned or not: the reader must know."""
    begin(page)
    for heading in (0.0, 180.0):
        lay(page, [None, *angles(0.8, 0.5, heading, 0)[1:]])
    assert "cannot tell which way it points" in page.inner_text(SAID)


def test_without_a_sensor_it_says_so(page: Any) -> None:
    """A browser of a desk tells once, and tells nothing."""
    begin(page)
    lay(page, [None, None, None])
    assert "no sensor" in page.inner_text(SAID)
    assert page.locator("[data-rows=readings] .hb-row").count() == 4, "the readings are as they were"


@pytest.mark.parametrize("answer", ["denied", "granted"])
def test_leave_is_asked_for_in_the_tap(answer: str, page: Any) -> None:
    """As on phones that ask: once refused, it is said what to do."""
    page.evaluate(f"""() => {{ window.asked = [];
      DeviceOrientationEvent.requestPermission = async () => {{ asked.push(navigator.userActivation.isActive); return "{answer}"; }}; }}""")
    page.click(OFFER)
    page.watched.wait("asked.length === 1")
    assert page.evaluate("asked") == [True]
    if answer == "denied":
        page.watched.wait(f"document.querySelector('{SAID}').textContent.includes('not allowed')")
    assert page.is_enabled(READ)


def test_from_files_nothing_is_offered(watched: Watched, site: Path) -> None:
    """Typing remains; on the first page there is no way to it either."""
    watched.page.goto((site / "calculators/level.html").as_uri() + "#phone")
    watched.wait(STANDS)
    assert watched.page.locator(f"{OFFER}, {PART}").count() == 0
    assert watched.page.locator("[data-rows=readings] [data-do=add]").is_visible()
    watched.page.goto((site / "index.html").as_uri())
    assert watched.page.locator("[data-phone-level]").is_hidden()
    assert (watched.complaints, watched.violations()) == ([], [])


def test_level_by_phone_in_three_taps(screen: Watched, server: Server) -> None:
    """The sensor is the browser's own; which side is high stands in the form, and the outcome on the screen."""
    session = screen.page.context.new_cdp_session(screen.page)

    def tell(slope: float, heading: float) -> None:
        alpha, beta, gamma = angles(slope, 0.5, heading, 0)
        session.send("DeviceOrientation.setDeviceOrientationOverride", {"alpha": alpha, "beta": beta, "gamma": gamma})

    tell(1.5, 0)
    reader = Reader(screen, f"{server.address}index.html")
    page = reader.tap("[data-phone-level] a", f"{STANDS} && document.querySelector('{PART}:not([hidden])')")
    reader.tap(READ, f"document.querySelector('{READ}').textContent === 'Read again'")
    tell(1.5, 180)
    reader.tap(READ, f"{STANDS} && document.querySelector('{SAID}').textContent.includes('Right side high')")
    assert "Right side high: 1.5" in reader.read(SAID)
    assert reading(page)[:2] == ("right", "phone")
    assert float(reading(page)[2]) == pytest.approx(1.5, abs=0.06)
    assert "Stop" in reader.read(BAR if page.locator(BAR).is_visible() else ".hb-outcome")


def test_in_a_step_of_a_procedure_too(browser: Any, server: Server) -> None:
    """The calculator over the page has it, and its reading stands in that form."""
    context = browser.new_context()
    watched = Watched(context)
    page = watched.page
    page.goto(f"{server.address}procedures/level-and-bear.html")
    page.click("[data-calculator-row=level] .hb-open")
    watched.wait("document.querySelector('dialog [data-calculator]')?.dataset.state === 'ready'")
    begin(page)
    reverse(page, -0.6, 0.2)
    assert reading(page) == ("left", "phone", "0.60")
    assert (watched.complaints, watched.violations()) == ([], [])
    context.close()
