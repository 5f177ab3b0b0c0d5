"""A real editor, run without a screen, drives the server: what it showed stands in session.txt."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.designs import EXAMPLES
from tests.editor.test_writing_beside import BACKWARDS

HERE = Path(__file__).resolve().parent
NVIM = shutil.which("nvim")


@pytest.mark.slow
@pytest.mark.skipif(NVIM is None, reason="nvim is not installed: apt-get install neovim")
def test_a_session_in_an_editor_shows_finding_fix_and_completion(tmp_path: Path):
    pytest.importorskip("pygls", reason="the extra `editor` is not installed")
    for name in ("airwright.toml", "wheel-ends.air"):
        kept = EXAMPLES / "truck-6x4" / name
        (tmp_path / name).write_text(kept.read_text(encoding="utf-8") if kept.is_file() else "", encoding="utf-8")
    if not (EXAMPLES / "truck-6x4" / "wheel-ends.air").is_file():
        (tmp_path / "wheel-ends.air").unlink()
    design, shown = tmp_path / "design.air", tmp_path / "shown.txt"
    design.write_text(BACKWARDS, encoding="utf-8")
    ran = subprocess.run([str(NVIM), "--headless", "-u", "NONE", "-c", f"luafile {HERE / 'session.lua'}"], timeout=180,
                         capture_output=True, text=True, cwd=tmp_path, env={
                             **os.environ, "DESIGN": str(design), "COMMAND": sys.executable, "SHOWN": str(shown),
                             "XDG_STATE_HOME": str(tmp_path), "XDG_CACHE_HOME": os.environ.get("XDG_CACHE_HOME", str(tmp_path)),
                             "XDG_DATA_HOME": str(tmp_path)})
    told = shown.read_text(encoding="utf-8") if shown.is_file() else ""
    assert told == (HERE / "session.txt").read_text(encoding="utf-8"), f"{told}\n{ran.stdout}\n{ran.stderr}"
