"""What no mis-hearing may do: make a word, a number, a drug or a negation its opposite, or gain or lose one in silence."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from opnote.lexicon.declared import Opposites
from opnote.lexicon.models import Mishearing, Term
from opnote.lexicon.numbers import is_number

_WORD = re.compile(r"\d+(?:[.,:]\d+)*|[^\W\d_]+(?:'[^\W\d_]+)*")
#: A guarded word of this many letters that stands inside a compound ("iliotibial") is still told by it; shorter ones may be chance.
_IN_COMPOUND = 5

ASK_INSTEAD = 'let it ask: otherwise = "ask", and no only_near'
SAY_SO = f"say flip = true, so that the surgeon is asked, or {ASK_INSTEAD}"


@dataclass(frozen=True)
class Guard:
    """The words with opposites and the terms.

    ``form`` is the group of each guarded word and its number there, ``asked`` the groups whose loss is asked about, ``values`` what each
    phrase of a term stands for, by vocabulary.
    """

    form: Mapping[str, tuple[str, int]]
    asked: Collection[str]
    values: Mapping[str, Mapping[str, Collection[str]]]

    @classmethod
    def of(cls, opposites: Iterable[Opposites], terms: Iterable[Term]) -> Guard:
        """The guard of a lexicon."""
        groups = tuple(opposites)
        form = {word.lower(): (group.id, number) for group in groups for number, forms in enumerate(group.words) for word in forms}
        values: dict[str, dict[str, set[str]]] = {}
        for term in terms:
            for said in term.said if term.value else ():
                values.setdefault(_plain(said), {}).setdefault(term.kind, set()).add(term.value)
        return cls(form, frozenset(group.id for group in groups if group.asked), values)

    def faults(self, entry: Mishearing) -> Iterator[tuple[str, str]]:
        """The fields of a mis-hearing that break a rule, each with what is wrong."""
        for heard in entry.heard:
            if (swap := self._swap(heard, entry.meant)) and _reads(entry):
                yield "heard", f'"{heard}" is never read as "{entry.meant}": {swap}; {ASK_INSTEAD}'
            elif not swap and _reads(entry) and not entry.flip and (hung := self._hung(heard, entry.meant)):
                yield "flip", f'reading "{heard}" as "{entry.meant}" {hung}, on which a meaning hangs; {SAY_SO}'

    def _swap(self, heard: str, meant: str) -> str:
        """Why ``heard`` can never be read as ``meant``, or nothing."""
        lost, gained = self._changed(heard, meant), self._changed(meant, heard)
        numbers = [word for word in lost if is_number(word)], [word for word in gained if is_number(word)]
        if all(numbers):
            return f"one number ({numbers[0][0]}) is not made another ({numbers[1][0]})"
        for one in lost:
            for other in gained:
                here, there = self.form.get(one), self.form.get(other)
                if here and there and here[0] == there[0] and here[1] != there[1]:
                    return f'"{one}" and "{other}" are opposites ({here[0]})'
        return self._other_term(heard, meant)

    def _other_term(self, heard: str, meant: str) -> str:
        """Why one term of a vocabulary is not made another: of the words that differ, both are terms of it, and of different values."""
        one, other = _differing(_words(heard), _words(meant))
        for left, right in ((_plain(heard), _plain(meant)), (" ".join(one), " ".join(other))):
            mine, yours = self.values.get(left, {}), self.values.get(right, {})
            for kind in mine.keys() & yours.keys():
                if set(mine[kind]).isdisjoint(yours[kind]):
                    return f'both are terms of the vocabulary "{kind}", of different meaning'
        return ""

    def _hung(self, heard: str, meant: str) -> str:
        """Which guarded word comes or goes without its opposite, or nothing."""
        for verb, words in (("loses", self._changed(heard, meant)), ("gains", self._changed(meant, heard))):
            for word in words:
                if is_number(word) or (word in self.form and self.form[word][0] in self.asked):
                    return f'{verb} "{word}"'
        return ""

    def _changed(self, before: str, after: str) -> list[str]:
        """The guarded words of ``before`` that ``after`` does not have; what is only parted or joined otherwise has not changed."""
        there = _words(after)
        if "".join(there) == "".join(_words(before)):
            return []
        kept = {self.form.get(word) for word in there} - {None}
        compounds = "".join(word for word in there if word not in self.form)
        return [
            word
            for word in _words(before)
            if (word in self.form or is_number(word))
            and word not in there
            and self.form.get(word) not in kept
            and not _inside(word, compounds)
        ]


def _reads(entry: Mishearing) -> bool:
    """Whether an entry ever replaces what was heard; else it only asks."""
    return entry.otherwise == "replace" or bool(entry.only_near)


def _inside(word: str, compounds: str) -> bool:
    return len(word) >= _IN_COMPOUND and not is_number(word) and word in compounds


def _words(phrase: str) -> list[str]:
    return _WORD.findall(phrase.lower().replace("\u2019", "'"))


def _plain(phrase: str) -> str:
    return " ".join(_words(phrase))


def _differing(one: Sequence[str], other: Sequence[str]) -> tuple[list[str], list[str]]:
    """The words of two phrases between their common beginning and their common end."""
    start = 0
    while start < min(len(one), len(other)) and one[start] == other[start]:
        start += 1
    end = 0
    while end < min(len(one), len(other)) - start and one[len(one) - 1 - end] == other[len(other) - 1 - end]:
        end += 1
    return list(one[start : len(one) - end]), list(other[start : len(other) - end])
