"""The wheel carries what the program needs: used in a clean environment, away from the checkout."""

import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def run(*command: object, cwd: Path) -> str:
    done = subprocess.run(
        [str(each) for each in command], cwd=cwd, capture_output=True, text=True, timeout=600
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "build", "--wheel", "--outdir", folder, ROOT, cwd=folder)
    (built,) = folder.glob("*.whl")
    return built


@pytest.mark.slow
def test_it_holds_all_code_resources_and_demos_and_no_tests(wheel: Path):
    wanted = {
        f"chalkfret/{path.relative_to(ROOT / inside)}"
        for inside, top in [("app/chalkfret", ""), ("", "resources"), ("", "demo_lessons")]
        for path in (ROOT / inside / top).rglob("*")
        if path.is_file() and not {"__pycache__", "pictures"} & set(path.parts)  # the README's
    }
    with zipfile.ZipFile(wheel) as archive:
        held = {name for name in archive.namelist() if ".dist-info/" not in name}
    assert held == wanted


@pytest.mark.slow
def test_it_exports_a_demo_lesson_in_a_clean_environment(wheel: Path, tmp_path: Path):
    venv.create(tmp_path / "clean", with_pip=True)
    python = tmp_path / "clean" / "bin" / "python"
    run(python, "-m", "pip", "install", "--quiet", wheel, cwd=tmp_path)
    where = "from chalkfret.places import DEMO_LESSONS; print(DEMO_LESSONS)"
    demos = Path(run(python, "-c", where, cwd=tmp_path).strip())
    assert demos.is_relative_to(tmp_path / "clean")
    demo = min(demos.glob("*.chalkfret"))
    program = tmp_path / "clean" / "bin" / "chalkfret"
    run(program, "export", demo, "--to", tmp_path / "out", "--as", "pdf,midi", cwd=tmp_path)
    assert (tmp_path / "out" / f"{demo.stem}.pdf").read_bytes().startswith(b"%PDF-")
    assert (tmp_path / "out" / f"{demo.stem}.mid").read_bytes().startswith(b"MThd")
