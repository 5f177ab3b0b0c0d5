"""The command as its users meet it: what it prints, where, and with which exit status."""

import json
import os
import random
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import circuit
from circuit import commands, kinds, rules
from circuit.clauses import rule_set, set_names
from circuit.cli import main
from circuit.commands.new import starts
from circuit.report.machine import schema
from tests.designs import EXAMPLES, example_text, sampled

ROOT = EXAMPLES.parent
BOARD = EXAMPLES / "teaching-board" / "design.air"
TRUCK = EXAMPLES / "truck-6x4" / "design.air"
TRAILER = EXAMPLES / "semitrailer-tandem" / "design.air"
WAIVER = 'waive circuits-not-separate: at dry, because "a board in a classroom, never driven", by "the teacher"\n'


class Ran(NamedTuple):
    status: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """The command in this process; nothing it prints may be a traceback or steer a terminal."""

    def command(*words: object) -> Ran:
        capsys.readouterr()
        status = main([str(word) for word in words])
        ran = Ran(status, *capsys.readouterr())
        assert "Traceback" not in ran.out + ran.err
        assert "\x1b" not in ran.out + ran.err
        return ran

    return command


@pytest.fixture
def design(tmp_path: Path) -> Callable[[str], Path]:
    """A file with a text."""

    def written(text: str) -> Path:
        path = tmp_path / "design.air"
        path.write_text(text, encoding="utf-8")
        return path

    return written


def process(*words: object, folder: Path = ROOT, **environment: str) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own."""
    return subprocess.run([sys.executable, "-m", "circuit", *map(str, words)], cwd=folder, capture_output=True,
                          text=True, env={**os.environ, "PYTHONPATH": str(ROOT), **environment})


def valid(text: str) -> dict[str, Any]:
    """The JSON of a check, held to its schema."""
    document: dict[str, Any] = json.loads(text)
    keeps_to = schema()
    jsonschema.Draft202012Validator.check_schema(keeps_to)
    jsonschema.Draft202012Validator(keeps_to).validate(document)
    return document


# --- check --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", [TRUCK, TRAILER], ids=lambda path: path.parent.name)
def test_a_good_design_is_clean(run: Run, path: Path) -> None:
    ran = run("check", path)
    assert (ran.status, ran.err) == (0, "")
    assert "Not met: 0 errors\n" in ran.out
    assert re.search(r"^Met: [1-9]\d* checks of [1-9]\d* rules$", ran.out, re.M)


def test_the_board_has_its_one_finding(run: Run) -> None:
    ran = run("check", BOARD)
    assert (ran.status, ran.err) == (1, "")
    (found,) = (each for each in valid(run("check", BOARD, "--format", "json").out)["designs"][0]["findings"]
                if not each["waived"])
    assert found["rule"] == "circuits-not-separate"
    assert "1 ERROR  circuits-not-separate\n" in ran.out
    assert "Not met: 1 error, 1 waived\n" in ran.out
    row = BOARD.read_text(encoding="utf-8").split("\n")[found["at"]["line"] - 1]
    assert f"{BOARD}:{found['at']['line']}:{found['at']['column']}\n" in ran.out
    assert row[found["at"]["column"] - 1:][:found["at"]["length"]] == found["thing"]


def test_of_several_files_the_worst_decides(run: Run, tmp_path: Path) -> None:
    missing = tmp_path / "none.air"
    assert run("check", TRUCK, TRAILER).status == 0
    assert run("check", TRUCK, BOARD, TRAILER).status == 1
    ran = run("check", missing, BOARD, TRUCK)
    assert ran.status == 2
    assert f"{missing}:1:1: " in ran.err
    assert "Teaching board" in ran.out and "Straight truck" in ran.out
    assert run("check", BOARD, missing).status == 2


def test_sets_of_rules_can_be_chosen(run: Run) -> None:
    ran = run("check", BOARD, "--rules", "good-practice")
    assert "held to good-practice\n" in ran.out
    wrong = run("check", BOARD, "--rules", "us-fedral")
    assert (wrong.status, wrong.out) == (2, "")
    assert "`us-fedral`" in wrong.err and "us-federal" in wrong.err


def test_assumed_values_are_listed_when_asked_for(run: Run) -> None:
    listed = run("check", TRUCK, "--assumed").out
    head, _, tail = listed.partition("Assumed values")
    number = re.search(r"^(\d+) values not written", head, re.M)
    assert number and len(re.findall(r"^  \S.*\)$", tail, re.M)) == int(number[1])
    assert "Assumed values" not in run("check", TRUCK).out


@pytest.mark.parametrize("paths", [[TRUCK], [TRAILER], [BOARD], [TRUCK, BOARD]], ids=str)
def test_json_keeps_to_its_schema(run: Run, paths: list[Path]) -> None:
    ran = run("check", *paths, "--format", "json")
    document = valid(ran.out)
    assert document["version"] == circuit.__version__
    assert [entry["file"] for entry in document["designs"]] == [str(path) for path in paths]
    assert ran.status == (0 if all(entry["clean"] for entry in document["designs"]) else 1)


def test_json_of_unreadable_files_keeps_to_its_schema(run: Run, design: Callable[[str], Path]) -> None:
    path = design("vehicle x: class truck\nreservoir wet: volume 20 potatoes\nreservoir wet: volume 20 L\n")
    ran = run("check", path, TRUCK, "--format", "json")
    assert (ran.status, ran.err) == (2, "")
    first, second = valid(ran.out)["designs"]
    assert (first["readable"], second["readable"]) == (False, True)
    assert [mistake["at"]["line"] for mistake in first["mistakes"]][0] == 2
    assert any("other" in mistake for mistake in first["mistakes"])


def test_the_short_report_has_the_findings_and_the_counts(run: Run) -> None:
    whole, short = run("check", BOARD), run("check", BOARD, "--short")
    assert (short.status, short.err) == (1, "")
    assert set(short.out.split("\n")) < set(whole.out.split("\n"))
    assert "1 ERROR  circuits-not-separate\n" in short.out
    assert re.search(r"^Met: \d+ checks", short.out, re.M) and "\n  + " not in short.out


# --- waivers ------------------------------------------------------------------------------------------------------


def test_a_waived_finding_is_shown_and_does_not_fail(run: Run, design: Callable[[str], Path]) -> None:
    path = design(example_text("teaching-board") + WAIVER)
    ran = run("check", path)
    assert ran.status == 0
    assert "WAIVED  circuits-not-separate\n" in ran.out
    assert "a board in a classroom, never driven (the teacher)" in ran.out
    assert "Not met: 0 errors, 2 waived\n" in ran.out
    (entry,) = valid(run("check", path, "--format", "json").out)["designs"]
    assert entry["clean"]
    (found,) = (each for each in entry["findings"] if each["rule"] == "circuits-not-separate")
    assert found["waived"] and found["waiver"]["by"] == "the teacher"


def test_a_waiver_that_accepts_nothing_is_a_finding(run: Run, design: Callable[[str], Path]) -> None:
    path = design(example_text("truck-6x4") + WAIVER.replace("at dry", "at pri"))
    ran = run("check", path)
    assert ran.status == 1
    assert "waiver-without-finding" in ran.out
    (entry,) = valid(run("check", path, "--format", "json").out)["designs"]
    assert [found["rule"] for found in entry["findings"]] == ["waiver-without-finding"]


# --- input that is no design --------------------------------------------------------------------------------------


def unreadable(run: Run, path: Path, line: int, column: int) -> str:
    """What is said of a file that cannot be read, the same by every command that reads one."""
    said = []
    for words in (["check", path], ["sizes", path], ["draw", path, "-o", path.parent / "never.svg"]):
        ran = run(*words)
        assert (ran.status, ran.out) == (2, "")
        said.append(ran.err)
    assert said[0] == said[1] == said[2]
    assert said[0].startswith(f"{path}:{line}:{column}: ")
    assert not (path.parent / "never.svg").exists()
    valid(run("check", path, "--format", "json").out)
    return said[0]


def test_a_missing_file(run: Run, tmp_path: Path) -> None:
    assert "there is no file" in unreadable(run, tmp_path / "none.air", 1, 1)


def test_a_folder(run: Run, tmp_path: Path) -> None:
    ran = run("check", tmp_path)
    assert ran.status == 2 and "holds no design" in ran.err
    assert "is a folder" in run("format", tmp_path).err


def test_an_empty_file(run: Run, design: Callable[[str], Path]) -> None:
    assert "does not say what vehicle" in unreadable(run, design(""), 1, 1)


def test_a_file_of_ten_megabytes(run: Run, design: Callable[[str], Path]) -> None:
    assert "too large" in unreadable(run, design("vehicle x: class truck\n" + "tee t\n" * 1_700_000), 1, 1)


def test_bytes_that_are_no_text(run: Run, tmp_path: Path) -> None:
    chance = random.Random(121)
    for number in range(20):
        path = tmp_path / f"{number}.air"
        path.write_bytes(bytes([0x41, 0x80]) + chance.randbytes(chance.randint(1, 3000)))
        assert "UTF-8" in unreadable(run, path, 1, 2)


def test_letters_of_another_encoding(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "latin.air"
    path.write_bytes('vehicle x: class truck, title "Prüfstand"\n'.encode("latin-1"))
    assert "UTF-8 (byte FC)" in unreadable(run, path, 1, 34)


def test_letters_that_steer_a_terminal_stay_out_of_it(run: Run, design: Callable[[str], Path]) -> None:
    unreadable(run, design("vehicle x: class truck \x1b[2J\x1b[31m\x07\n"), 1, 24)


def test_a_file_that_uses_itself(run: Run, design: Callable[[str], Path]) -> None:
    assert "uses itself" in unreadable(run, design('vehicle x: class truck\nuse "design.air"\n'), 2, 5)


def test_a_file_that_uses_none(run: Run, design: Callable[[str], Path]) -> None:
    assert "no file `gone.air`" in unreadable(run, design('vehicle x: class truck\nuse "gone.air"\n'), 2, 5)


def test_a_file_that_uses_a_broken_one(run: Run, tmp_path: Path, design: Callable[[str], Path]) -> None:
    (tmp_path / "part.air").write_text("\nassembly : {\n", encoding="utf-8")
    path = design('vehicle x: class truck\nuse "part.air"\n')
    ran = run("check", path)
    assert (ran.status, ran.out) == (2, "")
    assert re.search(r"part\.air:2:\d+: ", ran.err)


def test_several_mistakes_are_told_in_one_run(run: Run, design: Callable[[str], Path]) -> None:
    ran = run("check", design("vehicle x: class truk\nreservior wet: volume 20 L\nreservoir dry: volum 20 L\n"))
    assert ran.status == 2
    lines = [int(line) for line in re.findall(r"^\S*design\.air:(\d+):\d+: ", ran.err, re.M)]
    assert lines == sorted(lines) and set(lines) == {1, 2, 3}
    assert "truck" in ran.err and "reservoir" in ran.err and "volume" in ran.err


# --- explain ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [rule.name for rule in rules.every()])
def test_every_rule_is_explained(run: Run, name: str) -> None:
    ran = run("explain", name)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith(f"{name}  (")
    headings = "Why it is asked", "What happens", "A design that has it", "The same without it", "Who asks for it"
    assert [heading for heading in headings if f"\n{heading}\n" not in ran.out] == []


@pytest.mark.parametrize("name", [kind.name for kind in kinds.every()])
def test_every_kind_is_explained(run: Run, name: str) -> None:
    ran = run("explain", name)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith(f"{name}  (")
    assert "\nWhat the air does\n" in ran.out and "\nPorts\n" in ran.out and "\nHow it is written\n" in ran.out


def test_every_clause_is_explained(run: Run) -> None:
    keys = [clause.key for name in set_names() for clause in rule_set(name).clauses]
    assert len(keys) > 10
    ran = run("explain", *keys)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.count("\n  decided ") == len(keys)


def test_the_lists_name_everything(run: Run) -> None:
    listed = run("explain", "rules", "kinds", "clauses")
    assert (listed.status, listed.err) == (0, "")
    names = [rule.name for rule in rules.every()] + [kind.name for kind in kinds.every()]
    assert [name for name in names if f"\n  {name} " not in listed.out] == []


@pytest.mark.parametrize(("word", "near"), [
    ("relay-valv", "relay-valve"), ("circuit-not-separate", "circuits-not-separate"), ("S5.1.2.2x", "S5.1.2.2"),
    ("qqq", "airwright explain words"),
])
def test_an_unknown_topic_gets_near_names(run: Run, word: str, near: str) -> None:
    ran = run("explain", word)
    assert (ran.status, ran.out) == (2, "")
    assert f"`{word}`" in ran.err and near in ran.err and ran.err.count("\n") == 1


def test_one_unknown_topic_does_not_hide_the_others(run: Run) -> None:
    ran = run("explain", "qqq", "tee")
    assert ran.status == 2
    assert "tee  (" in ran.out and "`qqq`" in ran.err


# --- sizes --------------------------------------------------------------------------------------------------------


def test_the_trucks_volume_sheet(run: Run) -> None:
    ran = run("sizes", TRUCK)
    assert (ran.status, ran.err) == (0, "")
    assert "All chambers together: 464.0 in3 (7.60 L).\n" in ran.out  # two of 54 and four of 89, 49 CFR 571.121 Table V
    ratios = next(row.split()[2:] for row in ran.out.split("\n") if row.startswith("the vehicle "))
    assert ratios[:9] == ["6224.4", "102.00", "464.0", "7.60", "13.41", "12", "5568.0", "91.24", "656.4"]  # 12 x 464
    assert "5,568 in3" in run("check", TRUCK).out


def test_push_rod_force_follows_the_pressure(run: Run) -> None:
    for words, force in ((), "1800 +8.0"), (("--at", "100 psi"), "2000 +8.9"):  # 20 in2 at 90 psi
        assert re.search(rf"^front-left .* rated-volume table +{force}$", run("sizes", TRUCK, *words).out, re.M)
    wrong = run("sizes", TRUCK, "--at", "100")
    assert (wrong.status, wrong.out) == (2, "")
    assert "--at" in wrong.err and "unit" in wrong.err


# --- draw ---------------------------------------------------------------------------------------------------------

BEGINS = {"svg": b"<", "pdf": b"%PDF-", "png": b"\x89PNG\r\n", "dot": b"digraph", "gv": b"digraph"}


@pytest.mark.parametrize("suffix", BEGINS)
def test_a_drawing_is_written(run: Run, tmp_path: Path, suffix: str) -> None:
    target = tmp_path / f"board.{suffix}"
    ran = run("draw", BOARD, "-o", target)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith(f"{target}: Teaching board")
    assert target.read_bytes().lstrip().startswith(BEGINS[suffix])


def test_findings_are_marked_unless_plain(run: Run, tmp_path: Path) -> None:
    assert run("draw", BOARD, "-o", tmp_path / "marked.svg").out.endswith(", 1 finding marked\n")
    assert not run("draw", BOARD, "-o", tmp_path / "plain.svg", "--plain").out.endswith("marked\n")
    assert (tmp_path / "marked.svg").read_text("utf-8") != (tmp_path / "plain.svg").read_text("utf-8")


def test_a_file_is_not_replaced_unless_forced(run: Run, tmp_path: Path) -> None:
    target = tmp_path / "board.dot"
    target.write_text("mine", encoding="utf-8")
    ran = run("draw", BOARD, "-o", target)
    assert (ran.status, ran.out) == (2, "")
    assert "--force" in ran.err and target.read_text(encoding="utf-8") == "mine"
    assert run("draw", BOARD, "-o", target, "--force").status == 0
    assert target.read_text(encoding="utf-8") != "mine"


@pytest.mark.parametrize("name", ["board.bmp", "board", "board.svg.exe"])
def test_an_unknown_suffix_is_refused(run: Run, tmp_path: Path, name: str) -> None:
    ran = run("draw", BOARD, "-o", tmp_path / name)
    assert (ran.status, ran.out) == (2, "")
    assert ".svg" in ran.err and ran.err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told(run: Run, tmp_path: Path) -> None:
    ran = run("draw", BOARD, "-o", tmp_path / "none" / "board.dot")
    assert (ran.status, ran.out) == (2, "")
    assert "cannot be written: there is no folder" in ran.err


@pytest.mark.parametrize("program", ["", "#!/bin/sh\nexit 1\n"], ids=["none", "broken"])
def test_without_an_engine_the_drawing_is_made_all_the_same(tmp_path: Path, program: str) -> None:
    engine = tmp_path / "engine"
    if program:
        engine.write_text(program, encoding="utf-8")
        engine.chmod(0o755)
    target = tmp_path / "board.svg"
    named = str(engine) if program else ""
    ran = process("draw", BOARD, "-o", target, AIRWRIGHT_DOT=named)
    assert ran.returncode == 0
    assert ran.stderr.startswith("airwright: no layout engine runs here") and ran.stderr.count("\n") == 1
    assert target.read_text(encoding="utf-8").rstrip().endswith("</svg>")
    assert process("draw", BOARD, "-o", tmp_path / "board.dot", AIRWRIGHT_DOT=named).stderr == ""


def test_an_engine_that_is_named_and_not_there_is_told(tmp_path: Path) -> None:
    target = tmp_path / "board.svg"
    ran = process("draw", BOARD, "-o", target, AIRWRIGHT_DOT="/nowhere/dot")
    assert ran.returncode == 2 and not target.exists()
    assert "AIRWRIGHT_DOT names `/nowhere/dot`, and there is no such file" in ran.stderr


def test_a_moment_of_a_trial_is_drawn(run: Run, tmp_path: Path) -> None:
    tractor, target = ROOT / "examples" / "semitrailer-single" / "design.air", tmp_path / "moment.svg"
    assert run("draw", tractor, "-o", target, "--trial", "application", "--at", "0.3 s").status == 0
    assert "Trial application at 0.3 s, predicted" in target.read_text(encoding="utf-8")
    for words, said in ((["--trial", "application"], "go together"), (["--at", "1 s"], "go together"),
                        (["--trial", "nothing", "--at", "1 s"], "there is no trial `nothing`: write one of"),
                        (["--trial", "application", "--at", "9 h"], "is not in it"),
                        (["--trial", "application", "--at", "9 psi"], "9 psi"),
                        (["--search", "0"], "--search is a whole number from 1")):
        ran = run("draw", tractor, "-o", target, "--force", *words)
        assert (ran.status, ran.out) == (2, "") and said in ran.err, words


# --- format, kinds, new -------------------------------------------------------------------------------------------


def test_a_design_is_tidied_in_place_and_means_the_same(run: Run, design: Callable[[str], Path]) -> None:
    text = example_text("teaching-board")
    loose = [row if row.startswith("#") or '"' in row else row.replace(", ", " ,   ").replace(": ", "  :  ")
             for row in text.split("\n")]
    path = design("\n".join(loose))
    assert run("format", path, "--check") == (1, f"{path} is not tidy\n", "")
    shown = run("format", path, "--print").out
    assert run("format", path).status == 0
    assert path.read_text(encoding="utf-8") == shown == text
    assert run("format", path, "--check") == run("format", path) == (0, "", "")


def test_a_broken_design_is_not_touched_by_tidying(run: Run, design: Callable[[str], Path]) -> None:
    text = "vehicle x: class truck\nreservoir  wet: volume 20 L,\n"
    path = design(text)
    ran = run("format", path)
    assert (ran.status, ran.out) == (2, "") and f"{path}:2:" in ran.err
    assert path.read_text(encoding="utf-8") == text


def test_kinds_are_listed_for_people_and_programs(run: Run) -> None:
    assert run("kinds") == run("explain", "kinds")
    page = run("kinds", "--format", "page").out
    listed = json.dumps(json.loads(run("kinds", "--format", "json").out))
    for kind in kinds.every():
        assert f'"{kind.name}"' in listed and kind.name in page


def test_every_start_checks_clean(run: Run, tmp_path: Path) -> None:
    found = starts()
    assert "truck" in found
    for vehicle in found:
        path = tmp_path / f"{vehicle}.air"
        ran = run("new", vehicle, "-o", path)
        assert (ran.status, ran.err) == (0, "") and str(path) in ran.out
        assert run("check", path).status == 0
        assert run("format", path, "--check").status == 0
        assert run("new", vehicle, "-o", path).status == 2
        assert run("new", vehicle, "-o", path, "--force").status == 0


def test_a_start_that_is_not_there_gets_near_names(run: Run, tmp_path: Path) -> None:
    ran = run("new", "truk", "-o", tmp_path / "x.air")
    assert (ran.status, ran.out) == (2, "")
    assert "did you mean truck" in ran.err and list(tmp_path.iterdir()) == []


# --- the command itself -------------------------------------------------------------------------------------------


def test_the_version_is_told(run: Run) -> None:
    assert run("--version") == run("-V") == (0, f"airwright {circuit.__version__}\n", "")


@pytest.mark.parametrize("words", [[], ["check"], ["bogus"], ["draw", "x.air"], ["check", "--format", "xml", "x.air"]],
                         ids=str)
def test_wrong_usage_is_told_with_the_usage(run: Run, words: list[str]) -> None:
    ran = run(*words)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("usage: airwright")


@pytest.mark.parametrize("words", [[], *([name] for name in commands.names())], ids=str)
def test_help_is_given(run: Run, words: list[str]) -> None:
    ran = run(*words, "--help")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("usage: airwright")


def test_commands_are_listed_by_what_they_are_for(run: Run) -> None:
    """In the groups of the README's tables, each command once with what it does."""
    told = run("--help").out
    blocks = [told.partition(f"\n{title}:\n")[2].partition("\n\n")[0] for title in commands.GROUPS.values()]
    listed = [re.findall(r"^  (\S+)  ", block, re.M) for block in blocks]
    assert sorted(name for block in listed for name in block) == list(commands.names())
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for title, block in zip(commands.GROUPS.values(), listed):
        table = readme.partition(f"\n| {title} | |\n")[2].partition("\n\n")[0]
        rows = [row.split("|")[1] for row in table.split("\n")[1:]]
        assert sorted(re.findall(r"`(?:airwright )?([a-z-]+)\b[^`]*`", " ".join(rows))) == block
    for name in commands.names():
        assert commands.command(name).HELP in " ".join(told.split())


def test_a_fault_of_the_program_is_owned(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise ZeroDivisionError("inside")

    monkeypatch.setattr("circuit.pipeline.judged", fail)
    ran = run("check", BOARD)
    assert (ran.status, ran.out) == (3, "")
    assert "fault of the program" in ran.err and "ZeroDivisionError: inside" in ran.err
    monkeypatch.setenv("AIRWRIGHT_TRACEBACK", "1")
    with pytest.raises(ZeroDivisionError):
        run("check", BOARD)


def test_a_reader_that_leaves_early_is_no_trouble() -> None:
    check = f"'{sys.executable}' -m circuit check" + f" '{TRUCK}'" * 20
    for reader in ("head -1", "true"):
        ran = subprocess.run(["bash", "-c", f"{check} | {reader}; exit ${{PIPESTATUS[0]}}"], cwd=ROOT,
                             capture_output=True, text=True)
        assert (ran.returncode, ran.stderr) == (0, "")


@pytest.mark.parametrize("environment", [{"NO_COLOR": "1"}, {"TERM": "dumb"}, {"TERM": "xterm"}], ids=str)
def test_colour_is_for_terminals_that_want_it(environment: dict[str, str]) -> None:
    pty = pytest.importorskip("pty")
    wanted = {name: value for name, value in os.environ.items() if name != "NO_COLOR"} | environment
    ours, theirs = pty.openpty()
    done = subprocess.run([sys.executable, "-m", "circuit", "check", str(BOARD)], cwd=ROOT, env=wanted, stdout=theirs,
                          stderr=subprocess.PIPE)
    os.close(theirs)
    seen = os.read(ours, 1 << 16)
    os.close(ours)
    assert done.returncode == 1
    assert (b"\x1b[" in seen) == (environment == {"TERM": "xterm"})


def test_a_terminal_without_the_letters_gets_others(tmp_path: Path) -> None:
    (tmp_path / "café.air").write_text('vehicle x: class truck, title "Prüfstand"\n', encoding="utf-8")
    ran = process("check", "café.air", folder=tmp_path, PYTHONIOENCODING="ascii")
    assert ran.returncode in (0, 1) and ran.stderr == ""
    assert "Pr\\xfcfstand" in ran.stdout


LATE = {"networkx", "pint", "numpy", "graphviz", "tomllib", "json", "svglib", "reportlab", "resvg_py"}
"""What a plain check never pays for."""


def modules_after(cache: Path, *words: object) -> set[str]:
    """The outermost names of all modules that a run of the command has imported. cache: the user's cache folder."""
    code = ("import sys; from circuit.cli import main; main(sys.argv[1:]); "
            "print('\\n' + ' '.join({name.split('.')[0] for name in sys.modules}))")
    ran = subprocess.run([sys.executable, "-c", code, *map(str, words)], cwd=ROOT, capture_output=True, text=True,
                         env={**os.environ, "XDG_CACHE_HOME": str(cache)})
    assert ran.returncode == 0, ran.stderr
    return set(ran.stdout.rstrip().rpartition("\n")[2].split())


@pytest.mark.parametrize("path", [TRUCK, TRAILER, BOARD], ids=lambda path: path.parent.name)
def test_heavy_imports_wait(path: Path, tmp_path: Path) -> None:
    modules_after(tmp_path, "check", path)  # the second run finds what the first has kept
    found = modules_after(tmp_path, "check", path, "--no-cache")
    assert "lark" in found and found & LATE == set()
    assert not modules_after(tmp_path, "check", path) & {*LATE, "lark"}


def test_help_imports_next_to_nothing(tmp_path: Path) -> None:
    found = modules_after(tmp_path, "--help")
    assert "argparse" in found
    assert found & (LATE | {"lark", "dataclasses", "inspect", "typing", "pathlib"}) == set()


@pytest.mark.parametrize("harm", sampled(["cut", "other", "folder", "none"], 2))
def test_nothing_depends_on_what_was_kept(tmp_path: Path, harm: str) -> None:
    first = process("check", BOARD, XDG_CACHE_HOME=str(tmp_path))
    kept = sorted((tmp_path / "airwright").iterdir())
    assert any(path.name == "grammar.tables" for path in kept) and len(kept) > 3
    for path in kept:
        content = path.read_bytes()
        path.unlink()
        if harm == "folder":
            path.mkdir()
        elif harm != "none":
            path.write_bytes(content[:-9] if harm == "cut" else content[:64] + content[:40])
    second = process("check", BOARD, XDG_CACHE_HOME=str(tmp_path))
    assert (second.returncode, second.stdout, second.stderr) == (first.returncode, first.stdout, "")


def test_a_place_that_cannot_be_written_keeps_nothing(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    ran = process("check", BOARD, XDG_CACHE_HOME=str(tmp_path / "file"))
    assert (ran.returncode, ran.stderr) == (1, "")


# --- any text whatever --------------------------------------------------------------------------------------------

TEXTS = {path.parent.name: path.read_text(encoding="utf-8") for path in (BOARD, TRUCK, TRAILER)}
WORDS = sorted({word for text in TEXTS.values() for word in re.findall(r"[\w.\-/]+|[^\w\s]", text)})


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """An example after some slips of a hurried hand."""
    rows = TEXTS[draw(st.sampled_from(sorted(TEXTS)))].split("\n")
    for _ in range(draw(st.integers(1, 4))):
        place = draw(st.integers(0, len(rows) - 1))
        row = rows[place]
        match draw(st.sampled_from(["drop", "double", "swap", "word", "letters", "cut"])):
            case "drop":
                del rows[place]
            case "double":
                rows.insert(place, row)
            case "swap":
                other = draw(st.integers(0, len(rows) - 1))
                rows[place], rows[other] = rows[other], rows[place]
            case "word":
                parts = row.split(" ")
                parts[draw(st.integers(0, len(parts) - 1))] = draw(st.sampled_from(WORDS))
                rows[place] = " ".join(parts)
            case "letters":
                at = draw(st.integers(0, len(row)))
                rows[place] = row[:at] + draw(st.text(max_size=3)) + row[at:]
            case "cut":
                rows[place] = row[: draw(st.integers(0, len(row)))]
    return "\n".join(rows)


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=mutated())
def test_no_slip_is_a_fault_of_the_program(run: Run, tmp_path: Path, text: str) -> None:
    path = tmp_path / "design.air"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    ran = run("check", path)
    assert ran.status in (0, 1, 2), ran.err
    assert ran.status != 2 or ran.out == "" or ran.out.startswith("\nAs far as it is understood") and "Met:" not in ran.out
    assert ran.status == 2 or "Met:" in ran.out and "as far as it is understood" not in ran.out
    found = run("check", path, "--format", "json")
    assert found.status == ran.status
    valid(found.out)
    tidied = run("format", path, "--print")
    assert tidied.status in (0, 2), tidied.err
    assert tidied.status == 0 or ran.status == 2


def test_what_takes_long_is_said_on_the_error_stream(capsys):
    from time import sleep

    from circuit.console.say import Telling

    with Telling(patience=0.05) as tell:
        tell("thinking")
        sleep(0.2)
        tell("writing")
    assert capsys.readouterr().err == "airwright: thinking ...\nairwright: writing ...\n"
    with Telling(patience=30) as tell:
        tell("thinking")
    assert capsys.readouterr().err == ""
