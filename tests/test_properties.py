"""What holds of every record: on all dictations of the repository, and on random talk of the lexicons' phrases and junk.

1. No value without evidence, and every quote stands, letter for letter, in its source.
2. The account tiles each spoken source: every word in exactly one row.
3. The same input gives the same record.
4. What was said in two ways without correction is not decided.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from opnote import check, note
from opnote.exchange import record_json, schema_json
from opnote.extract.extract import extract
from opnote.hearing import hear, replay
from opnote.language.phrases import Phrasebook
from opnote.language.talk import understand
from opnote.lexicon import load
from opnote.pipeline import Run, run
from opnote.record import sheet
from opnote.record.build import build
from opnote.record.model import Attribute, Evidence, Record
from opnote.transcript import Transcript, read, read_bytes
from tests.corpora import DICTATIONS, SAMPLES, sheet_of, transcript_of

LEXICON = load()
BOOK = Phrasebook(LEXICON)
CASES = [pytest.param(case, id=case.name) for case in (*SAMPLES, *DICTATIONS)]
NUMBERS = (
    "eight",
    "nine millimetres",
    "seven by twenty three",
    "two forty",
    "point five",
    "2 40",
    "thirty degrees",
    "a quarter to nine",
    "2.5",
    "-1",
)
GLUE = (
    "no, sorry,",
    "correction",
    "and",
    "the",
    "for the",
    ",",
    ".",
    "?",
    "um",
    "we did not",
    "you could",
    "left",
    "right",
    "new paragraph",
    "lot number",
)
PHRASES = sorted({said for term in LEXICON.terms for said in term.said} | {said for cue in LEXICON.cues for said in cue.said})
WORD = (
    st.sampled_from(PHRASES)
    | st.sampled_from(NUMBERS)
    | st.sampled_from(GLUE)
    | st.text(st.characters(exclude_categories=("Cc", "Cf", "Cn", "Co", "Cs")), max_size=8)
)
TALK = st.lists(WORD, min_size=1, max_size=30).map(" ".join)


@cache
def _made(case: Path) -> Run:
    scheduled = sheet_of(case)
    scheduled_facts = sheet.read(str(scheduled), lexicon=LEXICON) if scheduled else None
    return run(read(str(transcript_of(case))), lexicon=LEXICON, sheet=scheduled_facts)


def _run(transcript: Transcript) -> Run:
    """The pipeline with a phrase book that is built once for all random talk."""
    talk = understand(hear(transcript, LEXICON), LEXICON, BOOK)
    told = (talk, extract(talk, LEXICON))
    return Run(build([told], LEXICON, version="test"), (told,))


def _texts(made: Run, case: Path | None = None) -> dict[str, str]:
    texts = {talk.heard.transcript.source: talk.heard.transcript.text for talk, _ in made.talks}
    scheduled = sheet_of(case) if case else None
    if scheduled:
        texts["case"] = sheet.read(str(scheduled), lexicon=LEXICON).transcript.text
    return texts


def _attributes(record: Record) -> Iterator[Attribute]:
    for entity in record.entities:
        yield from entity.attributes.values()


def _all_evidence(record: Record) -> Iterator[Evidence]:
    for attribute in _attributes(record):
        yield from attribute.evidence
        for candidate in (*attribute.candidates, *attribute.superseded):
            yield from candidate.evidence
    for finding in record.findings:
        yield from finding.evidence


def _holds_evidence(record: Record, texts: dict[str, str]) -> None:
    for attribute in _attributes(record):
        assert attribute.evidence or attribute.candidates
    for words in _all_evidence(record):
        start, end = words.chars
        assert words.quote.strip()
        assert texts[words.source][start:end] == words.quote


LABEL = "the speaker's name"  # stands in the file, was not said, and takes no place among the words


def _tiles(record: Record, transcripts: Iterable[Transcript]) -> None:
    for transcript in transcripts:
        rows = [row for row in record.account if row.source == transcript.source and row.reason != LABEL]
        at = 0
        for row in rows:
            start, end = row.chars
            assert not transcript.text[at:start].strip(), "words between two rows"
            assert at <= start < end
            assert row.quote == transcript.text[start:end]
            at = end
        assert not transcript.text[at:].strip(), "words after the last row"


def _decides_nothing(record: Record) -> None:
    for attribute in _attributes(record):
        if attribute.candidates:
            assert (attribute.value, attribute.low, attribute.high) == (None, None, None)
            ways = [(candidate.value, candidate.low, candidate.high) for candidate in attribute.candidates]
            assert len(set(ways)) == len(ways) >= 2


@pytest.mark.parametrize("case", CASES)
def test_every_value_has_evidence_that_stands_in_its_source(case: Path) -> None:
    _holds_evidence(_made(case).record, _texts(_made(case), case))


@pytest.mark.parametrize("case", CASES)
def test_the_account_tiles_the_dictation(case: Path) -> None:
    _tiles(_made(case).record, [talk.heard.transcript for talk, _ in _made(case).talks])


@pytest.mark.parametrize("case", CASES)
def test_the_same_input_gives_the_same_record(case: Path) -> None:
    scheduled = sheet_of(case)
    again = run(read(str(transcript_of(case))), lexicon=load(), sheet=sheet.read(str(scheduled), lexicon=load()) if scheduled else None)
    assert record_json(again.record) == record_json(_made(case).record)


@pytest.mark.parametrize("case", CASES)
def test_what_was_said_in_two_ways_is_not_decided(case: Path) -> None:
    _decides_nothing(_made(case).record)


@pytest.mark.parametrize("case", CASES)
def test_the_edits_of_hearing_replay(case: Path) -> None:
    for talk, _ in _made(case).talks:
        assert replay(talk.heard.transcript.text, talk.heard.edits) == talk.heard.text


@pytest.mark.parametrize("case", CASES)
def test_every_id_is_one_entitys_own(case: Path) -> None:
    ids = [entity.id for entity in _made(case).record.entities]
    assert len(set(ids)) == len(ids)
    assert {target for entity in _made(case).record.entities for targets in entity.links.values() for target in targets} <= set(ids)


@pytest.mark.parametrize("case", CASES)
def test_the_json_fits_its_schema(case: Path) -> None:
    """An outside reader of JSON Schema 2020-12 (jsonschema) agrees."""
    record = _made(case).record
    checked = record.model_copy(update={"findings": check.run(record)})
    jsonschema.Draft202012Validator(json.loads(schema_json())).validate(json.loads(record_json(checked)))


@settings(max_examples=150, deadline=None)
@given(TALK)
def test_of_any_talk_at_all(text: str) -> None:
    """All four at once on random talk, whose record is then checked and composed as any other."""
    data = f"[0:01] Dictation. [0:03] {text}".encode("utf-8", "ignore")
    transcript = read_bytes(data, name="random.txt")
    made = _run(transcript)
    record = made.record.model_copy(update={"findings": check.run(made.record)})
    _holds_evidence(record, _texts(made))
    _tiles(record, [transcript])
    _decides_nothing(record)
    assert record_json(_run(transcript).record) == record_json(made.record)
    assert Record.model_validate_json(record_json(record)) == record
    assert note.render(note.compose(record, lexicon=LEXICON), form="txt")
    assert note.render(note.worksheet(record, lexicon=LEXICON), form="txt")
