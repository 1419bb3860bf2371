"""The command `editions`: what it makes of the built handbook, and that it is the same wherever it is made."""

from __future__ import annotations

import argparse
import hashlib
import io
import json
import os
import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tools import editions
from tools.commands import editions as command
from tools.commands import place
from tools.commands.progress import Trouble
from tools.licenses import notices

ROOT = Path(__file__).parents[2]
LOCKS = ROOT / "tools" / "locks"
MAKE = """
import sys
from pathlib import Path
sys.path.insert(0, {root!r})
from tools import editions
editions.write(editions.make(Path("a site"), Path({locks!r})), Path("made"))
"""


@pytest.fixture(scope="module")
def made(site: Path) -> dict[str, bytes]:
    """What the command makes."""
    return editions.make(site, LOCKS)


def test_they_are_the_same_in_any_folder_zone_mask_and_language(made: dict[str, bytes], site: Path, tmp_path: Path) -> None:
    """A copy of the site with other moments and rights, made by another process with all of these changed."""
    shutil.copytree(site, tmp_path / "a site", copy_function=shutil.copyfile)
    for number, path in enumerate(sorted((tmp_path / "a site").rglob("*"))):
        os.utime(path, (1e9 + number, 1e9 + number))
    told = {**os.environ, "TZ": "Pacific/Auckland", "LANG": "tr_TR.UTF-8", "LC_ALL": "C", "USER": "somebody", "PYTHONHASHSEED": "7"}
    program = MAKE.format(root=str(ROOT), locks=str(LOCKS))
    answer = subprocess.run([sys.executable, "-c", program], cwd=tmp_path, env=told, umask=0o077, capture_output=True, text=True, check=False)
    assert answer.returncode == 0, answer.stderr
    found = {path.name: path.read_bytes() for path in (tmp_path / "made").iterdir()}
    assert set(found) == set(made) == set(editions.ALL)
    assert [name for name in made if found[name] != made[name]] == []


def test_the_zips_hold_every_file_of_the_handbook(made: dict[str, bytes], site: Path) -> None:
    files = {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}
    with zipfile.ZipFile(io.BytesIO(made["handbook-folder.zip"])) as folder:
        assert {name: folder.read(name) for name in folder.namelist()} == {f"handbook/{name}": data for name, data in files.items()}
    with zipfile.ZipFile(io.BytesIO(made["handbook-hosted.zip"])) as hosted:
        assert {name: hosted.read(name) for name in hosted.namelist()} == files
    advice = made["hosting.txt"].decode()
    policy = re.search(r"Content-Security-Policy: (.*); frame-ancestors 'none'", advice)
    assert policy
    assert f'content="{policy[1]}"' in files["index.html"].decode()


def test_the_checksums_are_those_of_the_files(made: dict[str, bytes]) -> None:
    lines = made["checksums.txt"].decode().splitlines()
    told = dict(reversed(line.split("  ")) for line in lines)
    assert told == {name: hashlib.sha256(data).hexdigest() for name, data in made.items() if name != "checksums.txt"}


def test_the_bill_names_every_work_package_and_edition(made: dict[str, bytes]) -> None:
    """As CycloneDX 1.6 wants it: a reference is of one thing, a license an expression, a hash in hexadecimal digits."""
    bill = json.loads(made["bill-of-materials.json"])
    assert (bill["bomFormat"], bill["specVersion"], bill["version"]) == ("CycloneDX", "1.6", 1)
    parts = bill["components"]
    references = [each["bom-ref"] for each in (bill["metadata"]["component"], *parts)]
    assert len(references) == len(set(references))
    works = {each["name"]: each["licenses"] for each in parts if each["bom-ref"].startswith("work:")}
    assert works == {each.name: [{"expression": each.license}] for each in notices()}
    locked = [line.split("==")[0] for line in (LOCKS / "build.txt").read_text("utf-8").splitlines() if re.match(r"\w.*==", line)]
    assert sorted(set(locked)) == sorted({each["name"] for each in parts if each.get("purl", "").startswith("pkg:pypi/")})
    assert "pkg:npm/pyodide@" in " ".join(references)
    assert {each["name"] for each in parts if each["type"] == "file"} == set(made) - {"checksums.txt", "bill-of-materials.json"}
    lengths = {"SHA-256": 64, "SHA-512": 128}
    hashes = [each for part in parts for each in part.get("hashes", ())]
    assert hashes
    assert all(re.fullmatch(rf"[0-9a-f]{{{lengths[each['alg']]}}}", each["content"]) for each in hashes)


def test_every_license_goes_along(made: dict[str, bytes]) -> None:
    told = made["licenses.txt"].decode()
    assert all(each.text in told and f"\n{each.license}\n" in told for each in notices())


def asked(monkeypatch: pytest.MonkeyPatch, site: Path, out: Path) -> int:
    """The command, of a site that stands somewhere."""
    monkeypatch.setattr(place, "of", lambda folder: place.Place(place.DEMONSTRATION, site, site.parent))
    return command.main(argparse.Namespace(folder=None, out=out))


def test_the_command_says_what_it_made(
    site: Path, made: dict[str, bytes], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(editions, "make", lambda site, locks: made)
    assert asked(monkeypatch, site, tmp_path / "out") == 0
    said = capsys.readouterr().out
    assert all(name in said for name in editions.ALL)
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == made


def test_a_site_that_is_not_there_or_was_changed_stops_it(site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One changed byte of any file: nothing is made of it."""
    with pytest.raises(Trouble, match=r"no handbook yet.*handbook\.py build"):
        asked(monkeypatch, tmp_path / "nothing", tmp_path / "out")
    shutil.copytree(site, tmp_path / "site")
    with (tmp_path / "site" / "packs" / "safety.pdf").open("r+b") as file:
        file.seek(5000)
        byte = file.read(1)[0]
        file.seek(5000)
        file.write(bytes([byte ^ 1]))
    with pytest.raises(Trouble, match=r"packs/safety\.pdf: This is not the file that was built"):
        asked(monkeypatch, tmp_path / "site", tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_the_one_file_is_that_of_the_test_session(made: dict[str, bytes], whole: Path) -> None:
    """What the tests in the browsers open is what a reader gets."""
    assert whole.read_bytes() == made[whole.name]
