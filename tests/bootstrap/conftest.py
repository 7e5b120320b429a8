"""A checkout of its own for each test of the two commands, and a way to start them in it."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PYTHON = getattr(sys, "_base_executable", sys.executable)
"""The Python behind the environment of the checks, since that is what a user starts with."""


@dataclass
class Checkout:
    """A copy of the checkout, a folder of commands that come first in PATH, and a home."""

    root: Path
    commands: Path
    home: Path
    variables: dict[str, str] = field(default_factory=dict)

    def environment(self) -> dict[str, str]:
        kept = {
            name: value
            for name, value in os.environ.items()
            if name not in {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM", "PYTHONPATH"}
        }
        path = f"{self.commands}{os.pathsep}{kept['PATH']}"
        return {**kept, "HOME": str(self.home), "PATH": path, **self.variables}

    def popen(self, *arguments: str, command: str = "app") -> subprocess.Popen[str]:
        return subprocess.Popen(
            [PYTHON, str(self.root / command), *arguments],
            cwd=self.home,
            env=self.environment(),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )

    def start(self, *arguments: str, command: str = "app") -> "subprocess.CompletedProcess[str]":
        process = self.popen(*arguments, command=command)
        out, err = process.communicate(timeout=600)
        return subprocess.CompletedProcess(process.args, process.returncode, out, err)

    def add_command(self, name: str, script: str) -> None:
        file = self.commands / name
        file.write_text(f"#!/bin/sh\n{script}\n")
        file.chmod(0o755)


@pytest.fixture
def checkout(tmp_path: Path, private_home: Path) -> Checkout:
    root = tmp_path / "a checkout"
    root.mkdir()
    (tmp_path / "commands").mkdir()
    for name in ["app", "resources", "demo_lessons"]:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, root / name, ignore=shutil.ignore_patterns("__pycache__"))
    (root / "tests").mkdir()
    for name in ["__main__.py", "checks.py"]:
        shutil.copy(ROOT / "tests" / name, root / "tests")
    for name in ["pyproject.toml", "README.md", "LICENSE"]:
        shutil.copy(ROOT / name, root)
    return Checkout(root, tmp_path / "commands", private_home)


@pytest.fixture
def installed(checkout: Checkout) -> Checkout:
    """As after an installation, with a program that tells how it was called."""
    environment = checkout.root / ".venv"
    subprocess.run([PYTHON, "-m", "venv", "--without-pip", str(environment)], check=True)
    stub = checkout.root / "stub"
    (stub / "chalkfret").mkdir(parents=True)
    (stub / "chalkfret" / "__main__.py").write_text("import json, sys; print(sys.argv[1:])\n")
    (stub / "PySide6").mkdir()
    (stub / "PySide6" / "__init__.py").touch()
    for name in ["lib/libQt6Widgets.so.6", "plugins/platforms/libqxcb.so"]:
        library = stub / "PySide6" / "Qt" / name
        library.parent.mkdir(parents=True)
        library.touch()
    packages = next(environment.glob("lib/python*/site-packages"))
    (packages / "stub.pth").write_text(str(stub))
    mark_installed(checkout)
    return checkout


def mark_installed(checkout: Checkout) -> None:
    script = "import bootstrap; bootstrap.record_state(bootstrap.wanted_state(''))"
    subprocess.run(
        [PYTHON, "-c", script],
        check=True,
        env={**os.environ, "PYTHONPATH": str(checkout.root / "app")},
    )


@pytest.fixture
def sentence() -> Callable[["subprocess.CompletedProcess[str]"], str]:
    """The one sentence at the end of what a failed start says; exit code 2, no traceback."""

    def read(done: "subprocess.CompletedProcess[str]") -> str:
        assert done.returncode == 2, done
        assert "Traceback" not in done.stdout + done.stderr
        assert done.stdout == ""
        return done.stderr.splitlines()[-1]

    return read
