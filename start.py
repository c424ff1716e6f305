#!/usr/bin/env python3
"""Start Tunwright with nothing but Python 3.11 or newer.

python start.py            put what is needed into .venv beside this file (once), then open the desk
python start.py test       the same with the test tools, then run the checks of the code and the tests
python start.py COMMAND    hand COMMAND and all that follows to tunwright, e.g.  python start.py assess my.toml

The packages and their hashes stand in lock/. The network is needed once, and again when the lock changes.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import platform
import shutil
import subprocess
import sys
import sysconfig
from pathlib import Path

OLDEST = (3, 11)
ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
STAMP = VENV / "installed.txt"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

GET_PYTHON = """  Debian, Ubuntu   sudo apt install python3 python3-venv
  Fedora           sudo dnf install python3 python3-pip
  macOS            install Python from its own site, or: brew install python
  Windows          install Python from its own site or the Store, with pip ticked"""

FAILURES = {
    ("No space left", "not enough space"): """\
The disk is full: about 500 MB are needed. Make room and run this again.""",
    ("DO NOT MATCH THE HASHES",): """\
A package that arrived is not the one that was locked, so it was refused. Run this again; if it happens again,
something between you and the package index changes files: tell whoever runs it.""",
    ("Retrying (", "ConnectionError", "ProxyError", "SSLError", "timed out", "name resolution"): """\
The package index could not be reached. Look at the network connection (or the proxy settings of pip) and run this
again. After that it works without a network.""",
    ("No matching distribution", "not a supported wheel"): """\
A package does not exist ready-made for this Python and machine. Use 64-bit Python 3.11 to 3.14 on Linux (x86-64 or
arm64), macOS, or Windows (x86-64).""",
    ("Permission denied", "Access is denied", "Read-only file system"): """\
This account may not write to the .venv folder. Close programs that use it, or put the project where you may write,
and run this again.""",
}


class Trouble(Exception):
    """What went wrong and what to do, in sentences for the person at the keyboard."""


def main(arguments: list[str]) -> int:
    """Prepare .venv as far as the arguments need it, then run them."""
    testing = arguments[:1] == ["test"]
    prepare(["run", "test"] if testing else ["run"])
    if testing:
        return run_tests(arguments[1:])
    if not arguments:
        say("Opening the desk.")
    return hand_over([str(PYTHON), "-m", "tunwright", *(arguments or ["serve"])])


def prepare(sets: list[str]) -> None:
    """Make .venv hold these package sets; the last one contains the others."""
    wanted = [fingerprint(name) for name in sets]
    have = STAMP.read_text(encoding="utf-8").split() if STAMP.is_file() and PYTHON.exists() else []
    if have[: len(wanted)] == wanted:
        return
    check_python()
    if have[:1] != wanted[:1]:
        make_venv()
    install(sets[-1])
    STAMP.write_text("\n".join(wanted) + "\n", encoding="utf-8")


def fingerprint(name: str) -> str:
    """Changes when the lock changes, or the Python that .venv was made with."""
    about = "{0} {1} ".format(sys.implementation.cache_tag, sys.base_prefix).encode()
    return hashlib.sha256(about + lock_file(name).read_bytes()).hexdigest()


def lock_file(name: str) -> Path:
    """Where the pinned versions and hashes of a package set stand."""
    return ROOT / "lock" / (name + ".txt")


def check_python() -> None:
    """Stop here if .venv cannot be made with the Python at hand."""
    if sys.version_info < OLDEST:
        raise Trouble(
            "This is Python {0}; Tunwright needs 3.11 or newer.\n{1}".format(platform.python_version(), newer_python())
        )
    if not (importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip")):
        raise Trouble(
            "This Python comes without the modules that make the .venv folder (venv, ensurepip). Get them:\n"
            "{0}\nThen run this again.".format(GET_PYTHON)
        )
    if Path(sys.prefix).resolve() == VENV:
        raise Trouble("The .venv folder must be made anew, but its own Python runs this. Use the one outside it.")


def newer_python() -> str:
    """How to go on with a Python that is new enough."""
    for minor in (14, 13, 12, 11):
        name = "python3.{0}".format(minor)
        if shutil.which(name):
            return "There is a newer one on this machine. Run: {0} start.py".format(name)
    return "Get a newer one, then run this again with it:\n" + GET_PYTHON


def make_venv() -> None:
    """A fresh .venv that finds the project's own code in src."""
    say("Making .venv anew." if VENV.exists() else "Making .venv; this happens once.")
    made = run_quietly([sys.executable, "-m", "venv", "--clear", str(VENV)])
    if made.returncode != 0:
        raise Trouble("The .venv folder could not be made.\n" + explain(made.stdout))
    places = {"base": str(VENV), "platbase": str(VENV)}
    packages = Path(sysconfig.get_path("purelib", scheme="venv", vars=places))
    # A path from there to here, so that the project may be moved and its path may hold any letter.
    (packages / "tunwright.pth").write_text(os.path.relpath(ROOT / "src", packages) + "\n", encoding="utf-8")


def install(name: str) -> None:
    """Bring the locked packages of a set into .venv, each checked against its hash."""
    lock = lock_file(name)
    count = sum(1 for line in lock.read_text(encoding="utf-8").splitlines() if "==" in line)
    say("Fetching and unpacking {0} packages; the first time this takes a minute or so.".format(count))
    pip = [str(PYTHON), "-m", "pip", "install", "--disable-pip-version-check", "--no-input", "--no-compile"]
    done = run_quietly([*pip, "--no-deps", "--only-binary", ":all:", "--require-hashes", "-r", str(lock)])
    if done.returncode != 0:
        raise Trouble("The packages could not be installed.\n" + explain(done.stdout))


def explain(output: str) -> str:
    """The sentence for what a tool printed before it failed, and its own last words."""
    lines = [line if len(line) <= 300 else line[:300] + " ..." for line in output.splitlines() if line.strip()]
    last = [line for line in lines if line.startswith("ERROR")][-3:] or lines[-3:]
    for signs, sentence in FAILURES.items():
        if any(sign in output for sign in signs):
            return "\n".join([sentence, "It said:", *last])
    return "\n".join(["Run this again; if it fails the same way, delete the .venv folder first. It said:", *last])


def run_tests(arguments: list[str]) -> int:
    """Lint, types and tests; all of them run, and any that fails makes the whole fail."""
    steps = {
        "lint (ruff)": ["ruff", "check", "--quiet", "."],
        "types (mypy)": ["mypy"],
        "tests (pytest)": ["pytest", "-n", "auto", "--maxprocesses", "4", *arguments],
    }
    failed = []
    for name, step in steps.items():
        say("Running {0}.".format(name))
        if subprocess.run([str(PYTHON), "-m", *step], cwd=ROOT, env=environment()).returncode != 0:
            failed.append(name)
    if failed:
        say("Failed: {0}.".format(", ".join(failed)))
    return 1 if failed else 0


def hand_over(command: list[str]) -> int:
    """Run the command in this one's place, from the folder the person stands in."""
    if os.name == "posix":
        sys.stdout.flush()
        os.execve(command[0], command, environment())
    with subprocess.Popen(command, env=environment()) as child:
        while True:
            try:
                return child.wait()
            except KeyboardInterrupt:  # the child hears it too and ends by itself
                continue


def run_quietly(command: list[str]) -> subprocess.CompletedProcess[str]:
    """Run a tool and keep what it prints."""
    return subprocess.run(
        command, env=environment(), stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8", errors="replace"
    )


def environment() -> dict[str, str]:
    """The person's environment, less what would lead .venv to other packages; text is UTF-8 everywhere."""
    kept = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "PYTHONHOME")}
    return dict(kept, PYTHONUTF8="1", PIP_USER="0")


def say(sentence: str) -> None:
    """Speak on standard error, so that a command's own output stays clean."""
    print(sentence, file=sys.stderr, flush=True)


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except Trouble as trouble:
        sys.exit(str(trouble))
    except OSError as error:
        sys.exit("A file or folder could not be used: {0}\nMend that and run this again.".format(error))
    except KeyboardInterrupt:
        sys.exit("Stopped. Run this again to go on.")
