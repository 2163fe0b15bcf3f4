"""Record -> Worksheet: the questions, and for each value the words, the second and the source it came from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf

from opnote import lexicon as lexicons
from opnote.lexicon import Lexicon
from opnote.moments import moment, place
from opnote.note.context import Surroundings
from opnote.note.drafting import compose
from opnote.note.labels import Labels, capitalised
from opnote.note.layout import Layout, load_layout
from opnote.note.model import MendRow, Note, Place, Question, RepairRow, ValueRow, WordsRow, Worksheet
from opnote.note.narrative import Narrative, headings_of
from opnote.note.statement import Statement, statements
from opnote.note.timeline import timelines
from opnote.note.wording import gave_way, said_text, values_of
from opnote.record.model import About, AccountRow, Attribute, Evidence, Finding, Record, Repair, SourceKind, Status
from opnote.transcript.model import Mend

_SEVERITIES = ("stop", "ask", "info")
_CAUTIONS = (
    "For the surgeon only: this sheet is not part of the record and is not filed.",
    "The quotes are the recogniser's words, letter for letter. Listen to the second that is named before answering.",
)
LENT = "by the talk around"
LEFT_OVER = "left over of a statement that was set aside"
_SPOKEN = ("dictation", "addendum")


def worksheet(record: Record, *, mends: Sequence[Mend] = (), lexicon: Lexicon | None = None, layout: Layout | None = None) -> Worksheet:
    """The worksheet of a record; ``mends`` are what the reader tolerated in the file.

    Items bear the names they have in the full note. Raises what ``compose`` raises.
    """
    layout, lexicon = layout or load_layout(), lexicon or lexicons.load()
    note = compose(record, lexicon=lexicon, layout=layout)
    labels = Labels.of(record, lexicon)
    desk = _Desk(record, labels, {source.id: source.kind for source in record.sources}, _names(note), Surroundings.of(record))
    questions = desk.questions()
    header, values = desk.values(note)
    narrative = Narrative(layout, statements(record), headings_of(lexicon))
    return Worksheet(
        title="Worksheet",
        cautions=tuple(labels.speller.spelled(caution) for caution in _CAUTIONS),
        sources=tuple(_source(source.kind, source.name, source.duration_s) for source in record.sources),
        questions=questions,
        header=header,
        values=values,
        repairs=tuple(desk.repair(repair) for repair in record.repairs),
        set_aside=desk.words("set aside", shards=(statement for statement in narrative.statements if statement.is_a_shard)),
        unplaced=tuple(_unplaced(statement) for statement in narrative.statements if statement.unplaced),
        not_repeated=tuple(_not_repeated(statement, narrative) for statement in narrative.not_repeated),
        mends=tuple(MendRow(mend.line, mend.what) for mend in mends),
        timelines=timelines(record, note, rows=(*header, *values), questions=questions),
        made_by=record.made_by,
    )


def _names(note: Note) -> dict[str, str]:
    return {item.entity: item.name for section in note.sections for item in section.items}


def _source(kind: SourceKind, name: str, duration_s: float | None) -> str:
    length = f", {moment(duration_s)} long" if duration_s is not None else ""
    return f"{kind}: {name}{length}"


@dataclass(frozen=True)
class _Desk:
    """What the rows of a worksheet are made from."""

    record: Record
    labels: Labels
    kinds: dict[str, SourceKind]
    names: dict[str, str]
    surroundings: Surroundings

    def place(self, evidence: Evidence) -> Place:
        at, kind = place(evidence.start_s, evidence.line), self.kinds.get(evidence.source, "dictation")
        word = "dictated" if kind == "dictation" else kind
        spoken = kind in _SPOKEN and at
        return Place(
            evidence.quote,
            *self.surroundings.around(evidence),
            at,
            f"{word} at {at}" if spoken else word,
            evidence.source,
            evidence.start_s,
        )

    def places(self, pieces: Iterable[Evidence]) -> tuple[Place, ...]:
        return tuple(dict.fromkeys(self.place(piece) for piece in pieces))

    def questions(self) -> tuple[Question, ...]:
        ordered = sorted(self.record.findings, key=lambda finding: (_SEVERITIES.index(finding.severity), _second(finding), finding.rule))
        return tuple(self._question(number, finding) for number, finding in enumerate(ordered, start=1))

    def _question(self, number: int, finding: Finding) -> Question:
        about = tuple(dict.fromkeys(self._about(about) for about in finding.about))
        return Question(number, finding.severity, finding.kind, finding.rule, finding.message, about, self.places(finding.evidence))

    def _about(self, about: About) -> str:
        thing = self.names.get(about.entity or "", capitalised(about.type))
        return f"{thing}: {self.labels.phrase(about.type, about.attribute)}" if about.attribute else thing

    def values(self, note: Note) -> tuple[tuple[ValueRow, ...], tuple[ValueRow, ...]]:
        """The rows of the header's values and of all others, each list in the order of the note."""
        header: list[ValueRow] = []
        others: list[ValueRow] = []
        by_id = {entity.id: entity for entity in self.record.entities}
        known = {(line.entity, line.attribute): thing for thing, line in note.lines() if line.entity}
        hidden = [(by_id[id_], name) for id_ in by_id for name in by_id[id_].attributes if (id_, name) not in known]
        shown = [(by_id[id_], name) for id_, name in known if id_ in by_id and name in by_id[id_].attributes]
        for number, (entity, name) in enumerate([*shown, *hidden], start=1):
            thing = self.names.get(entity.id) or known.get((entity.id, name), capitalised(entity.type))
            rows = header if entity.type == "case" else others
            rows.append(self._value(f"v{number}", thing, entity.type, name, entity.attributes[name]))
        return tuple(header), tuple(others)

    def _value(self, anchor: str, thing: str, kind: str, name: str, attribute: Attribute) -> ValueRow:
        unit = self.labels.unit(kind, name)
        printed = values_of(attribute, unit)
        pieces = tuple(piece for value in printed for piece in value.evidence)
        said: dict[str, list[str]] = {}
        for earlier in attribute.superseded:
            said.setdefault(gave_way(earlier, attribute.unit or unit), []).append(self.places(earlier.evidence)[0].whence)
        superseded = tuple(f"{what} ({', '.join(dict.fromkeys(whence))})" for what, whence in said.items())
        return ValueRow(
            anchor, thing, self.labels.label(kind, name), "; ".join(value.text for value in printed), printed[0].state,
            self.places(pieces), said_text(attribute.said) if attribute.said else "", superseded, LENT if attribute.lent else "",
        )  # fmt: skip

    def repair(self, repair: Repair) -> RepairRow:
        return RepairRow("" if repair.start_s is None else moment(repair.start_s), repair.heard, repair.read_as, repair.why, repair.ask)

    def words(self, status: Status, *, shards: Iterable[Statement]) -> tuple[WordsRow, ...]:
        """The rows of a status, and the few words that are left over of a statement and would say nothing by themselves."""
        left = {id(row) for statement in shards for row in statement.rows if row.status == "narrative"}
        kept = (row for row in self.record.account if row.status == status or id(row) in left)
        return tuple(replace(_words(row), reason=LEFT_OVER) if id(row) in left else _words(row) for row in kept)


def _second(finding: Finding) -> float:
    return min((piece.start_s for piece in finding.evidence if piece.start_s is not None), default=inf)


def _words(row: AccountRow) -> WordsRow:
    return WordsRow("" if row.start_s is None else moment(row.start_s), row.quote, row.reason)


def _unplaced(statement: Statement) -> WordsRow:
    """The words of a statement that nobody could place, and whether the description keeps them."""
    rows = statement.unplaced
    at = "" if rows[0].start_s is None else moment(rows[0].start_s)
    return WordsRow(at, " ... ".join(row.quote for row in rows), "kept in its sentence" if statement.stands else "not in the note")


def _not_repeated(statement: Statement, narrative: Narrative) -> WordsRow:
    at = "" if statement.start_s is None else moment(statement.start_s)
    return WordsRow(
        at,
        " ".join(row.quote for row in statement.rows),
        "a heading" if narrative.is_heading(statement) else "shown as lines of the header",
    )


def rows_by_thing(rows: Sequence[ValueRow]) -> Iterator[tuple[str, tuple[ValueRow, ...]]]:
    """Rows grouped by what they belong to, in order."""
    for thing in dict.fromkeys(row.thing for row in rows):
        yield thing, tuple(row for row in rows if row.thing == thing)
