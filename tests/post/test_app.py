"""Icons, web manifest and the service worker's list of files."""

import hashlib
import json
import re
import struct
import zlib

import pytest

from tools import colours
from tools.post import app, icons, listing, pages


def decoded(png: bytes) -> tuple[int, list[bytes]]:
    """Read a PNG of 8-bit RGBA without filters; return its size and rows."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    parts, at = {}, 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        kind, data = png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        assert struct.unpack(">I", png[at + 8 + length : at + 12 + length])[0] == zlib.crc32(
            kind + data
        )
        parts[kind], at = data, at + 12 + length
    width, height, *rest = struct.unpack(">IIBBBBB", parts[b"IHDR"])
    assert (width, rest) == (height, [8, 6, 0, 0, 0])
    raw = zlib.decompress(parts[b"IDAT"])
    stride = 1 + 4 * width
    assert len(raw) == stride * height
    return width, [raw[y * stride + 1 : (y + 1) * stride] for y in range(height)]


def pixel(rows: list[bytes], x: int, y: int) -> tuple[int, ...]:
    return tuple(rows[y][4 * x : 4 * x + 4])


def test_coverage_is_the_area_covered():
    """A rectangle off the grid and a triangle, against plain geometry."""
    square = [(0.5, 0.25), (2.75, 0.25), (2.75, 3), (0.5, 3)]
    assert icons.coverage(4, [square]) == pytest.approx(
        [0.375, 0.75, 0.5625, 0, 0.5, 1, 0.75, 0, 0.5, 1, 0.75, 0, 0, 0, 0, 0]
    )
    triangle = [(0, 0), (4, 0), (0, 4)]
    covered = icons.coverage(4, [triangle])
    assert sum(covered) == pytest.approx(8)
    assert covered[0:4] == pytest.approx([1, 1, 1, 0.5])


def test_turning_a_shape_round_changes_nothing():
    circle = [icons.arc((8, 8), 6.3, step / 20 * 6.283185307179586) for step in range(20)]
    assert icons.coverage(16, [circle]) == pytest.approx(icons.coverage(16, [circle[::-1]]))


def test_an_icon_is_a_whole_png_in_the_accent():
    size, rows = decoded(icons.icon(64, "#0b6e4f"))
    assert size == 64
    assert pixel(rows, 0, 0)[3] == 0  # the corner is round
    assert pixel(rows, 32, 3) == (0x0B, 0x6E, 0x4F, 255)
    assert any(pixel(rows, x, 32)[:3] == (255, 255, 255) for x in range(64))


def test_a_maskable_icon_fills_the_square_and_keeps_its_mark_in_the_safe_circle():
    """Launchers may cut all outside a circle of 80 % of the edge (W3C web manifest)."""
    size, rows = decoded(icons.icon(100, "#0b6e4f", maskable=True))
    ground = (0x0B, 0x6E, 0x4F, 255)
    outside = [
        pixel(rows, x, y)
        for x in range(size)
        for y in range(size)
        if (x + 0.5 - 50) ** 2 + (y + 0.5 - 50) ** 2 > 40**2
    ]
    assert set(outside) == {ground}


@pytest.mark.parametrize(
    ("color", "ratio"), [((0, 0, 0), 21.0), ((255, 255, 255), 1.0), ((0x76, 0x76, 0x76), 4.54)]
)
def test_contrast_is_that_of_wcag(color, ratio):
    """Black 21, white 1; #767676 is the well-known lightest grey that passes 4.5 on white."""
    assert colours.contrast(color, (255, 255, 255)) == pytest.approx(ratio, abs=0.005)


def test_the_mark_is_dark_on_a_light_accent():
    assert colours.legible(colours.parse("#f2c14e")) == colours.INK
    assert colours.legible(colours.parse("#0b5c6b")) == colours.WHITE


@pytest.mark.parametrize("accent", ["teal", "#abc", "#12345g"])
def test_a_colour_that_is_none_is_refused(accent):
    with pytest.raises(ValueError, match=r"colour"):
        icons.icon(16, accent)


@pytest.mark.parametrize(
    ("name", "short"),
    [
        ("Handbook", "Handbook"),
        ("Harbor Street Snacks", "Harbor"),
        ("Our own handbook", "Our own"),
        ("Internationalization", "Internationa"),
    ],
)
def test_a_name_fits_under_an_icon(name, short):
    assert app.short(name) == short


def test_the_web_manifest_names_icons_of_all_kinds(tmp_path):
    app.install(tmp_path, site_name="Our own handbook", accent="#0b5c6b")
    described = json.loads((tmp_path / app.WEB_MANIFEST).read_text())
    assert (described["start_url"], described["display"]) == ("./index.html", "standalone")
    kinds = {(icon["sizes"], icon["purpose"]) for icon in described["icons"]}
    assert kinds == {(s, p) for s in ("192x192", "512x512") for p in ("any", "maskable")}
    for icon in described["icons"]:
        size, _ = decoded((tmp_path / icon["src"]).read_bytes())
        assert icon["sizes"] == f"{size}x{size}"


def test_the_worker_lists_every_file_that_is_read_by_its_hash(tmp_path):
    for name in ("index.html", "a/ü b.html", "site.zip", listing.NAME):
        pages.write(tmp_path / name, name)
    kept = app.write_worker(tmp_path, "b1")
    text = (tmp_path / app.WORKER).read_text(encoding="utf-8")
    handbook = json.loads(re.search(r"const HANDBOOK = (\{.*?\n\});", text, re.DOTALL)[1])
    assert handbook == {
        "build": "b1",
        "files": {
            name: hashlib.sha256(name.encode()).hexdigest() for name in ("a/ü b.html", "index.html")
        },
    }
    assert kept == len("index.html") + len("a/ü b.html".encode())


def test_the_same_files_give_the_same_worker(tmp_path):
    """It lists neither itself nor anything that changes from build to build."""
    pages.write(tmp_path / "index.html", "x")
    app.write_worker(tmp_path, "b1")
    first = (tmp_path / app.WORKER).read_bytes()
    app.write_worker(tmp_path, "b1")
    assert (tmp_path / app.WORKER).read_bytes() == first


def test_only_pages_of_the_theme_install_the_app():
    theme = (
        "<head></head><body>"
        '<script id="__config" type="application/json">{"base": ".."}</script></body>'
    )
    done = app.page(theme, "#0b5c6b")
    assert '<script src="../assets/javascripts/app.js" defer>' in done
    assert '<meta name="theme-color" content="#0b5c6b">' in done
    # From a folder a browser refuses the manifest and calls it an error.
    assert "webmanifest" not in done
    assert app.page("<head></head><body></body>", "#0b5c6b") == "<head></head><body></body>"
