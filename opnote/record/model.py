"""The record: what a dictation says, as data (format "opnote-record/1")."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

Scalar = bool | int | float | str
Status = Literal["used", "narrative", "set aside", "filler", "unplaced"]
FindingKind = Literal["missing", "conflict", "implausible", "unclear"]
Severity = Literal["stop", "ask", "info"]
SourceKind = Literal["dictation", "addendum", "case sheet", "implant log", "answer"]


class Model(BaseModel):
    """Frozen, and closed to unknown fields."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Evidence(Model):
    """The words a value came from: a place in a source and the quote, letter for letter.

    ``chars`` counts characters of the source's spoken text (all its words, joined by single spaces). Seconds are absent
    where the source has none; ``line`` is then the line of the file.
    """

    source: str
    start_s: float | None = None
    end_s: float | None = None
    line: int | None = None
    chars: tuple[int, int]
    quote: Annotated[str, Field(min_length=1)]


class Said(Model):
    """A quantity as it was spoken, before it was converted to the attribute's unit (UCUM code)."""

    value: float
    unit: str


GaveWay = Literal["correction", "addendum", "interim", "earlier"]


class Candidate(Model):
    """One of several values that were said and never corrected, or a value that gave way to another one.

    ``gave_way`` tells of the latter why: the speaker took it back, an addendum says otherwise, it was called out while the thing was still
    going on ("sixty minutes so far"), or it is an earlier state of a thing that changed (a tunnel reamed in steps).
    """

    value: Scalar | None = None
    low: float | None = None
    high: float | None = None
    gave_way: GaveWay | None = None
    evidence: Annotated[tuple[Evidence, ...], Field(min_length=1)]


class Attribute(Model):
    """One fact of an entity: a value, a range (``low``, ``high``) or candidates that nobody corrected.

    ``evidence`` is empty only when there are candidates, each of which brings its own. ``superseded`` holds the values that
    gave way to it. ``why`` names the rules that tied the words to this attribute; ``lent``
    says that they speak of something else, and only the talk around brought them here ("the tibial side", ten minutes ago).
    """

    value: Scalar | tuple[Scalar, ...] | None = None
    low: float | None = None
    high: float | None = None
    candidates: tuple[Candidate, ...] = ()
    unit: str | None = None
    said: Said | None = None
    approximate: bool = False
    evidence: tuple[Evidence, ...] = ()
    superseded: tuple[Candidate, ...] = ()
    lent: bool = False
    why: tuple[str, ...] = ()

    @model_validator(mode="after")
    def _evidence_or_nothing(self) -> Attribute:
        if self.candidates:
            if self.value is not None or self.low is not None or self.high is not None:
                raise ValueError("an attribute with candidates has no value: the tool does not decide")
        elif not self.evidence:
            raise ValueError("no value without the words it came from")
        elif self.value is None and self.low is None and self.high is None:
            raise ValueError("an attribute without value, range or candidates says nothing")
        return self


class Entity(Model):
    """A thing of the operation (a graft, a tunnel, an implant, a finding ...) with its attributes and links."""

    id: str
    type: str
    attributes: dict[str, Attribute]
    links: dict[str, tuple[str, ...]] = Field(default_factory=dict)


class SourceMend(Model):
    """Something irregular in a source's file that its reader tolerated: ``kind`` as in ``opnote.transcript.model.Mend``."""

    line: int | None = None
    what: str
    kind: Literal["shape", "time", "cut", "end"] = "shape"


class Source(Model):
    """One input of the record. ``live`` says whether it was spoken during the operation (absent: not known)."""

    id: str
    kind: SourceKind
    name: str
    sha256: str
    segments: int = 0
    duration_s: float | None = None
    live: bool | None = None
    mends: tuple[SourceMend, ...] = ()


class AccountRow(Model):
    """A stretch of a source's words and what became of them. The rows of a source tile its words in order.

    ``read`` is the stretch after hearing's edits; ``statement`` numbers the statement it belongs to, so that a reader can
    put sentences together again.
    """

    status: Status
    reason: str = ""
    source: str
    start_s: float | None = None
    end_s: float | None = None
    chars: tuple[int, int]
    quote: str
    read: str = ""
    statement: int = 0
    section: str = ""


class Repair(Model):
    """A word read otherwise than the recogniser heard it."""

    source: str
    start_s: float | None = None
    chars: tuple[int, int]
    heard: str
    read_as: str
    why: str
    ask: bool = False


class Unsure(Model):
    """Words that may be others than were printed: ``may_be`` (the likeliest first), or none where only the recogniser doubts them."""

    evidence: Evidence
    may_be: tuple[str, ...] = ()
    why: str


class About(Model):
    """What a finding is about: an entity (absent when it was never said) and an attribute."""

    entity: str | None = None
    type: str
    attribute: str | None = None


class Finding(Model):
    """A question or a remark of the checks, with the words that gave rise to it (or none, when the words are missing)."""

    rule: str
    kind: FindingKind
    severity: Severity
    message: str
    evidence: tuple[Evidence, ...] = ()
    about: tuple[About, ...] = ()


class MadeBy(Model):
    """The program's version and the hash of the lexicons: together with the sources they determine the record."""

    opnote: str
    lexicons: str


class Record(Model):
    """Everything that is known of one case."""

    format: Literal["opnote-record/1"] = "opnote-record/1"
    made_by: MadeBy
    sources: tuple[Source, ...]
    entities: tuple[Entity, ...]
    account: tuple[AccountRow, ...]
    repairs: tuple[Repair, ...] = ()
    unsure: tuple[Unsure, ...] = ()
    findings: tuple[Finding, ...] = ()

    def of(self, kind: str) -> tuple[Entity, ...]:
        """The entities of one type, in the order they were said."""
        return tuple(entity for entity in self.entities if entity.type == kind)
