"""Small files that would become large: each budget is counted before anything is written out, and the message says which."""

from pathlib import Path

import pytest

from circuit.mistake import MOST_TOLD, Mistake, Unreadable
from circuit.model import assemblies
from circuit.pipeline import load

HEAD = "vehicle v: class truck\naxle front: position 1\n"


def mistakes(folder: Path, text: str) -> tuple[Mistake, ...]:
    (folder / "main.air").write_text(text, encoding="utf-8")
    with pytest.raises(Unreadable) as refused:
        load(str(folder / "main.air"))
    return refused.value.mistakes


def assembly(name: str, inner: str, times: int) -> str:
    return f"assembly {name} {{\n" + "".join(f"    {inner} x{number}\n" for number in range(times)) + "}\n"


def nested(levels: int, times: int) -> str:
    return "".join(assembly(f"a{level}", f"a{level - 1}" if level else "tee", times) for level in range(levels))


@pytest.mark.parametrize("times", [1, 3, 50])
def test_an_assembly_that_holds_itself_is_one_mistake(tmp_path: Path, times: int) -> None:
    (only,) = mistakes(tmp_path, HEAD + assembly("a", "a", times) + "a top\n")
    assert "more than 8 deep" in only.says and only.expected == "an assembly may not hold itself"


def test_assemblies_in_each_other_are_counted_before_they_are_written_out(tmp_path: Path) -> None:
    (only,) = mistakes(tmp_path, HEAD + nested(8, 50) + "a7 top\n")
    assert "39,062,500,000,002 things and lines" in only.says and "40,000 is the most" in only.says
    (deep,) = mistakes(tmp_path, HEAD + nested(3000, 1) + "a2999 top\n")
    assert "more than 8 deep" in deep.says


def test_many_names_of_one_statement_are_counted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("circuit.model.expand.MOST_PARTS", 20)
    (only,) = mistakes(tmp_path, HEAD + "tee " + " and ".join(f"t{n}" for n in range(30)) + "\n")
    assert "32 things and lines" in only.says


def test_nothing_is_dropped_below_the_budget(tmp_path: Path) -> None:
    (tmp_path / "main.air").write_text(HEAD + nested(3, 6) + "a2 top\n", encoding="utf-8")
    assert len(load(str(tmp_path / "main.air")).devices) == 6 ** 3


def test_a_diamond_of_files_is_read_once(tmp_path: Path) -> None:
    for level in range(30):
        for side in "ab":
            inner = "".join(f'use "d{level + 1}{other}.air"\n' for other in "ab") if level < 29 else ""
            (tmp_path / f"d{level}{side}.air").write_text(f"{inner}assembly q{level}{side} {{\n    tee t\n}}\n", encoding="utf-8")
    (tmp_path / "main.air").write_text(HEAD + 'use "d0a.air"\nuse "d0b.air"\nq29a one\n', encoding="utf-8")
    circuit = load(str(tmp_path / "main.air"))
    assert "one.t" in circuit.by_name and len(circuit.files) == 61


def test_a_chain_of_files_and_their_number_have_an_end(tmp_path: Path) -> None:
    for number in range(60):
        (tmp_path / f"c{number}.air").write_text(f'use "c{number + 1}.air"\n', encoding="utf-8")
    assert [one.says for one in mistakes(tmp_path, HEAD + 'use "c0.air"\n')] == ["files bring in files more than 40 deep here"]
    for number in range(assemblies.MOST_FILES + 5):
        (tmp_path / f"f{number}.air").touch()
    many = HEAD + "".join(f'use "f{number}.air"\n' for number in range(assemblies.MOST_FILES + 5))
    assert [one.says for one in mistakes(tmp_path, many)] == ["this design brings in more than 200 files"]


def test_the_letters_of_all_files_have_an_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(assemblies, "MOST_LETTERS", 1000)
    for number in range(4):
        (tmp_path / f"f{number}.air").write_text("# remark\n" * 60, encoding="utf-8")
    found = mistakes(tmp_path, HEAD + "".join(f'use "f{number}.air"\n' for number in range(4)))
    assert len(found) == 1 and "million letters" in found[0].says


@pytest.mark.parametrize("row", ["gadget{n} t{n}\n", "tube u{n} -> w{n}: size 1/2 in, length 1 m\n", "tee t{n}: nothing 3\n",
                                 "reservoir r{n}: volume 0 L\n", "gauge g{n}: on nowhere{n}\n"])
def test_of_very_many_mistakes_the_first_are_told_and_that_there_are_more(tmp_path: Path, row: str) -> None:
    found = mistakes(tmp_path, HEAD + "".join(row.format(n=n) for n in range(MOST_TOLD + 200)))
    assert MOST_TOLD < len(found) <= MOST_TOLD + 1 and "not shown" in found[-1].says


@pytest.mark.parametrize(("row", "most"), [
    ("reservoir r: volume " + "9" * 400 + " L, rated 10 bar, role service", "10000 L"),
    ("reservoir r: volume " + "9" * 400 + "/3 L, rated 10 bar, role service", "10000 L"),
    ("governor g: cut-in 7 bar, cut-out 1" + "0" * 30 + " bar", "100 bar"),
    ("tee a and b\ntube a -> b: size 1/2 in, length 2000 m", "500 m"),
])
def test_a_figure_without_sense_is_refused_where_it_stands(tmp_path: Path, row: str, most: str) -> None:
    found = mistakes(tmp_path, f"{HEAD}{row}\n")
    (beyond,) = [one for one in found if "beyond anything" in one.says]
    assert beyond.expected == f"write no more than {most}" and beyond.at.column > 5 and len(beyond.says) < 140
