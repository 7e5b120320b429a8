"""A start that finds everything in place: the right program, its arguments, the demo's copy."""

import statistics
import subprocess
import time
from pathlib import Path

import pytest

OFFSCREEN = {"QT_QPA_PLATFORM": "offscreen"}


def test_arguments_go_to_the_command_line_unchanged(installed):
    done = installed.start("export", "a b.chalkfret", "--to", "ä")
    assert (done.returncode, done.stdout) == (0, "['export', 'a b.chalkfret', '--to', 'ä']\n")
    assert done.stderr == ""


def test_open_alone_stays_alone(installed):
    installed.variables = OFFSCREEN
    assert installed.start("open").stdout == "['open']\n"


def test_modules_in_the_folder_one_stands_in_are_not_taken_for_the_librarys(installed):
    (installed.home / "json.py").write_text("raise SystemExit('the wrong json')")
    assert installed.start("check").stdout == "['check']\n"


def test_a_change_of_pyproject_or_a_moved_checkout_asks_for_an_installation(installed):
    installed.variables = {"PIP_NO_INDEX": "1"}
    with (installed.root / "pyproject.toml").open("a") as file:
        file.write("# changed\n")
    done = installed.start("check")
    assert "Installing Chalkfret" in done.stderr


def demo_of(installed) -> Path:
    said = installed.start().stdout
    assert said.startswith("['open', '")
    return Path(said.removeprefix("['open', '").rstrip("']\n"))


def test_without_arguments_the_window_opens_on_a_copy_that_overwrites_nothing(installed):
    installed.variables = OFFSCREEN
    (installed.home / "Documents").mkdir()
    first = demo_of(installed)
    assert first.parent == installed.home / "Documents" / "Chalkfret"
    demo = installed.root / "demo_lessons" / first.name
    assert first.read_bytes() == demo.read_bytes()
    assert demo_of(installed) == first, "an untouched copy is used again"
    first.write_text("edited by the teacher")
    second = demo_of(installed)
    assert second != first
    assert second.read_bytes() == demo.read_bytes()
    assert first.read_text() == "edited by the teacher"


def test_the_copy_follows_the_users_folder_for_documents(installed):
    installed.variables = OFFSCREEN
    (installed.home / "Dokumente").mkdir()
    (installed.home / ".config").mkdir()
    (installed.home / ".config" / "user-dirs.dirs").write_text(
        '# a remark\nXDG_DOCUMENTS_DIR="$HOME/Dokumente"\n'
    )
    assert demo_of(installed).parent == installed.home / "Dokumente" / "Chalkfret"


def test_a_second_start_adds_at_most_a_fifth_of_a_second(installed):
    installed.start("check")  # the libraries are looked at once
    direct = [str(installed.root / ".venv/bin/python"), "-P", "-m", "chalkfret", "check"]
    added = []
    for _ in range(5):
        began = time.perf_counter()
        subprocess.run(direct, capture_output=True, check=True)
        between = time.perf_counter()
        assert installed.start("check").returncode == 0
        added.append(time.perf_counter() - between - (between - began))
    assert statistics.median(added) < 0.2


@pytest.mark.slow
def test_an_interrupted_installation_is_repaired_by_the_next_start(checkout):
    """The one test that fetches: killed on the way, then two starts at once, then a change."""
    checkout.variables = OFFSCREEN
    state = checkout.root / ".venv" / "chalkfret-state"
    interrupted = checkout.popen("--version")
    while not state.exists():
        time.sleep(0.1)
        assert interrupted.poll() is None
    time.sleep(2)
    subprocess.run(["kill", "-KILL", "--", f"-{interrupted.pid}"], check=True)
    interrupted.communicate()
    assert state.read_text() == "installing"

    both = [checkout.popen("--version"), checkout.popen("--version")]
    said = []
    for process in both:
        out, err = process.communicate(timeout=600)
        assert process.returncode == 0, err
        assert "0.1.0" in out
        said.append(err)
    assert sum("Making the environment" in err for err in said) == 1
    assert sum("waiting for it" in err for err in said) == 1

    assert checkout.start("--version").stderr == ""
    checkout.variables = {"PIP_CONFIG_FILE": "/dev/null", "PIP_INDEX_URL": "http://127.0.0.1:9/"}
    with (checkout.root / "pyproject.toml").open("a") as file:
        file.write("# changed\n")
    offline = checkout.start("--version")
    assert offline.returncode == 2
    assert "check the network" in offline.stderr.splitlines()[-1]
    assert state.read_text() != "installing", "the environment of before is still good"
