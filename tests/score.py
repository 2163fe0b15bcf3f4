"""The repository's dictations against their gold: ``python -m tests.score``.

A row a case: the values of the record that the gold has (right), has not (wrong), and those of the gold that the record lacks (missed);
and the traps, things said that must never be in a record, that are in it. Only attributes that the attribute table marks as scored count.
Entities are paired by type, those that share most first. Words agree when one holds all words of the other, numbers when they
differ by no more than rounding.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import chain
from pathlib import Path
from typing import Any

from opnote.lexicon import Lexicon, load
from opnote.pipeline import run
from opnote.record.model import Attribute, Entity, Record
from opnote.transcript import read
from tests.corpora import DICTATIONS, SAMPLES, SEALED, transcript_of

Pair = tuple[str, Any]


@dataclass(frozen=True)
class Score:
    """What is right, wrong and missed, as ``type.attribute = value``, and the traps sprung."""

    right: tuple[str, ...]
    wrong: tuple[str, ...]
    missed: tuple[str, ...]
    traps: tuple[str, ...]

    @property
    def precision(self) -> float:
        """The share of the record's values that are right."""
        return len(self.right) / max(1, len(self.right) + len(self.wrong))

    @property
    def recall(self) -> float:
        """The share of the gold's values that the record has."""
        return len(self.right) / max(1, len(self.right) + len(self.missed))


@cache
def lexicon() -> Lexicon:
    """The built-in lexicon, read once."""
    return load()


def score_case(case: Path) -> Score:
    """The score of the dictation in a folder."""
    gold = json.loads((case / "gold.json").read_text(encoding="utf-8"))
    return score(run(read(str(transcript_of(case))), lexicon=lexicon()).record, gold)


def score(record: Record, gold: dict[str, Any]) -> Score:
    """The score of a record."""
    kinds = sorted({entity["type"] for entity in gold["entities"]})
    told = {kind: [_pairs(entity) for entity in record.of(kind)] for kind in kinds}
    return _compared(told, gold, traps=tuple(_sprung(record, gold.get("traps", []))))


def score_second(case: Path) -> Score:
    """The second, blind annotation of a case's transcript against the first: how far two readers agree."""
    gold, second = (json.loads((case / name).read_text(encoding="utf-8")) for name in ("gold.json", "gold-second.json"))
    kinds = {entity["type"] for entity in (*gold["entities"], *second["entities"])}
    told = {kind: [_gold_pairs(entity) for entity in second["entities"] if entity["type"] == kind] for kind in sorted(kinds)}
    return _compared(told, gold, traps=())


def _compared(told: Mapping[str, Sequence[list[Pair]]], gold: dict[str, Any], *, traps: tuple[str, ...]) -> Score:
    """The pairs told of each type of entity against those of the gold."""
    right: list[str] = []
    wrong: list[str] = []
    missed: list[str] = []
    for kind, found in told.items():
        wanted = [_gold_pairs(entity) for entity in gold["entities"] if entity["type"] == kind]
        for want, got in _paired(wanted, found):
            hits, rest = _shared(want, got)
            right += [f"{kind}.{name} = {value}" for name, value in hits]
            wrong += [f"{kind}.{name} = {value}" for name, value in rest]
            missed += [f"{kind}.{name} = {value}" for name, value in _shared(got, want)[1]]
    return Score(tuple(right), tuple(wrong), tuple(missed), traps)


def _pairs(entity: Entity) -> list[Pair]:
    return [pair for name, held in entity.attributes.items() if _scored(entity.type, name) for pair in _values(name, held)]


def _scored(kind: str, name: str) -> bool:
    entry = lexicon().attributes.get((kind, name))
    return entry is not None and entry.scored


def _values(name: str, held: Attribute) -> Iterator[Pair]:
    if held.candidates:
        yield name, {"candidates": sorted(str(candidate.value) for candidate in held.candidates)}
    elif held.value is None:
        yield name, {"low": held.low, "high": held.high}
    else:
        yield from ((name, value) for value in (held.value if isinstance(held.value, tuple) else (held.value,)))


def _gold_pairs(entity: dict[str, Any]) -> list[Pair]:
    pairs: list[Pair] = []
    for name, value in entity.items():
        if _scored(entity["type"], name):
            if isinstance(value, dict) and "candidates" in value:
                value = {"candidates": sorted(str(candidate) for candidate in value["candidates"])}
            pairs += [(name, one) for one in (value if isinstance(value, list) else [value])]
    return pairs


def same(one: Any, other: Any) -> bool:
    """Whether two values say the same."""
    numbers = [value for value in (one, other) if isinstance(value, int | float) and not isinstance(value, bool)]
    if len(numbers) == 2:
        return abs(numbers[0] - numbers[1]) <= max(0.05, 0.005 * abs(numbers[0]))
    if isinstance(one, str) and isinstance(other, str):
        words = [set(text.lower().replace("-", " ").split()) for text in (one, other)]
        return words[0] <= words[1] or words[1] <= words[0]
    return bool(one == other)


def _shared(want: Sequence[Pair], got: Sequence[Pair]) -> tuple[list[Pair], list[Pair]]:
    """The pairs of ``got`` that ``want`` has, each counted once, and the rest of ``got``."""
    left, hits, rest = list(want), [], []
    for name, value in got:
        hit = next((pair for pair in left if pair[0] == name and same(pair[1], value)), None)
        if hit is None:
            rest.append((name, value))
        else:
            left.remove(hit)
            hits.append((name, value))
    return hits, rest


def _paired(wanted: Sequence[list[Pair]], found: Sequence[list[Pair]]) -> Iterator[tuple[list[Pair], list[Pair]]]:
    """Each wanted entity with the found one that shares most with it; what is left over stands alone."""
    ranks = [(len(_shared(w, f)[0]), -i, -j) for i, w in enumerate(wanted) for j, f in enumerate(found)]
    free_w, free_f = set(range(len(wanted))), set(range(len(found)))
    for count, i, j in sorted(ranks, reverse=True):
        if count and -i in free_w and -j in free_f:
            free_w.discard(-i)
            free_f.discard(-j)
            yield wanted[-i], found[-j]
    yield from ((wanted[i], []) for i in sorted(free_w))
    yield from (([], found[j]) for j in sorted(free_f))


def _sprung(record: Record, traps: Sequence[dict[str, Any]]) -> Iterator[str]:
    for trap in traps:
        asked = [(name, value) for name, value in trap.items() if name not in ("type", "note")]
        for entity in record.of(trap["type"]):
            held = [pair for name, attribute in entity.attributes.items() for pair in _values(name, attribute)]
            if asked and len(_shared(held, asked)[0]) == len(asked):
                yield f"{trap['type']} {dict(asked)}"
                break


def total(scores: Iterable[Score]) -> Score:
    """The scores of many cases as one."""
    lists = [(s.right, s.wrong, s.missed, s.traps) for s in scores]
    right, wrong, missed, traps = (tuple(chain.from_iterable(part)) for part in zip(*lists, strict=True))
    return Score(right, wrong, missed, traps)


def _row(name: str, result: Score) -> str:
    f1 = 2 * result.precision * result.recall / max(1e-9, result.precision + result.recall)
    return f"{name:44} precision {result.precision:.3f}  recall {result.recall:.3f}  f1 {f1:.3f}  traps sprung {len(result.traps)}"


def main() -> None:
    """Print a row a case, and what is wrong and sprung under it; of the sealed ones only the sum. ``--agreement``: of two annotators."""
    if "--agreement" in sys.argv[1:]:
        seconds = {case.name: score_second(case) for case in DICTATIONS if (case / "gold-second.json").exists()}
        print(*(_row(name, result) for name, result in seconds.items()), _row("TOTAL", total(seconds.values())), sep="\n")
        return
    seen = {case.name: score_case(case) for case in (*SAMPLES, *DICTATIONS) if case.name not in SEALED}
    for name, result in seen.items():
        print(_row(name, result))
        print(*(f"    wrong  {line}" for line in result.wrong), *(f"    trap   {line}" for line in result.traps), sep="\n")
    print(_row(f"TOTAL of {len(seen)} seen", total(seen.values())))
    print(_row(f"TOTAL of {len(SEALED)} sealed", total(score_case(case) for case in DICTATIONS if case.name in SEALED)))


if __name__ == "__main__":
    main()
