"""The one command and its environment: the parts that need no network."""

import argparse
import io
import json
import os
import re
import shutil
import subprocess
import sys
import types
from pathlib import Path

import pytest

from tools import handbook
from tools.commands import browsers, dispatch, environment, node
from tools.commands.progress import Progress, Trouble

ROOT = Path(__file__).resolve().parents[2]
LOCKS = sorted((ROOT / "tools" / "locks").glob("*.txt"))
PYTHON = Path(sys.executable)
NET = 900  # seconds: only for a command that hangs


def run(*arguments: str, folder: Path = ROOT, **options: object) -> subprocess.CompletedProcess:
    """Run the one command as a person does, without the environment's packages."""
    command = [environment.outer_python(), "-S", str(ROOT / "tools" / "handbook.py"), *arguments]
    return subprocess.run(
        command, cwd=folder, capture_output=True, text=True, timeout=NET, check=False, **options
    )


# -- the command line --------------------------------------------------------


@pytest.mark.parametrize(
    ("version", "fits"),
    [((3, 10), False), ((2, 7), False), ((3, 11), True), ((3, 14), True), ((4, 0), True)],
)
def test_an_old_python_is_told_so(version, fits):
    """Both versions are named: the one wanted and the one that was tried."""
    text = handbook.too_old(*version)
    assert (text == "") is fits
    if not fits:
        assert "3.11" in text
        assert "{}.{}".format(*version) in text


def test_help_names_every_command():
    """Each with a line that says what it does; asking for help is no mistake."""
    answer = run("--help")
    assert answer.returncode == 0
    for name, (does, _) in handbook.COMMANDS.items():
        assert re.search(rf"^  {name} +{re.escape(does)}$", answer.stdout, re.MULTILINE)


@pytest.mark.parametrize("name", handbook.COMMANDS)
def test_a_command_explains_itself_before_anything_is_installed(name, tmp_path):
    """On a bare Python, from any folder."""
    answer = run(name, "--help", folder=tmp_path)
    assert answer.returncode == 0, answer.stderr
    assert f"handbook.py {name}" in answer.stdout


def test_an_unknown_command_is_refused_with_the_list():
    """Exit code 2, as for any mistake on a command line."""
    answer = run("biuld")
    assert answer.returncode == 2
    assert "There is no command “biuld”." in answer.stderr
    assert "build" in answer.stderr


def test_nothing_asked_shows_the_commands():
    """As help, but with the exit code of a mistake."""
    answer = run()
    assert answer.returncode == 2
    assert "Commands:" in answer.stdout


def test_a_wrong_argument_is_refused_before_the_environment_is_made():
    """The parser's own message, within a second."""
    answer = run("serve", "--port", "east")
    assert answer.returncode == 2
    assert "[1/" not in answer.stdout


def test_calc_runs_on_a_bare_python():
    """No layer of the environment, and none of our modules that make one."""
    assert handbook.COMMANDS["calc"][1] == ()
    code = (
        f"import sys; sys.path.insert(0, {str(ROOT)!r}); from tools.commands import calc, dispatch;"
        "print([n for n in ('subprocess', 'tools.commands.environment') if n in sys.modules])"
    )
    answer = subprocess.run(
        [environment.outer_python(), "-I", "-S", "-c", code],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert answer.stdout.strip() == "[]"


def test_a_path_with_spaces_and_another_folder_will_do(tmp_path):
    """The command finds its own house."""
    house = tmp_path / "our own handbook"
    for name in ("tools", "calculators"):
        ignore = shutil.ignore_patterns("__pycache__", "drawings", "runtime")
        shutil.copytree(ROOT / name, house / name, ignore=ignore)
    script = house / "tools" / "handbook.py"
    answer = subprocess.run(
        [environment.outer_python(), "-S", str(script), "calc", "nothing"],
        cwd=tmp_path, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert answer.returncode == 2, answer.stderr
    assert "There is no calculator “nothing”." in answer.stdout


# -- dispatch ----------------------------------------------------------------


def command(**parts: object) -> types.ModuleType:
    """Return a stand-in for a command's module."""
    module = types.ModuleType("stand_in")
    module.add_arguments = lambda parser: parser.add_argument("--fast", action="store_true")
    vars(module).update(parts)
    return module


def test_arguments_of_another_tool_are_passed_on_in_order():
    """`test -k door tests/x` hands all of it to pytest."""
    argv = ["-k", "door", "--fast", "tests/x", "-x"]
    args = dispatch.parse(command(PASSES_ON=True), "test", "run", argv)
    assert args.fast
    assert args.rest == ["-k", "door", "tests/x", "-x"]


def test_unknown_arguments_are_refused_otherwise(capsys):
    """Nothing is silently left out."""
    with pytest.raises(SystemExit) as error:
        dispatch.parse(command(), "build", "make", ["--slow"])
    assert error.value.code == 2
    assert "--slow" in capsys.readouterr().err


def test_an_option_is_not_guessed_from_its_beginning():
    """An option that begins like one of ours may be meant for pytest."""
    args = dispatch.parse(command(PASSES_ON=True), "test", "run", ["--fas"])
    assert not args.fast
    assert args.rest == ["--fas"]


def test_trouble_is_told_without_a_traceback(monkeypatch, capsys):
    """Exit code 1 and the text alone."""

    def fail(args: argparse.Namespace) -> int:
        raise Trouble("The door is locked. Fetch the key.")

    monkeypatch.setitem(sys.modules, "tools.commands.stand_in", command(main=fail))
    assert dispatch.run("stand_in", "fail", (), []) == 1
    assert capsys.readouterr().err.strip() == "The door is locked. Fetch the key."


@pytest.mark.parametrize("name", handbook.COMMANDS)
def test_every_command_has_the_two_functions(name):
    """And its layers have locks."""
    module = __import__(f"tools.commands.{name}", fromlist=["main"])
    assert callable(module.add_arguments)
    assert callable(module.main)
    for layer in handbook.COMMANDS[name][1]:
        assert (environment.LOCKS / f"{layer}.txt").is_file()


# -- the stamp ---------------------------------------------------------------


@pytest.fixture
def locks(tmp_path: Path) -> Path:
    """A folder with two locks."""
    (tmp_path / "build.txt").write_text("one==1 \\\n    --hash=sha256:00\n")
    (tmp_path / "test.txt").write_text("two==2 \\\n    --hash=sha256:11\n")
    return tmp_path


def stamp_of(folder: Path, *layers: str) -> dict:
    """Return the stamp of an environment made from these locks by this Python."""
    digests = {layer: environment.lock_hash(layer, folder) for layer in layers}
    return {"python": environment.python_version(PYTHON), "layers": digests}


def test_a_finished_environment_is_left_alone(locks):
    """Same locks, same Python."""
    assert not environment.must_be_made_anew(stamp_of(locks, "build"), PYTHON, locks)


def test_a_changed_lock_makes_it_anew(locks):
    """Adding to it would leave behind what the lock no longer names."""
    stamp = stamp_of(locks, "build", "test")
    (locks / "test.txt").write_text("two==3 \\\n    --hash=sha256:22\n")
    assert environment.must_be_made_anew(stamp, PYTHON, locks)


def test_an_environment_without_a_stamp_is_half_made(locks):
    """The stamp is written last."""
    assert environment.must_be_made_anew({}, PYTHON, locks)


def test_an_environment_is_never_cleared_through_a_link(tmp_path, monkeypatch):
    """The folder that it leads to is somebody else's."""
    theirs = tmp_path / "theirs"
    theirs.mkdir()
    (theirs / "python").write_text("in use")
    link = tmp_path / ".venv"
    link.symlink_to(theirs)
    monkeypatch.setattr(environment, "VENV", link)
    monkeypatch.setattr(environment, "STAMP", link / "handbook.json")
    monkeypatch.setattr(environment.subprocess, "run", lambda *_, **__: pytest.fail("it was begun all the same"))
    with pytest.raises(Trouble, match="Make it anew there"):
        environment.make(Progress(1))
    assert (theirs / "python").read_text() == "in use"


def test_another_python_makes_it_anew(locks):
    """As after the machine's Python went from one version to the next."""
    stamp = {**stamp_of(locks, "build"), "python": "3.9"}
    assert environment.must_be_made_anew(stamp, PYTHON, locks)


def test_a_python_that_does_not_start_makes_it_anew(locks):
    """As when it was a link to one that was removed."""
    gone = locks / "bin" / "python"
    assert environment.python_version(gone) == ""
    assert environment.must_be_made_anew(stamp_of(locks, "build"), gone, locks)


def test_only_the_missing_layers_are_added(locks):
    """In the order asked for."""
    assert environment.missing(("build", "test"), stamp_of(locks, "build")) == ["test"]
    assert environment.missing(("build",), stamp_of(locks, "build")) == []
    assert environment.missing(("build", "test"), {}) == ["build", "test"]


@pytest.mark.parametrize("text", ["", "{", "[]", '"x"', "{}", '{"layers": []}'])
def test_a_damaged_stamp_counts_as_none(tmp_path, text):
    """A machine may lose power in the middle of anything."""
    path = tmp_path / "stamp.json"
    path.write_text(text)
    assert environment.read_stamp(path) == {}
    assert environment.read_stamp(tmp_path / "absent.json") == {}


def test_a_stamp_survives_writing_and_reading(tmp_path, locks):
    """What was written is what is read."""
    stamp = stamp_of(locks, "build")
    environment.write_stamp(stamp, tmp_path / "stamp.json")
    assert environment.read_stamp(tmp_path / "stamp.json") == stamp


def test_line_ends_do_not_change_a_hash(locks):
    """Git may write CRLF on one machine and LF on the next."""
    before = environment.lock_hash("build", locks)
    text = (locks / "build.txt").read_bytes()
    (locks / "build.txt").write_bytes(text.replace(b"\n", b"\r\n"))
    assert environment.lock_hash("build", locks) == before


def test_two_commands_do_not_change_it_at_once():
    """The second waits for the first and says so."""
    pytest.importorskip("fcntl")
    code = (
        f"import sys; sys.path.insert(0, {str(ROOT)!r}); from tools.commands import environment as e"
        "\nwith e.alone(): print('in', flush=True)"
    )
    with environment.alone():
        other = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True)
        assert other.stdout is not None
        assert "waiting" in other.stdout.readline()
    assert other.communicate(timeout=NET)[0] == "in\n"


def test_variables_that_send_files_elsewhere_are_dropped(monkeypatch):
    """Those that name a registry or a proxy stay."""
    monkeypatch.setenv("PIP_TARGET", "/elsewhere")
    monkeypatch.setenv("PIP_DEFAULT_TIMEOUT", "9")
    environ = environment.clean_environ()
    assert "PIP_TARGET" not in environ
    assert environ["PIP_DEFAULT_TIMEOUT"] == "9"


# -- the locks ---------------------------------------------------------------


@pytest.mark.parametrize("path", LOCKS, ids=lambda path: path.name)
def test_every_locked_package_has_one_version_and_a_hash(path):
    """Otherwise pip would refuse, at a bad moment, on somebody else's machine."""
    entries = re.split(r"(?m)^(?=[\w.-]+==)", path.read_text())[1:]
    assert entries
    for entry in entries:
        assert re.match(r"[\w.-]+==[\w.+-]+( ; [^\n]+)? \\\n", entry), entry[:80]
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", entry), entry[:80]


def test_the_layers_agree():
    """They share one environment, so a package may not have two versions in it."""
    found: dict[tuple[str, str], str] = {}
    for name in ("build", "test", "node"):
        text = (environment.LOCKS / f"{name}.txt").read_text()
        for package, version, marker in re.findall(r"(?m)^([\w.-]+)==(\S+) (.*)\\$", text):
            assert found.setdefault((package, marker), version) == version, package


@pytest.mark.parametrize(
    "name",
    [
        "package.json",
        "package-lock.json",
        ".npmrc",
        "pyproject.toml",
        ".ci/run",
        "tools/handbook.py",
    ]
    + [f"tools/locks/{path.name}" for path in (ROOT / "tools" / "locks").iterdir()],
)
def test_no_registry_is_named(name):
    """Each machine has its own way to the registries; an address here would get round it."""
    text = (ROOT / name).read_text(encoding="utf-8")
    # Where authors ask for gifts; no package comes from there.
    text = re.sub(r'"url": "https://[^"]*"', "", text)
    assert "://" not in text
    assert not re.search(r"(?i)(?<!no-emit-)(index-url|find-links)|registry *=", text)


def test_npm_packages_are_exact_and_hashed():
    """One version each, and the hash of every file."""
    wanted = json.loads((ROOT / "package.json").read_text())
    for version in (wanted["dependencies"] | wanted["devDependencies"]).values():
        assert re.fullmatch(r"\d+\.\d+\.\d+", version)
    locked = json.loads((ROOT / "package-lock.json").read_text())["packages"]
    for name, package in locked.items():
        assert not name or package["integrity"].startswith("sha512-")
        assert "resolved" not in package


# -- Node, npm, browsers -----------------------------------------------------


@pytest.mark.parametrize(
    ("text", "number"), [("v20.20.2", 20), ("v8.1.0", 8), ("", 0), ("node", 0), ("20.1.0", 0)]
)
def test_the_version_of_node_is_read(text, number):
    """What is no version counts as too old."""
    assert node.major(text) == number


def program(folder: Path, name: str, prints: str = "") -> Path:
    """Write a small program."""
    path = folder / name
    path.write_text(f"#!/bin/sh\necho {prints}\n")
    path.chmod(0o755)
    return path


@pytest.mark.skipif(os.name == "nt", reason="the stand-in is a shell script")
@pytest.mark.parametrize(
    ("prints", "npm", "taken"),
    [("v20.0.0", True, True), ("v24.1.0", True, True), ("v18.9.9", True, False),
     ("v22.0.0", False, False)],
)  # fmt: skip
def test_the_machines_own_node_is_taken_where_it_will_do(tmp_path, monkeypatch, prints, npm, taken):
    """Version 20 or later, with npm."""
    own = program(tmp_path, "node", prints)
    if npm:
        program(tmp_path, "npm")
    monkeypatch.setenv("PATH", str(tmp_path))
    assert node.own_node() == (str(own.resolve()) if taken else "")


def test_a_changed_package_lock_is_noticed(tmp_path):
    """And so is each other file that decides what npm installs."""
    names = ("package.json", "package-lock.json", ".npmrc")
    for name in names:
        (tmp_path / name).write_text("{}")
    hashes = {node.packages_hash(tmp_path)}
    for name in names:
        (tmp_path / name).write_text("{ }")
        hashes.add(node.packages_hash(tmp_path))
    assert len(hashes) == 4


def test_without_a_browser_it_says_how_and_stops(monkeypatch):
    """Never a skip; what there is is not named."""
    monkeypatch.setattr(browsers, "own", lambda each: "/there" if each is browsers.FIREFOX else "")
    monkeypatch.setattr(browsers, "can_install", lambda: False)
    with pytest.raises(Trouble, match="apt-get install chromium webkit2gtk-driver xvfb\n") as told:
        browsers.find(browsers.ALL, Progress(1, io.StringIO()))
    assert "Linux alone" in str(told.value)
    assert "HANDBOOK_FIREFOX" not in str(told.value)
    assert "Linux" not in browsers.how([browsers.CHROMIUM])


def test_with_debians_tools_what_is_missing_is_installed(monkeypatch):
    """The list is fetched first: on a new machine it is empty. What is there already is left alone."""
    asked: list[tuple[str, ...]] = []
    monkeypatch.setattr(browsers, "own", lambda each: "/there" if asked[1:] or each is browsers.CHROMIUM else "")
    monkeypatch.setattr(browsers, "can_install", lambda: True)
    monkeypatch.setattr(browsers, "apt_get", lambda missing, *words: asked.append(words))
    assert set(browsers.find(browsers.ALL, Progress(1, io.StringIO())).values()) == {"/there"}
    assert asked[0] == ("update",)
    assert asked[1][0] == "install"
    assert asked[1][-3:] == ("firefox-esr", "webkit2gtk-driver", "xvfb")
    assert "chromium" not in asked[1]


def test_an_installer_that_brings_nothing_is_told(monkeypatch):
    """A package without its program must not pass for one."""
    monkeypatch.setattr(browsers, "own", lambda each: "")
    monkeypatch.setattr(browsers, "can_install", lambda: True)
    monkeypatch.setattr(browsers, "apt_get", lambda missing, *words: None)
    with pytest.raises(Trouble, match="never left out"):
        browsers.find([browsers.XVFB], Progress(1, io.StringIO()))


@pytest.mark.parametrize("each", browsers.ALL)
def test_a_browser_that_is_named_must_be_there(each, monkeypatch, tmp_path):
    """Falling back to another would check what nobody asked for."""
    monkeypatch.setenv(each.variable, str(tmp_path / "absent"))
    with pytest.raises(Trouble, match=each.variable):
        browsers.own(each)


# -- messages ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("output", "says"),
    [
        (
            "connection broken by 'NewConnectionError'\nERROR: from versions: none",
            "needs a network",
        ),
        ("npm error code ENOTFOUND", "needs a network"),
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM", "not the one that was locked"),
        ("npm error code EINTEGRITY", "not the one that was locked"),
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("PermissionError: [Errno 13] Permission denied: '.venv'", "may not be written"),
        ("ERROR: No matching distribution found for shapely==2.2.0", "no ready-made file"),
    ],
)
def test_a_failure_says_why_and_what_to_do(output, says):
    """The cause in our words, then the tool's own."""
    text = environment.explain("It failed", output)
    assert text.startswith("It failed.\n")
    assert says in text
    assert output.splitlines()[-1] in text


def test_an_unknown_failure_shows_what_was_said():
    """The last lines, without pip's repeated warnings."""
    text = environment.explain("It failed", "WARNING: again\n" * 20 + "ERROR: odd\n")
    assert text == "It failed.\nIt said:\n  ERROR: odd"


def test_a_python_without_venv_is_told_what_to_install():
    """Debian leaves it out of its Python."""
    assert "apt-get install python3-venv" in environment.no_module("ensurepip")


def test_steps_are_numbered():
    """And what belongs to one stands under it."""
    stream = io.StringIO()
    progress = Progress(2, stream)
    progress.step("Making the environment")
    progress.note("in .venv")
    progress.step("Installing")
    progress.finish("Ready.")
    lines = stream.getvalue().splitlines()
    assert lines[:3] == ["[1/2] Making the environment …", "      in .venv", "[2/2] Installing …"]
    assert re.fullmatch(r"Ready\. \(\d+ s\)", lines[3])
