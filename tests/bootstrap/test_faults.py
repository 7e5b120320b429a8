"""What keeps a start from succeeding is said in one sentence with its remedy, exit code 2."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import bootstrap
from chalkfret import system

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("command", ["app", "tests"])
def test_an_old_python_is_told_which_one_is_needed(command):
    script = (
        "import runpy, sys; sys.version_info = (3, 9, 2, 'final', 0); "
        f"sys.path.insert(0, {str(ROOT / command)!r}); "
        f"runpy.run_path({str(ROOT / command / '__main__.py')!r}, run_name='__main__')"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)
    assert done.returncode == 2
    assert "needs Python 3.11 or later and this is Python 3.9" in done.stderr
    assert f"`python3.11 {command}`" in done.stderr
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.parametrize("file", ["app/__main__.py", "tests/__main__.py", "app/python_version.py"])
def test_an_old_python_can_read_what_tells_it(file):
    ast.parse((ROOT / file).read_text(), feature_version=(3, 4))


def test_no_display_is_said_before_anything_is_installed(checkout, sentence):
    said = sentence(checkout.start())
    assert "no display" in said
    assert "DISPLAY" in said
    assert not (checkout.root / ".venv").exists()


def test_a_display_that_does_not_answer_is_named(checkout, sentence):
    checkout.variables = {"DISPLAY": ":987", "QT_QPA_PLATFORM": "xcb"}
    assert "display :987 does not answer" in sentence(checkout.start("open"))


def test_without_ensurepip_the_debian_package_is_installed_by_root_or_named(
    checkout, sentence, monkeypatch
):
    blocked = checkout.root / "blocked"
    blocked.mkdir()
    (blocked / "ensurepip.py").write_text("raise ImportError('left out by the distribution')\n")
    checkout.variables = {"PYTHONPATH": str(blocked), "QT_QPA_PLATFORM": "offscreen"}
    log = checkout.root / "asked"
    checkout.add_command("apt-get", f"echo \"$@\" >> '{log}'; echo 'E: no such luck'; exit 100")
    said = sentence(checkout.start("--version"))
    package = f"python3.{sys.version_info.minor}-venv"
    if not system.is_debian():
        assert "venv" in said
        return
    assert f"sudo apt-get install {package}" in said
    if bootstrap.os.geteuid() == 0:
        install = f"install -y --no-install-recommends {package}"
        assert log.read_text().splitlines() == [install, "update", install]
        assert "no such luck" in said
    else:
        assert not log.exists()


def test_who_is_not_root_is_told_what_to_install(monkeypatch):
    monkeypatch.setattr(bootstrap.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(bootstrap, "run", lambda *_args, **_more: pytest.fail("ran something"))
    with pytest.raises(bootstrap.Fault, match="the sentence"):
        bootstrap.install_packages(["libegl1"], "the sentence")


MISSING = "echo '\tlibEGL.so.1 => not found'; echo '\tlibxcb-cursor.so.0 => not found'"


@pytest.mark.skipif(not system.is_debian(), reason="names the packages of Debian")
def test_missing_libraries_are_installed_by_root_and_named_to_others(installed, sentence):
    installed.variables = {"DISPLAY": ":1"}
    done = installed.root / "libraries are there"
    installed.add_command("ldd", f"[ -e '{done}' ] || {{ {MISSING}; }}")
    installed.add_command("apt-get", "exit 100")
    said = sentence(installed.start("open"))
    assert "sudo apt-get install libegl1 libxcb-cursor0" in said
    if bootstrap.os.geteuid() == 0:
        installed.add_command("apt-get", f"touch '{done}'")
        again = installed.start("open")
        assert again.returncode == 0
        assert again.stdout == "['open']\n"
        assert again.stderr == "Installing the system's packages libegl1 libxcb-cursor0.\n"


def test_missing_libraries_are_named_where_the_package_is_not_known(monkeypatch):
    monkeypatch.setattr(system, "is_debian", lambda: False)
    said = system.libraries_sentence(["libxcb-cursor.so.0", "libEGL.so.1"])
    assert "libEGL.so.1, libxcb-cursor.so.0" in said
    assert "apt-get" not in said


def test_an_import_that_lacks_a_library_names_it(monkeypatch):
    monkeypatch.setattr(system, "is_debian", lambda: True)
    lacking = ImportError("libEGL.so.1: cannot open shared object file: No such file or directory")
    assert "`sudo apt-get install libegl1`" in system.library_fault(lacking)
    assert system.library_fault(ImportError("cannot import name 'x'")) is None


def test_a_folder_that_cannot_be_written_is_named(checkout, sentence):
    (checkout.root / ".chalkfret-lock").mkdir()  # as root, permissions would keep nobody out
    said = sentence(checkout.start("--version"))
    assert str(checkout.root) in said
    assert "cannot be written" in said


def test_a_damaged_installation_is_named(installed, sentence):
    for file in installed.root.glob("stub/PySide6/__init__.py"):
        file.write_text("raise ImportError('half a file')")
    said = sentence(installed.start("check"))
    assert "half a file" in said
    assert "remove that folder" in said


@pytest.mark.parametrize(
    ("output", "said"),
    [
        ("ERROR: Could not install: [Errno 28] No space left on device", "The disk is full"),
        ("WARNING: Retrying (Retry(total=1)) after ...\nERROR: No matching", "network"),
        ("ERROR: No matching distribution found for mido", "no fitting release"),
        ("warning\nerror: the wheel is invalid\n\n", "(error: the wheel is invalid)"),
        ("", "no reason given"),
    ],
)
def test_what_pip_says_becomes_a_sentence(output, said):
    assert said in bootstrap.pip_fault(output)
