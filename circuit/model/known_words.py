"""The words that a design may begin a statement with, for messages about a text that does not parse."""

from collections.abc import Iterator, Mapping

from circuit import kinds
from circuit.model.forms import ACTIONS, FORMS
from circuit.syntax.vocabulary import Vocabulary


class _Words(Mapping[str, frozenset[str]]):
    """Word to the settings it takes; a kind is read when it is asked for."""

    def __getitem__(self, word: str) -> frozenset[str]:
        settings = FORMS.get(word) or ACTIONS.get(word, FORMS.get(word))
        if settings is None:
            kind = kinds.find(word)
            if kind is None:
                raise KeyError(word)
            settings = kind.settings
        return frozenset(setting.name for setting in settings)

    def __iter__(self) -> Iterator[str]:
        return iter((*FORMS, *ACTIONS, *kinds.names()))

    def __len__(self) -> int:
        return sum(1 for _ in self)


VOCABULARY = Vocabulary(kinds=_Words(), settings=_Words(), steps=ACTIONS)
