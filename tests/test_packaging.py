"""The package as others install it: its data is inside, and it works where there is no checkout."""

import os
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

import circuit

ROOT = Path(circuit.__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel of this checkout, built without the network."""
    target = tmp_path_factory.mktemp("dist")
    built = subprocess.run([sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(target)], cwd=ROOT,
                           capture_output=True, text=True)
    assert built.returncode == 0, built.stderr
    (found,) = target.glob("*.whl")
    return found


@pytest.fixture(scope="module")
def unpacked(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel's content in a folder of its own."""
    folder = tmp_path_factory.mktemp("installed")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder)
    return folder


def data_files(folder: str) -> list[str]:
    """Every file of a data folder that git would keep, below the root."""
    listed = subprocess.run(["git", "ls-files", "--cached", "--others", "--exclude-standard", folder], cwd=ROOT,
                            capture_output=True, text=True)
    names = listed.stdout.split("\n") if listed.returncode == 0 else [
        str(path.relative_to(ROOT)) for path in (ROOT / folder).rglob("*")]
    return [name for name in names if name and (ROOT / name).is_file()]


@pytest.mark.parametrize("folder", ["grammar", "shared"])
def test_the_wheel_carries_every_data_file(unpacked: Path, folder: str) -> None:
    expected = data_files(folder)
    assert expected, f"no file found in {folder}"
    assert [name for name in expected if not (unpacked / "circuit" / "_data" / name).is_file()] == []


def test_the_wheel_carries_the_modules_and_nothing_else(unpacked: Path) -> None:
    packed = {path.relative_to(unpacked).as_posix() for path in unpacked.rglob("*") if path.is_file()}
    code = {path.relative_to(ROOT).as_posix() for path in (ROOT / "circuit").rglob("*.py")}
    assert code and code <= packed
    assert {name.split("/")[0] for name in packed} == {"circuit", f"airwright-{circuit.__version__}.dist-info"}
    assert not [name for name in packed if "__pycache__" in name]


def test_the_wheel_states_licence_python_and_the_command(unpacked: Path) -> None:
    about = unpacked / f"airwright-{circuit.__version__}.dist-info"
    metadata = (about / "METADATA").read_text(encoding="utf-8")
    assert "\nLicense-Expression: MIT\n" in metadata
    assert "\nRequires-Python: >=3.11\n" in metadata
    assert (about / "licenses" / "LICENSE").is_file()
    assert "airwright = circuit.cli:main" in (about / "entry_points.txt").read_text(encoding="utf-8")


def run_installed(unpacked: Path, folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """The command as unpacked, run in another folder where the checkout cannot be imported."""
    start = (
        f"import sys; sys.path[:] = [{str(unpacked)!r}] + [p for p in sys.path if p not in ('', {str(ROOT)!r})];"
        "import circuit; assert circuit.__file__.startswith(sys.path[0]), circuit.__file__;"
        "from circuit.cli import main; sys.exit(main())"
    )
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    environment["XDG_CACHE_HOME"] = str(folder / "cache")
    return subprocess.run([sys.executable, "-c", start, *words], cwd=folder, env=environment, capture_output=True,
                          text=True)


def test_the_installed_command_checks_and_draws_in_another_folder(unpacked: Path, tmp_path: Path) -> None:
    text = (ROOT / "examples" / "truck-6x4" / "design.air").read_text(encoding="utf-8")
    (tmp_path / "truck.air").write_text(text, encoding="utf-8")
    checked = run_installed(unpacked, tmp_path, "check", "truck.air")
    assert (checked.returncode, checked.stderr) == (0, "")
    assert "Not met: 0 errors" in checked.stdout
    drawn = run_installed(unpacked, tmp_path, "draw", "truck.air", "-o", "truck.svg")
    assert (drawn.returncode, drawn.stderr) == (0, "")
    assert (tmp_path / "truck.svg").read_text(encoding="utf-8").rstrip().endswith("</svg>")


def test_every_dependency_is_imported_somewhere() -> None:
    """No dependency is there for nothing; `graphviz-pure` is a program that is run and not imported."""
    imported = {"graphviz-pure": "graphviz-pure", "resvg-py": "resvg_py"}
    code = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "circuit").rglob("*.py"))
    names = [entry.split(">")[0].split("~")[0] for entry in PROJECT["dependencies"]]
    assert names
    assert [name for name in names if imported.get(name, f"import {name}") not in code
            and f"from {name}" not in code] == []


def test_ci_runs_the_readmes_test_command() -> None:
    """`.ci/run` takes it from the README, where a reader finds it too."""
    shown = subprocess.run(["bash", str(ROOT / ".ci" / "run"), "show"], capture_output=True, text=True)
    assert (shown.returncode, shown.stderr) == (0, "")
    assert "pip install" in shown.stdout and ".[test]" in shown.stdout and "pytest" in shown.stdout
    assert shown.stdout in (ROOT / "README.md").read_text(encoding="utf-8")
