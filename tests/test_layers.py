"""Imports point one way, and no kind's name stands outside the kinds."""

import ast
from pathlib import Path

import pytest

from circuit import kinds

PACKAGE = Path(__file__).resolve().parent.parent / "circuit"
LAYERS = (
    {"files", "source", "near", "units", "mistake", "cache", "writing", "sealing"},
    {"tables"},
    {"clauses", "glossary", "syntax", "gas"},
    {"declaring"},
    {"kinds"},
    {"sections"},
    {"model"},
    {"judging", "draw", "sim"},
    {"duties"},
    {"rules"},
    {"studies"},
    {"faults"},
    {"questions"},
    {"verdict"},
    {"gate"},
    {"report"},
    {"pipeline"},
    {"plant"},
    {"console"},
    {"editor", "notebook"},
    {"commands"},
    {"cli"},
    {"__init__", "__main__"},
)
"""A part may import itself and what stands before it. Neighbours in a row are strangers, but in the first row."""
FOUNDATION = LAYERS[0]
FREE_OF_KINDS = ("duties", "rules", "judging", "verdict", "draw", "report", "model", "plant", "sim", "studies", "faults",
                 "questions")


def part_of(path: Path) -> str:
    """The part of the package that a file belongs to: its folder, or itself."""
    first = path.relative_to(PACKAGE).parts[0]
    return first.removesuffix(".py")


def layer_of(part: str) -> int:
    """The layer of a part; raises LookupError for a part that has none."""
    for number, layer in enumerate(LAYERS):
        if part in layer:
            return number
    raise LookupError(f"circuit/{part} stands in no layer: add it to LAYERS")


def imported(tree: ast.Module) -> set[str]:
    """The parts of the package that a module imports, inside functions too, but not for type checking alone."""
    found = set()
    skipped = {id(inner) for node in ast.walk(tree) if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)
               for inner in ast.walk(node)}
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.ImportFrom) and node.module == "circuit":
            found |= {alias.name for alias in node.names if not alias.name.startswith("__")}
        elif isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("circuit."):
            found.add(node.module.split(".")[1])
        elif isinstance(node, ast.Import):
            found |= {alias.name.split(".")[1] for alias in node.names if alias.name.startswith("circuit.")}
    return found


FILES = sorted(path for path in PACKAGE.rglob("*.py"))
TREES = {path: ast.parse(path.read_text(encoding="utf-8")) for path in FILES}
IDS = [str(path.relative_to(PACKAGE)) for path in FILES]


def test_something_was_seen():
    assert len(FILES) > 100
    assert sum(len(imported(tree)) for tree in TREES.values()) > 200


@pytest.mark.parametrize("path", FILES, ids=IDS)
def test_every_file_stands_in_a_layer_and_imports_only_what_stands_before_it(path: Path):
    own = part_of(path)
    for part in imported(TREES[path]):
        if part == own or own in FOUNDATION and part in FOUNDATION:
            continue
        assert layer_of(part) < layer_of(own), f"circuit/{own} imports circuit/{part}"


def test_an_upward_import_is_seen():
    tree = ast.parse("def late():\n    from circuit.report.terminal import check_report\n")
    assert imported(tree) == {"report"} and layer_of("report") > layer_of("rules")
    assert imported(ast.parse("from circuit import kinds\nimport circuit.draw.text\n")) == {"kinds", "draw"}


def test_an_unknown_part_is_refused():
    with pytest.raises(LookupError, match="stands in no layer"):
        layer_of("gadgets")


def kind_names_in(tree: ast.Module, known: frozenset[str]) -> list[tuple[int, str]]:
    """Strings that are a kind's name; docstrings and the pieces of f-strings are no such strings."""
    excepted: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            excepted |= {id(piece) for piece in ast.walk(node)}
        elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            excepted.add(id(node.value))
    return [(node.lineno, node.value) for node in ast.walk(tree)
            if isinstance(node, ast.Constant) and id(node) not in excepted and node.value in known]


def other_words() -> frozenset[str]:
    """Kinds' names that are also something else: a port's word, a setting or its dimension, a class of lettering."""
    words = {"tee", "tube"}
    for kind in kinds.every():
        words |= {word for port in kind.ports for word in port.words}
        words |= {word for setting in kind.settings for word in (setting.name, setting.dimension)}
    return frozenset(kinds.names()) & words


def test_few_names_are_other_words_too():
    assert len(other_words()) < 0.08 * len(kinds.names())


@pytest.mark.parametrize("path", [path for path in FILES if part_of(path) in FREE_OF_KINDS],
                         ids=[name for path, name in zip(FILES, IDS) if part_of(path) in FREE_OF_KINDS])
def test_no_kind_is_named_outside_the_kinds(path: Path):
    assert kind_names_in(TREES[path], frozenset(kinds.names()) - other_words()) == []


def test_a_kind_name_would_be_seen():
    known = frozenset(kinds.names())
    seen = kind_names_in(ast.parse('"""relay-valve"""\nif kind == "relay-valve":\n    x = f"relay-valve {y}"\n'), known)
    assert seen == [(2, "relay-valve")]


def test_heavy_libraries_wait_for_their_use():
    """Only inside functions: what a plain check never needs must not be paid for at its start."""
    heavy = {"networkx", "pint", "scipy", "numpy", "graphviz", "reportlab", "svglib", "lark", "matplotlib"}
    for path, tree in TREES.items():
        top = [node for node in tree.body if isinstance(node, (ast.Import, ast.ImportFrom))]
        for node in top:
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else [alias.name for alias in node.names]
            found = {name.split(".")[0] for name in names} & heavy
            late = ("sim", "studies", "faults", "questions", "notebook")
            assert not found or part_of(path) in late, f"{path.name} imports {found} at its top"


# --- no circle, and one name for one thing -----------------------------------------------------------------------------

MODULES = {".".join(("circuit", *path.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(".__init__"): path
           for path in FILES}
LATE = {("circuit.sim.translate", "circuit.sim.vector")}
"""Two that need each other, the one only inside a function."""


def arrows(module: str) -> set[str]:
    """The modules that one imports, inside functions too."""
    found = set()
    skipped = {id(inner) for node in ast.walk(TREES[MODULES[module]]) if isinstance(node, ast.If)
               and "TYPE_CHECKING" in ast.dump(node.test) for inner in ast.walk(node)}
    for node in ast.walk(TREES[MODULES[module]]):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("circuit") and id(node) not in skipped:
            found |= {whole if (whole := f"{node.module}.{alias.name}") in MODULES else node.module for alias in node.names}
    return {each for each in found if each in MODULES and each != module and (module, each) not in LATE}


def circle(graph: dict[str, set[str]]) -> list[str]:
    """What is left when everything that leads to nothing further is taken away, again and again: empty without a circle."""
    left = {module: set(others) for module, others in graph.items()}
    while ends := [module for module, others in left.items() if not others & set(left)]:
        for module in ends:
            del left[module]
    return sorted(left)


def test_no_modules_import_each_other_in_a_circle():
    assert circle({module: arrows(module) for module in MODULES}) == []
    assert circle({"a": {"b"}, "b": {"c"}, "c": {"b"}, "d": set()}) == ["a", "b", "c"], "a circle is seen"


SAME_SUBJECT = ("commands", "kinds", "questions", "report/studies", "rules", "sections")
"""Folders whose files bear a name that a user writes, or that of the study they tell: one further file may be about it."""
TWO = {"layout.py", "machine.py", "pack.py", "words.py"} | {"scenes.py"}
"""Still two things of one name; scenes are played in `studies` and shown by the page."""


def test_no_two_files_of_one_name_mean_different_things():
    own = [path for path in FILES if str(path.relative_to(PACKAGE).parent) not in SAME_SUBJECT and path.name != "__init__.py"]
    names = [path.name for path in own]
    assert {name for name in names if names.count(name) > 1} <= TWO


WORDS = ("Answer", "Fault", "Held", "Source", "Span", "Statement", "State", "Store")
"""Words of which each names one class."""


@pytest.mark.parametrize("word", WORDS)
def test_a_word_names_one_class(word: str):
    found = [path.name for path, tree in TREES.items() for node in ast.walk(tree)
             if isinstance(node, ast.ClassDef) and node.name == word
             or isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == word]
    assert len(found) == 1, found
