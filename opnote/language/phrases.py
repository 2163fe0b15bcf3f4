"""All phrases of the lexicon in one tree of words: built once, one pass over a text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

from spacy.lang.en import English
from spacy.tokenizer import Tokenizer
from spacy.tokens import Doc, Token
from spacy.util import compile_infix_regex, compile_prefix_regex, compile_suffix_regex
from spacy.vocab import create_vocab

from opnote.lexicon import Lexicon

ENCLITIC = re.compile(r"\s+(?=(?:'(?:s|m|d|ll|re|ve)|n't)\b)")  # "i 'm" in a lexicon is "i'm" in a text
STOPS_AFTER_CODES = (r"(?<=[0-9][A-Za-z])\.", r"(?<=[0-9])\.")  # "60319C." ends a sentence; the stock rules see an abbreviation
PLAINER = str.maketrans({"\u2019": "'", "\u2018": "'", "\u2010": "-", "\u2011": "-"})
LETTERS = range(2, 6)  # an abbreviation has as many


PLAIN = re.compile(r"[a-z]+(?: [a-z]+)*")  # such a phrase has one spelling, and its words are its tokens
DOTTED = re.compile(r"(?:[a-z]+|[a-z](?:\.[a-z])+\.?)(?: (?:[a-z]+|[a-z](?:\.[a-z])+\.?))*")  # so are those of "a.c.l. graft"
HYPHEN = "-"
NEGATION = "n't"
NEGATED = ("did", "do", "does", "was", "were", "is", "are", "has", "have", "had", "could", "would", "should", "ca", "wo")
GAP = "..."  # in a phrase: a few words, whatever they are ("took ... back out")
GAP_WORDS = 6
CLASS = re.compile(r"<([a-z]+)>")  # in a phrase: any word of a class ("the last <person>")
MARK = "qq"  # begins the name of a word class in the tree, and no word of English
UNBROKEN = frozenset({".", "?", "!", ";", ":", ","})  # marks over which no gap reaches
JOINTS = ((" ", ""), (".", ""), (".", "."), (". ", "."))  # what recognisers put between the letters of an abbreviation, and behind them


class _Said(Protocol):
    """An entry of the lexicon with its ways of being said."""

    @property
    def said(self) -> tuple[str, ...]: ...


@dataclass(frozen=True, slots=True)
class Hit:
    """A phrase of the lexicon in a Doc: tokens ``start`` to ``end``; ``use`` says as what, ``entry`` is the lexicon's entry or key."""

    start: int
    end: int
    use: str
    entry: object


Found = tuple[int, tuple[tuple[str, object], ...]]
"""The end of a phrase, and what it is used as."""


class _Node:
    """A place in the tree: what the words up to here are used as, where each next word leads, and which word classes may come next."""

    __slots__ = ("classes", "next", "uses")

    def __init__(self) -> None:
        self.classes: tuple[str, ...] = ()
        self.uses: tuple[tuple[str, object], ...] = ()  # no list: most places are only passed, and there are tens of thousands
        self.next: dict[str, _Node] = {}


class Phrasebook:
    """Finds every phrase of a lexicon in a Doc, overlapping ones too.

    A tree of our own, because filling a ``PhraseMatcher`` takes several times as long as reading the lexicons.
    """

    def __init__(self, lexicon: Lexicon) -> None:
        self._tokenizer = _tokenizer()
        self._root = _Node()
        self._pieces: dict[str, list[str]] = {}
        self._classes: dict[str, _Node] = {}
        for word_class in lexicon.classes:
            tree = self._classes[MARK + word_class.id] = _Node()
            for word in word_class.words:
                for variant in variants(word):
                    self._node(variant, tree).uses = (("", None),)
        for phrase, use, entry in _uses(lexicon):
            for variant in variants(_marked(phrase)):
                self._node(variant, self._root).uses += ((use, entry),)

    def _node(self, variant: str, root: _Node) -> _Node:
        """The place of a phrase in lower case in a tree, made where there is none yet."""
        node = root
        for word in variant.split() if _is_plain(variant) else self._tokens(variant):
            known = node.next.get(word)
            if known is None:
                known = node.next[word] = _Node()
                if word in self._classes:
                    node.classes += (word,)
            node = known
        return node

    def _tokens(self, variant: str) -> list[str]:
        """The tokens of a phrase, piece by piece between its spaces: most pieces stand in many phrases."""
        tokens: list[str] = []
        for piece in variant.split():
            known = self._pieces.get(piece)
            if known is None:
                known = self._pieces[piece] = [token.text for token in self._tokenizer(piece)]
            tokens += known
        return tokens

    def doc(self, text: str) -> Doc:
        """The text as tokens; typographic apostrophes and hyphens count as plain ones (one character for one, so places stay)."""
        doc: Doc = self._tokenizer(text.translate(PLAINER))
        return doc

    def hits(self, doc: Doc) -> list[Hit]:
        """Every hit, by place, longer ones first."""
        places = [token.i for token in doc if not _binds(token)]
        words = [doc[place].lower_ for place in places]
        return [
            Hit(places[start], places[end - 1] + 1, use, entry)
            for start in range(len(words))
            for end, uses in reversed(self._from(words, start))
            for use, entry in uses
        ]

    def _from(self, words: Sequence[str], start: int) -> list[Found]:
        """The ends of the phrases that begin at one word, shorter ones first, with what each is used as."""
        found: list[Found] = []
        behind: list[tuple[_Node, int]] = []
        self._step(self._root, words, start, found, behind)
        for node, end in behind:  # grows where a phrase has a second gap
            for place in _over_gap(words, end):
                self._step(node, words, place, found, behind)
        found.sort(key=lambda one: one[0])
        return found

    def _step(self, node: _Node, words: Sequence[str], place: int, found: list[Found], behind: list[tuple[_Node, int]]) -> None:
        """From a place of the tree over the word at ``place``, and over those that begin there and are of a class, on to where they lead.

        ``behind`` gathers where a gap begins, and the place of the tree behind it.
        """
        for name in node.classes:
            for end in self._ends_of_class(name, words, place):
                self._arrive(node.next[name], words, end, found, behind)
        following = node.next.get(words[place]) if place < len(words) else None
        if following is not None:
            self._arrive(following, words, place + 1, found, behind)

    def _arrive(self, node: _Node, words: Sequence[str], end: int, found: list[Found], behind: list[tuple[_Node, int]]) -> None:
        if node.uses:
            found.append((end, node.uses))
        if GAP in node.next:
            behind.append((node.next[GAP], end))
        self._step(node, words, end, found, behind)

    def _ends_of_class(self, name: str, words: Sequence[str], place: int) -> Iterator[int]:
        """The places behind the words of a class that begin at ``place``."""
        node: _Node | None = self._classes[name]
        while node is not None and place < len(words):
            node = node.next.get(words[place])
            place += 1
            if node is not None and node.uses:
                yield place


@lru_cache(maxsize=2)
def phrasebook(lexicon: Lexicon) -> Phrasebook:
    """The phrasebook of a lexicon, made once: making it takes longer than reading a dictation."""
    return Phrasebook(lexicon)


def _over_gap(words: Sequence[str], start: int) -> Iterator[int]:
    """The places at which a phrase may go on behind a gap."""
    for place in range(start, min(len(words), start + GAP_WORDS + 1)):
        yield place
        if words[place] in UNBROKEN:
            return


def _binds(token: Token) -> bool:
    """Whether a token is a hyphen inside a word: "toe-touch" is found as "toe touch"."""
    return token.text == HYPHEN and 0 < token.i < len(token.doc) - 1 and not token.whitespace_ and not token.nbor(-1).whitespace_


def _tokenizer() -> Tokenizer:
    """The tokens of blank English, but words written together stay whole ("cannot"), and a stop behind a code ends a sentence.

    The stock rules split "id", "well" and "ill" too, as contractions without their apostrophe: they are words here. Made from spaCy's
    parts, because changing the rules of a finished ``spacy.blank("en")`` takes longer than making one.
    """
    defaults = English.Defaults
    rules = defaults.tokenizer_exceptions or {}
    exceptions = {word: rule for word, rule in rules.items() if len(rule) == 1 or not {"'", "\u2019"}.isdisjoint(word)}
    return Tokenizer(
        create_vocab("en", defaults),
        rules=exceptions,
        prefix_search=compile_prefix_regex(defaults.prefixes or ()).search,
        suffix_search=compile_suffix_regex([*(defaults.suffixes or ()), *STOPS_AFTER_CODES]).search,
        infix_finditer=compile_infix_regex(defaults.infixes or ()).finditer,
        token_match=defaults.token_match,
        url_match=defaults.url_match,
    )


def _is_plain(variant: str) -> bool:
    """Whether the words of a phrase are its tokens: letters alone (told without a pattern, since most are), or dotted ones."""
    return (variant.isascii() and variant.replace(" ", "").isalpha()) or DOTTED.fullmatch(variant) is not None


def variants(phrase: str) -> Iterator[str]:
    """A phrase in lower case as it may be spelled, without its hyphens; an abbreviation also letter by letter, with stops or without.

    Some recognisers print no apostrophe: "did n't" is also "didnt", and "n't" that of each auxiliary verb.

    >>> list(variants("ACL"))
    ['acl', 'a c l', 'a.c.l', 'a.c.l.', 'a. c. l.']
    >>> list(variants("all-suture anchor"))
    ['all suture anchor']
    >>> list(variants("i 'm the surgeon"))
    ["i'm the surgeon"]
    >>> list(variants("did n't use"))
    ["didn't use", 'didnt use']
    """
    if PLAIN.fullmatch(phrase):
        yield phrase
        return
    words = ENCLITIC.sub("", phrase).replace(HYPHEN, " ").split()
    whole = " ".join(words).lower()
    yield whole
    if NEGATION in whole:
        bare = whole.replace(NEGATION, "nt")
        yield from (f"{verb}{bare}" for verb in NEGATED) if whole.startswith(NEGATION) else (bare,)
    if any(map(_is_abbreviation, words)):
        for joint, stop in JOINTS:
            yield " ".join(_spelled(word, joint) + stop if _is_abbreviation(word) else word for word in words).lower()


def _marked(phrase: str) -> str:
    """A phrase with its word classes as words of their own: "the last <person>"."""
    return CLASS.sub(rf"{MARK}\1", phrase)


def _is_abbreviation(word: str) -> bool:
    """Whether a word is written in capitals, but for one letter and the s of many ("MPFL", "sMCL", "PCLs")."""
    letters = word.removesuffix("s")
    return len(letters) in LETTERS and letters.isalpha() and sum(c.isupper() for c in letters) >= max(2, len(letters) - 1)


def _spelled(word: str, joint: str) -> str:
    """The letters of an abbreviation, and the s of many."""
    return joint.join([*word.removesuffix("s"), *("s" if word.endswith("s") else "")])


def _uses(lexicon: Lexicon) -> Iterator[tuple[str, str, object]]:
    """Every phrase of a lexicon, as what it is used and by which entry."""
    yield from _each("term", lexicon.terms)
    yield from _each("section", lexicon.sections)
    yield from _each("correction", lexicon.corrections)
    yield from _each("opener", lexicon.openers)
    yield from _each("sign", lexicon.signs)
    yield from _cues(lexicon)
    for entry in lexicon.attributes.values():
        for use, phrases in (("before", entry.before), ("after", entry.after), ("near", entry.near), ("never", entry.never)):
            yield from ((said, use, entry) for said in phrases if not said.startswith("@"))


def _each(use: str, entries: Iterable[_Said]) -> Iterator[tuple[str, str, object]]:
    for entry in entries:
        yield from ((said, use, entry) for said in entry.said)


def _cues(lexicon: Lexicon) -> Iterator[tuple[str, str, object]]:
    """The phrases of the stance cues and hints."""
    for cue in lexicon.cues:
        for use, phrases in (("cue", cue.said), ("cue-unless", cue.unless), ("cue-until", cue.until)):
            yield from ((phrase, use, cue) for phrase in phrases)
    for hint in lexicon.hints:
        for use, phrases in (("hint", hint.said), ("hint-unless", hint.unless)):
            yield from ((phrase, use, hint) for phrase in phrases)
