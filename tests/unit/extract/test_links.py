"""Every phrase of the corpora gives the things that it should, and none that it should not."""

from __future__ import annotations

import pytest

from tests.links import Link, gives, links, mentions_of

LINKS = list(links())
RIGHT = [link for link in LINKS if not link.reason]
FAILING = [link for link in LINKS if link.reason]


@pytest.mark.parametrize("link", [pytest.param(link, id=link.said) for link in RIGHT])
def test_said(link: Link) -> None:
    missing = [thing for thing in link.gives if not gives(link.said, thing)]
    wrong = [thing for thing in link.lacks if gives(link.said, thing)]
    assert (missing, wrong) == ([], []), mentions_of(link.said)


@pytest.mark.parametrize(("said", "never"), [pytest.param(said, link.never, id=said) for link in RIGHT for said in link.silent])
def test_silent(said: str, never: tuple[str, ...]) -> None:
    assert [thing for thing in never if gives(said, thing)] == [], mentions_of(said)


@pytest.mark.parametrize("link", [pytest.param(k, id=k.said, marks=pytest.mark.xfail(strict=True, reason=k.reason)) for k in FAILING])
def test_known_failures(link: Link) -> None:
    test_said(link)


def test_the_corpora_are_large_enough() -> None:
    assert sum(1 + len(link.silent) for link in RIGHT) >= 120


def test_no_phrase_stands_twice() -> None:
    phrases = [phrase for link in LINKS for phrase in (link.said, *link.silent)]
    assert len(phrases) == len(set(phrases))


@pytest.mark.parametrize("link", [pytest.param(link, id=link.said) for link in RIGHT])
def test_what_the_silent_never_give_is_what_the_phrase_gives(link: Link) -> None:
    """Otherwise their silence would tell nothing."""
    assert all(gives(link.said, thing) for thing in link.never)
