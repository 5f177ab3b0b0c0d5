"""`airwright.toml`: what a reviewer asks of designs, outside of them, so that no design can lower it.

It is found upwards from a design, or given. Every key is known, and what is not understood stops the run: a policy that is
read half would let through what it was written against.
"""

import os
from collections.abc import Iterable, Mapping
from fnmatch import fnmatchcase
from typing import Any, NamedTuple

from circuit.clauses import set_names
from circuit.gate.place import Misruled
from circuit.judging.rule import SEVERITIES
from circuit.model.circuit import CLASSES, COMBINATION
from circuit.near import did_you_mean

CLASS_WORDS = (*CLASSES, COMBINATION)
UNITS = ("both", "metric", "imperial")


class Folder(NamedTuple):
    """What holds for designs in some folders. path: a pattern, from the policy's own folder. classes: a design is of one of
    these. rules: sets that are added. trials: that must be there, and are played."""

    path: str
    classes: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()
    trials: tuple[str, ...] = ()


class Policy(NamedTuple):
    """What holds for the designs below its folder.

    path: the file, "" for none. rules: least sets. fail_on: the severity from which a check fails. select, ignore: rules that
    alone count, or do not. severity: by rule. most, by, never: how many waivers, who may give them ((): anybody), of which rules
    none; no_waivers: none at all. units: one of UNITS. baseline: a file with what was known before. play: all trials.
    """

    path: str = ""
    rules: tuple[str, ...] = ()
    fail_on: str = ""
    select: tuple[str, ...] = ()
    ignore: tuple[str, ...] = ()
    severity: Mapping[str, str] = {}
    most: int | None = None
    by: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    no_waivers: bool = False
    units: str = "both"
    baseline: str = ""
    play: bool = False
    folders: tuple[Folder, ...] = ()

    @property
    def folder(self) -> str:
        return os.path.dirname(os.path.abspath(self.path)) if self.path else os.getcwd()

    def within(self, design: str) -> str:
        """A design's name as the policy sees it: from its own folder, with slashes."""
        return os.path.relpath(os.path.realpath(design), os.path.realpath(self.folder)).replace(os.sep, "/")

    def holding(self, design: str) -> tuple[Folder, ...]:
        """What holds for a design by the folder it is in."""
        name = self.within(design)
        return tuple(each for each in self.folders if fnmatchcase(name, each.path))


def read(path: str) -> Policy:
    """A policy from its file. Raises Misruled."""
    import tomllib

    try:
        with open(path, "rb") as file:
            text = file.read().decode("utf-8")
        data = tomllib.loads(text)
    except OSError as trouble:
        raise Misruled(f"{path} cannot be read: {(trouble.strerror or str(trouble)).lower()}") from None
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as trouble:
        raise Misruled(f"{path} is no TOML: {trouble}") from None
    return _Reader(path, text).policy(data)


class _Reader:
    def __init__(self, path: str, text: str) -> None:
        self.path, self.rows = path, text.split("\n")

    def wrong(self, key: str, says: str) -> Misruled:
        """What is wrong with a key, with its row."""
        row = next((number for number, row in enumerate(self.rows, 1)
                    if row.strip().strip("[]").replace('"', "").startswith(key)), 1)
        return Misruled(f"{self.path}:{row}: {says}")

    def known(self, data: Mapping[str, Any], keys: tuple[str, ...], where: str = "") -> None:
        for key in data:
            if key not in keys:
                offer = did_you_mean(key, keys) or f"keys are {', '.join(keys)}"
                raise self.wrong(key, f"there is no key `{key}`{where}: {offer}")

    def policy(self, data: dict[str, Any]) -> Policy:
        self.known(data, ("rules", "fail-on", "select", "ignore", "severity", "waivers", "units", "baseline", "play-trials",
                          "folder"))
        waivers = data.get("waivers", {})
        if not isinstance(waivers, dict):
            raise self.wrong("waivers", "`waivers` is a table: write [waivers], and below it most, by, never or none")
        self.known(waivers, ("most", "by", "never", "none"), " of [waivers]")
        most = waivers.get("most")
        if most is not None and (not isinstance(most, int) or isinstance(most, bool) or most < 0):
            raise self.wrong("most", "`most` is a whole number of waivers that a design may have")
        folders = data.get("folder", [])
        if not isinstance(folders, list) or not all(isinstance(each, dict) for each in folders):
            raise self.wrong("folder", "a folder is written [[folder]], with path below it")
        return Policy(
            os.path.abspath(self.path), self.sets(data, "rules"), self.one(data, "fail-on", tuple(SEVERITIES)),
            self.rules(data, "select"), self.rules(data, "ignore"), self.severities(data), most, self.words(waivers, "by"),
            self.rules(waivers, "never"), self.flag(waivers, "none"), self.one(data, "units", UNITS) or UNITS[0],
            self.beside(data), self.flag(data, "play-trials"), tuple(self.folder(each) for each in folders))

    def folder(self, data: dict[str, Any]) -> Folder:
        self.known(data, ("path", "class", "rules", "trials"), " of [[folder]]")
        path = data.get("path")
        if not isinstance(path, str) or not path:
            raise self.wrong("path", 'a [[folder]] has a path, as in path = "trailers/*"')
        for word in self.words(data, "class"):
            if word not in CLASS_WORDS:
                raise self.wrong("class", f"no class of vehicles is called `{word}`: "
                                 + (did_you_mean(word, CLASS_WORDS) or "classes are " + ", ".join(CLASS_WORDS)))
        return Folder(path + "*" * path.endswith("/"), self.words(data, "class"), self.sets(data, "rules"),
                      self.words(data, "trials"))

    def words(self, data: Mapping[str, Any], key: str) -> tuple[str, ...]:
        found = data.get(key, [])
        found = [found] if isinstance(found, str) else found
        if not isinstance(found, list) or not all(isinstance(each, str) and each.strip() for each in found):
            raise self.wrong(key, f'`{key}` is a list of names, as in {key} = ["one", "two"]')
        return tuple(found)

    def sets(self, data: Mapping[str, Any], key: str) -> tuple[str, ...]:
        for name in self.words(data, key):
            if name not in set_names():
                raise self.wrong(key, f"no set of rules is called `{name}`: known sets are {', '.join(set_names())}")
        return self.words(data, key)

    def rules(self, data: Mapping[str, Any], key: str) -> tuple[str, ...]:
        for name in self.words(data, key):
            self.rule(key, name)
        return self.words(data, key)

    def rule(self, key: str, name: str) -> None:
        if name not in rule_names():
            raise self.wrong(key, f"no rule is called `{name}`: "
                             + (did_you_mean(name, rule_names()) or "airwright explain rules lists them"))

    def severities(self, data: Mapping[str, Any]) -> dict[str, str]:
        found = data.get("severity", {})
        if not isinstance(found, dict):
            raise self.wrong("severity", "`severity` is a table: write [severity], and below it RULE = \"warning\"")
        for name, word in found.items():
            self.rule(name, name)
            if word not in SEVERITIES:
                raise self.wrong(name, f"a severity is {', '.join(SEVERITIES)}, not `{word}`")
        return dict(found)

    def one(self, data: Mapping[str, Any], key: str, choices: tuple[str, ...]) -> str:
        found = data.get(key, "")
        if found != "" and found not in choices:
            raise self.wrong(key, f"`{key}` is one of {', '.join(choices)}, not `{found}`")
        return str(found)

    def flag(self, data: Mapping[str, Any], key: str) -> bool:
        found = data.get(key, False)
        if not isinstance(found, bool):
            raise self.wrong(key, f"`{key}` is true or false")
        return found

    def beside(self, data: Mapping[str, Any]) -> str:
        """A file that is named from the policy's own folder."""
        found = data.get("baseline", "")
        if not isinstance(found, str):
            raise self.wrong("baseline", '`baseline` is a file, as in baseline = "known.json"')
        return os.path.join(os.path.dirname(os.path.abspath(self.path)), found) if found else ""


def rule_names() -> tuple[str, ...]:
    """Every rule and every question: what a finding can be called by."""
    from circuit import questions, rules

    return (*(rule.name for rule in rules.every()), *questions.names())


def checked_rules(option: str, names: Iterable[str]) -> tuple[str, ...]:
    """Names of rules given to a command. Raises Misruled for one that there is not."""
    for name in names:
        if name not in rule_names():
            raise Misruled(f"{option} {name}: no rule is called so: "
                           + (did_you_mean(name, rule_names()) or "airwright explain rules lists them"))
    return tuple(names)


def checked_severities(words: Iterable[str]) -> dict[str, str]:
    """`RULE=WORD`s given to a command. Raises Misruled."""
    found = {}
    for word in words:
        name, _, severity = word.partition("=")
        checked_rules("--severity", (name,))
        if severity not in SEVERITIES:
            raise Misruled(f"--severity {word}: write RULE=WORD with one of {', '.join(SEVERITIES)}")
        found[name] = severity
    return found
