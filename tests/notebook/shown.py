"""The notebook beside the truck: its cells run, and what they gave put under them. `python -m tests.notebook.shown` writes it."""

import ast
import io
import json
import os
from contextlib import redirect_stdout
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "truck-6x4"
NOTEBOOK = FOLDER / "sweep.ipynb"


def made(cells: list[str]) -> list[dict]:
    """The outputs of code cells run one after another in the example's folder, as a notebook keeps them."""
    there: dict = {}
    found = []
    before = os.getcwd()
    os.chdir(FOLDER)
    try:
        for number, code in enumerate(cells, 1):
            *body, last = ast.parse(code).body
            printed = io.StringIO()
            with redirect_stdout(printed):
                exec(compile(ast.Module(body, []), "cell", "exec"), there)
                value = eval(compile(ast.Expression(last.value), "cell", "eval"), there) if isinstance(last, ast.Expr) else exec(
                    compile(ast.Module([last], []), "cell", "exec"), there)
            outputs = [{"output_type": "stream", "name": "stdout", "text": printed.getvalue().splitlines(True)}] if (
                printed.getvalue()) else []
            if hasattr(value, "_repr_svg_"):
                outputs.append({"output_type": "execute_result", "execution_count": number, "metadata": {},
                                "data": {"image/svg+xml": value._repr_svg_().splitlines(True), "text/plain": ["a plot"]}})
            found.append({"outputs": outputs, "execution_count": number})
    finally:
        os.chdir(before)
    return found


def main() -> None:
    notebook = json.loads(NOTEBOOK.read_text(encoding="utf-8"))
    code = [cell for cell in notebook["cells"] if cell["cell_type"] == "code"]
    for cell, run in zip(code, made(["".join(cell["source"]) for cell in code])):
        cell.update(run)
    NOTEBOOK.write_text(json.dumps(notebook, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
