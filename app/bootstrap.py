"""Makes the environment beside the code, installs Chalkfret into it, and starts it.

Standard library only. A start that finds everything in place must cost next to nothing, so what
installing needs is imported where it is used. `python3 tests` installs through the same code.
"""

import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager

from chalkfret import system

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
ENVIRONMENT = os.path.join(ROOT, ".venv")
_BINARIES = ("Scripts", "python.exe") if os.name == "nt" else ("bin", "python")
PYTHON = os.path.join(ENVIRONMENT, *_BINARIES)
STATE = os.path.join(ENVIRONMENT, "chalkfret-state")
LIBRARIES_SEEN = os.path.join(ENVIRONMENT, "chalkfret-libraries")
LOG = os.path.join(ENVIRONMENT, "chalkfret-install.log")
LOCK = os.path.join(ROOT, ".chalkfret-lock")
INSTALLING = "installing"
DEMO = "lantern_steps.chalkfret"
NO_SPACE = (
    "The disk is full: Chalkfret needs about 1 GB for its libraries; free that and start again."
)


class Fault(Exception):
    """What keeps the program from starting: one sentence with its remedy."""


def say(line: str) -> None:
    """One line a step, on the error stream: the output belongs to the command."""
    sys.stderr.write(line + "\n")
    sys.stderr.flush()


def reporting(steps: Callable[[], int]) -> int:
    """Run the steps; a fault is one sentence and exit code 2, never a traceback."""
    try:
        return steps()
    except Fault as fault:
        say(str(fault))
        return 2
    except KeyboardInterrupt:
        say("Stopped; the next start goes on from here.")
        return 130


def main(arguments: Sequence[str]) -> int:
    """`python3 app`: without arguments the window on a copy of a demo lesson."""
    return reporting(lambda: start(list(arguments)))


def start(arguments: list[str]) -> int:
    wants_window = not arguments or arguments[0] == "open"
    if not is_ready(""):
        fault = system.display_fault() if wants_window else None
        if fault:
            raise Fault(fault)
        ensure("")
    ensure_libraries(wants_window)
    if not arguments:
        copy = demo_copy()
        say(f"Opening {copy}, a copy of a demo lesson.")
        arguments = ["open", copy]
    # -P: a json.py in the folder the user stands in is none of ours.
    command = [PYTHON, "-P", "-m", "chalkfret", *arguments]
    if os.name != "nt":
        os.execv(PYTHON, command)
    import subprocess

    return subprocess.run(command, check=False).returncode


# -- is it there already --------------------------------------------------------------------------


def wanted_state(extra: str) -> str:
    """What the state file says where `pyproject.toml` is installed with this extra.

    It is the very text, as comparing it costs less than importing a digest. A moved checkout and
    another Python behind the environment's need a new install too.
    """
    with open(os.path.join(ROOT, "pyproject.toml"), encoding="utf-8") as file:
        project = file.read()
    return "\n".join([extra, ROOT, os.path.realpath(PYTHON), project])


def recorded_state() -> str:
    try:
        with open(STATE, encoding="utf-8") as file:
            return file.read()
    except (OSError, UnicodeDecodeError):
        return ""


def record_state(state: str) -> None:
    with open(STATE, "w", encoding="utf-8") as file:
        file.write(state)


def is_ready(extra: str) -> bool:
    """True where the environment holds what pyproject.toml asks for, with the extra or more."""
    if not os.path.exists(PYTHON):
        return False
    return recorded_state() in (wanted_state(extra), wanted_state("dev"))


# -- installing -----------------------------------------------------------------------------------


def ensure(extra: str) -> None:
    """Install unless that is done; of two starts at once the second waits for the first."""
    if is_ready(extra):
        return
    with only_one():
        if is_ready(extra):
            return
        try:
            install(extra)
        except OSError as error:
            raise Fault(
                f"The installation in {ENVIRONMENT} stopped ({error.strerror}): "
                "mend that and start again."
            ) from error


@contextmanager
def only_one() -> Iterator[None]:
    try:
        file = open(LOCK, "a+b")  # noqa: SIM115
    except OSError as error:
        raise Fault(
            f"The folder {ROOT} cannot be written ({error.strerror}): copy Chalkfret into a "
            "folder of your own and start it there."
        ) from error
    with file:
        if sys.platform == "win32":
            import msvcrt

            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_LOCK, 1)
        else:
            import fcntl

            try:
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                say("Another start is installing: waiting for it.")
                fcntl.flock(file, fcntl.LOCK_EX)
        yield


def install(extra: str) -> None:
    """Make the environment where there is no sound one, then let pip bring what is missing.

    The state file says "installing" until the very end. An environment found in that state is
    made anew, since pip takes a half-written package for an installed one.
    """
    import time

    began = time.monotonic()
    before = recorded_state()
    if before == INSTALLING or not works([PYTHON, "-m", "pip", "--version"]):
        say(f"Making the environment {ENVIRONMENT}.")
        make_environment()
        before = ""
    record_state(INSTALLING)
    say("Installing Chalkfret and the libraries it uses; the first time takes some minutes.")
    what = f"{ROOT}[{extra}]" if extra else ROOT
    pip = [PYTHON, "-m", "pip", "--disable-pip-version-check", "--no-input", "install"]
    code, output = run([*pip, "--retries", "2", "--editable", what])
    with open(LOG, "w", encoding="utf-8") as file:
        file.write(output)
    if code != 0:
        record_state(before)  # pip that fails by itself leaves what was there before
        raise Fault(pip_fault(output))
    record_state(wanted_state(extra))
    say(f"Installed in {time.monotonic() - began:.0f} s.")


def make_environment() -> None:
    if not works([sys.executable, "-c", "import ensurepip, venv"]):
        package = f"python{sys.version_info.major}.{sys.version_info.minor}-venv"
        if not system.is_debian():
            raise Fault(
                "This Python has no venv or no ensurepip: install the package of your system "
                "that brings them, and start again."
            )
        install_packages(
            [package], f"This Python cannot make environments: `sudo apt-get install {package}`."
        )
    code, output = run([sys.executable, "-m", "venv", "--clear", ENVIRONMENT])
    if code != 0:
        if "No space left" in output:
            raise Fault(NO_SPACE)
        raise Fault(
            f"The environment {ENVIRONMENT} could not be made ({last_line(output)}): remove that "
            "folder, if it is there, and start again."
        )


def pip_fault(output: str) -> str:
    """Say in a sentence why pip failed."""
    if "No space left on device" in output:
        return NO_SPACE
    unreachable = ("Retrying (", "ProxyError", "NewConnectionError", "timed out", "SSLError")
    if any(sign in output for sign in unreachable):
        return (
            "The libraries could not be fetched, as the package index was not reached: check the "
            f"network and pip's proxy settings, and start again (details: {LOG})."
        )
    if "No matching distribution" in output:
        return (
            "pip found no fitting release of a library for this Python "
            f"{sys.version_info.major}.{sys.version_info.minor}: check that pip may use its "
            f"index, or start with Python 3.11 to 3.14 (details: {LOG})."
        )
    return (
        f"pip could not install ({last_line(output)}): mend that and start again (details: {LOG})."
    )


def last_line(output: str) -> str:
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    errors = [line for line in lines if line.lower().startswith("error")]
    return (errors or lines or ["no reason given"])[-1]


def works(command: Sequence[str]) -> bool:
    try:
        return run(command)[0] == 0
    except OSError:
        return False


def run(command: Sequence[str], **environment: str) -> tuple[int, str]:
    """Exit code and whole output of a command."""
    import subprocess

    done = subprocess.run(
        command,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        check=False,
        env={**os.environ, **environment},
    )
    return done.returncode, done.stdout


# -- what the machine must bring ------------------------------------------------------------------


def ensure_libraries(wants_window: bool) -> None:
    """Once for each installation: are the system's libraries there that Qt links to?

    What only an X display needs is asked for when there is to be a window on one.
    """
    under_x = wants_window and system.opens_under_x()
    if already_seen(under_x):
        return
    missing = missing_libraries(under_x)
    if missing:
        sentence = system.libraries_sentence(missing)
        packages = system.debian_packages(missing)
        if not packages:
            raise Fault(sentence)
        install_packages(packages, sentence)
        missing = missing_libraries(under_x)
        if missing:
            raise Fault(system.libraries_sentence(missing))
    with open(LIBRARIES_SEEN, "w", encoding="ascii") as file:
        file.write("x" if under_x else "base")


def already_seen(under_x: bool) -> bool:
    try:
        with open(LIBRARIES_SEEN, encoding="ascii") as file:
            seen = file.read()
        newer = os.path.getmtime(LIBRARIES_SEEN) >= os.path.getmtime(STATE)
    except OSError:
        return False
    return newer and (seen == "x" or not under_x)


def missing_libraries(under_x: bool) -> list[str]:
    code, folder = run([PYTHON, "-P", "-c", "import PySide6; print(PySide6.__path__[0])"])
    if code != 0:
        raise Fault(
            f"The installation in {ENVIRONMENT} is damaged ({last_line(folder)}): "
            "remove that folder and start again."
        )
    return system.missing_libraries(os.path.join(folder.strip(), "Qt"), under_x)


def install_packages(packages: Sequence[str], sentence: str) -> None:
    """As root on Debian, install the packages; else `sentence`, which names them, is the fault."""
    if not hasattr(os, "geteuid") or os.geteuid() != 0:
        raise Fault(sentence)
    say(f"Installing the system's packages {' '.join(packages)}.")
    install = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    quiet = {"DEBIAN_FRONTEND": "noninteractive"}
    try:
        code, output = run(install, **quiet)
        if code != 0:  # the lists of packages are often missing in a fresh container, or old
            run(["apt-get", "update"], **quiet)
            code, output = run(install, **quiet)
    except FileNotFoundError:
        raise Fault(sentence) from None
    if code != 0:
        raise Fault(f"{sentence} (apt-get said: {last_line(output)})")


# -- the demo lesson ------------------------------------------------------------------------------


def demo_copy() -> str:
    """A copy of the demo lesson in the user's documents, and never over a file that is there.

    A copy that still equals the demo is used again, so that starts do not fill the folder.
    """
    import filecmp
    import shutil

    demo = os.path.join(ROOT, "demo_lessons", DEMO)
    stem, ending = os.path.splitext(DEMO)
    folder = os.path.join(documents(), "Chalkfret")
    try:
        os.makedirs(folder, exist_ok=True)
        for number in range(1, 10_000):
            copy = os.path.join(folder, f"{stem}{'' if number == 1 else f'-{number}'}{ending}")
            if not os.path.lexists(copy):
                with open(demo, "rb") as source, open(copy, "xb") as target:
                    shutil.copyfileobj(source, target)
                return copy
            if os.path.isfile(copy) and filecmp.cmp(demo, copy, shallow=False):
                return copy
    except OSError as error:
        raise Fault(
            f"The demo lesson could not be copied to {folder} ({error.strerror}): make the "
            "folder writable, or give the lesson to open: `python3 app open LESSON`."
        ) from error
    raise Fault(f"There are too many copies of the demo lesson in {folder}: remove some.")


def documents() -> str:
    """The user's folder for documents, or for data where there is none."""
    home = os.path.expanduser("~")
    settings = os.environ.get("XDG_CONFIG_HOME") or os.path.join(home, ".config")
    try:
        with open(os.path.join(settings, "user-dirs.dirs"), encoding="utf-8") as file:
            for line in file:
                name, _, value = line.strip().partition("=")
                if name == "XDG_DOCUMENTS_DIR":
                    folder = value.strip('"').replace("$HOME", home)
                    if os.path.isdir(folder):
                        return folder
    except (OSError, UnicodeDecodeError):
        pass
    folder = os.path.join(home, "Documents")
    if os.path.isdir(folder):
        return folder
    return os.environ.get("XDG_DATA_HOME") or os.path.join(home, ".local", "share")
