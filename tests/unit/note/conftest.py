"""An invented reconstruction of the anterior cruciate ligament, as a record built by hand."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

import pytest

from opnote.record.model import (
    About,
    AccountRow,
    Attribute,
    Candidate,
    Entity,
    Evidence,
    Finding,
    MadeBy,
    Record,
    Repair,
    Said,
    Source,
    Status,
)

WORD_S = 0.4
MADE_BY = MadeBy(opnote="0.1.0", lexicons="0123456789abcdef" * 4)

# (section, second, statement): {used}, [set aside], <unplaced>, (filler), ~layout~, all else narrative; "heard=read" inside the marks.
TALK = (
    ("header", 0, "{this is patient four one seven on the third of May} for a {right knee}"),
    ("header", 9, "surgeon is {doctor Arden} assisted by {Birch and Cole}"),
    ("header", 16, "diagnosis before and after is {complete rupture of the ACL}"),
    ("header", 24, "the {left knee} was marked by me in the holding area and confirmed at the time out with everyone listening"),
    ("indications", 41, "she is a handball player with giving way for four months"),
    ("findings", 52, "{the Lockman=the Lachman} was {grade three} with {no end point}"),
    ("findings", 60, "the {pivot shift was positive}"),
    ("findings", 66, "{lateral meniscus intact}"),
    ("description", 75, "(um) the semitendinosus was taken through a {3 centimetre incision} ~comma=,~ and the gracilis left alone"),
    ("description", 88, "it measured {28 centimetres} and was {quadrupled} to a [nine no sorry] {seven millimetre graft}"),
    ("description", 100, "[if it is short you can take the gracilis as well]"),
    ("description", 112, "the femoral socket was {seven} by {25 deep} <at ten past>"),
    ("description", 121, "the tibial tunnel was also {7 millimetres} full length"),
    ("description", 150, "it was fixed with a {cortical button} on the femur"),
    ("description", 158, "and a {7 by 25 bio composite screw} in the tibia {lot K four one}"),
    ("description", 168, "at {20 to 30 degrees} with {about 80 newtons} after {20 cycles}"),
    ("description", 180, "there was no notchplasty"),
    ("header", 190, "tourniquet {250 for 64 minutes}"),
    ("header", 197, "blood loss {about 30} and {no complications}"),
    ("plan", 205, "she will be {partial weight bearing for two weeks}"),
    ("plan", 212, "{motion zero to ninety until six weeks}"),
    ("plan", 219, "{sutures out at ten days}"),
    ("", 240, "[thank you for watching]"),
)
MARKS: dict[str, Status] = {"{": "used", "[": "set aside", "<": "unplaced", "(": "filler", "~": "filler"}
PIECE = re.compile(r"([{\[<(~])([^=}\]>)~]*)(?:=([^}\]>)~]*))?[}\]>)~]|[^{\[<(~]+")
REASONS = {
    "nine no sorry": "corrected by the speaker",
    "if it is short you can take the gracilis as well": "option",
    "thank you for watching": "off topic",
}


def pieces(words: str) -> Iterable[tuple[Status, str, str]]:
    for found in PIECE.finditer(words):
        mark, quote, read = found.groups()
        plain = (quote if mark else found.group()).strip()
        if plain:
            status = MARKS.get(mark or "", "narrative")
            yield status, plain, read or ("" if status == "filler" else plain)


class Case:
    """The words of TALK as a source, and evidence found in them by quote."""

    def __init__(self) -> None:
        self.rows: list[AccountRow] = []
        at = 0
        for number, (section, second, words) in enumerate(TALK):
            clock = float(second)
            for status, quote, read in pieces(words):
                span, end = (at, at + len(quote)), clock + WORD_S * len(quote.split())
                row = AccountRow(status=status, source="dictation", start_s=clock, end_s=end, chars=span, quote=quote, read=read)
                more = {"reason": REASONS.get(quote, ""), "statement": number, "section": section}
                self.rows.append(row.model_copy(update=more))
                at, clock = span[1] + 1, end
        self.text = " ".join(row.quote for row in self.rows)

    def words(self, quote: str) -> Evidence:
        start = self.text.index(quote)
        row = next(row for row in self.rows if row.chars[0] <= start < row.chars[1])
        assert row.start_s is not None
        seconds = row.start_s + WORD_S * len(self.text[row.chars[0] : start].split())
        end_s = seconds + WORD_S * len(quote.split())
        return Evidence(source="dictation", start_s=seconds, end_s=end_s, chars=(start, start + len(quote)), quote=quote)

    def said(self, value: Any, quote: str, **more: Any) -> Attribute:
        return Attribute(value=value, evidence=(self.words(quote),), **more)

    def between(self, low: float, high: float, quote: str, **more: Any) -> Attribute:
        return Attribute(low=low, high=high, evidence=(self.words(quote),), **more)


def sheet(value: Any, quote: str) -> Attribute:
    return Attribute(value=value, evidence=(Evidence(source="case-sheet", line=3, chars=(0, len(quote)), quote=quote),))


def case_entity(case: Case) -> Entity:
    said = case.said
    sides = tuple(Candidate(value=side, evidence=(case.words(f"{side} knee"),)) for side in ("right", "left"))
    return Entity(
        id="case", type="case",
        attributes={
            "side": Attribute(candidates=sides),
            "patient_id": said("417", "patient four one seven"),
            "date_of_surgery": sheet("2031-05-03", "2031-05-03"),
            "surgeon": said("Arden", "doctor Arden"),
            "assistants": said(("Birch", "Cole"), "Birch and Cole"),
            "preop_diagnosis": said(("complete rupture of the ACL",), "complete rupture of the ACL"),
            "postop_diagnosis": said(("complete rupture of the ACL",), "complete rupture of the ACL"),
            "tourniquet_mmHg": said(250, "250", unit="mm[Hg]"),
            "tourniquet_min": said(64, "64 minutes", unit="min"),
            "ebl_mL": said(30, "about 30", unit="mL", approximate=True),
            "complications": said("none", "no complications"),
            "allergy": sheet("latex", "latex"),
        },
    )  # fmt: skip


def thing(id_: str, of: str, /, *, links: dict[str, tuple[str, ...]] | None = None, **attributes: Attribute) -> Entity:
    return Entity(id=id_, type=of, attributes=attributes, links=links or {})


def treatment(case: Case) -> Iterable[Entity]:
    said, between = case.said, case.between
    acl, screw = "complete rupture of the ACL", "7 by 25 bio composite screw"
    nine = Candidate(value=9, evidence=(case.words("nine"),))
    yield thing("p1", "procedure", structure=said("ACL", acl), action=said("reconstruction", "seven millimetre graft"))
    yield thing(
        "g1",
        "graft",
        structure=said("ACL", acl),
        tissue=said("semitendinosus", "the semitendinosus"),
        source=said("autograft", "was taken"),
        length_mm=said(280, "28 centimetres", unit="mm", said=Said(value=28, unit="cm")),
        strands=said(4, "quadrupled"),
        diameter_mm=said(7, "seven millimetre graft", unit="mm", superseded=(nine,)),
    )
    yield thing(
        "t1",
        "tunnel",
        links={"graft": ("g1",)},
        structure=said("ACL", acl),
        bone=said("femur", "the femoral socket"),
        diameter_mm=said(7, "seven by", unit="mm"),
        depth_mm=said(25, "25 deep", unit="mm"),
    )
    tibial = said(7, "7 millimetres", unit="mm")
    yield thing("t2", "tunnel", links={"graft": ("g1",)}, structure=said("ACL", acl), bone=said("tibia", "tibial"), diameter_mm=tibial)
    button = said("cortical button", "cortical button")
    yield thing("i1", "implant", links={"tunnel": ("t1",)}, kind=button, bone=said("femur", "on the femur"))
    yield thing(
        "i2",
        "implant",
        links={"tunnel": ("t2",)},
        kind=said("interference screw", screw),
        bone=said("tibia", "in the tibia"),
        diameter_mm=said(7, "7 by 25", unit="mm"),
        length_mm=said(25, "7 by 25", unit="mm"),
        material=said("biocomposite", "bio composite"),
        lot=said("K41", "lot K four one"),
    )
    yield thing(
        "f1",
        "tensioning",
        structure=said("ACL", acl),
        flexion_deg=between(20, 30, "20 to 30 degrees", unit="deg"),
        force_N=said(80, "about 80 newtons", unit="N", approximate=True),
        cycles=said(20, "20 cycles"),
    )


def observations(case: Case) -> Iterable[Entity]:
    said = case.said
    before, soft = said("before", "Lockman"), said("none", "no end point")
    yield thing("x1", "finding", exam=said("Lachman", "Lockman"), phase=before, grade=said("3", "grade three"), end_point=soft)
    yield thing("x2", "finding", exam=said("pivot shift", "pivot shift"), result=said("positive", "positive"))
    meniscus = said("lateral meniscus", "lateral meniscus")
    yield thing("x3", "finding", exam=said("meniscus", "lateral meniscus"), structure=meniscus, result=said("intact", "intact"))
    yield thing("n1", "incision", length_mm=said(30, "3 centimetre incision", unit="mm", said=Said(value=3, unit="cm")))


def aftercare(case: Case) -> Iterable[Entity]:
    said = case.said
    low, high = said(0, "zero", unit="deg"), said(90, "ninety", unit="deg")
    six, two = said(6, "six weeks", unit="wk"), said(2, "two weeks", unit="wk")
    ten_days = said(10 / 7, "ten days", unit="wk", said=Said(value=10, unit="d"))
    yield thing("a1", "postop", item=said("range of motion", "motion"), low_deg=low, high_deg=high, to_weeks=six)
    yield thing("a2", "postop", item=said("weight bearing", "weight bearing"), value=said("partial", "partial"), to_weeks=two)
    yield thing("a3", "postop", item=said("suture removal", "sutures out"), from_weeks=ten_days)


def findings(case: Case) -> Iterable[Finding]:
    side = About(entity="case", type="case", attribute="side")
    yield Finding(
        rule="SIDE01", kind="conflict", severity="stop", message="two sides are dictated for the operated knee",
        evidence=(case.words("right knee"), case.words("left knee")), about=(side,),
    )  # fmt: skip
    yield Finding(
        rule="CASE02",
        kind="missing",
        severity="ask",
        message="the anesthesia is not dictated",
        about=(About(type="case", attribute="anesthesia"),),
    )
    yield Finding(
        rule="IMPL01", kind="missing", severity="ask", message="an implant has no lot number",
        evidence=(case.words("cortical button"),), about=(About(entity="i1", type="implant", attribute="lot"),),
    )  # fmt: skip
    yield Finding(
        rule="TUN01",
        kind="unclear",
        severity="info",
        message="the depth of a socket has no unit",
        evidence=(case.words("25 deep"),),
        about=(About(entity="t1", type="tunnel", attribute="depth_mm"),),
    )


@pytest.fixture
def case() -> Case:
    return Case()


@pytest.fixture
def record(case: Case) -> Record:
    """The whole invented case."""
    repair = Repair(
        source="dictation", start_s=52.4, chars=case.words("Lockman").chars, heard="Lockman", read_as="Lachman", why="lachman", ask=True
    )
    return Record(
        made_by=MADE_BY,
        sources=(
            Source(id="dictation", kind="dictation", name="invented.vtt", sha256="0" * 64, segments=24, duration_s=250.0, live=False),
            Source(id="case-sheet", kind="case sheet", name="sheet.toml", sha256="1" * 64),
        ),
        entities=(case_entity(case), *treatment(case), *observations(case), *aftercare(case)),
        account=tuple(case.rows),
        repairs=(repair,),
        findings=tuple(findings(case)),
    )


@pytest.fixture
def bare() -> Record:
    """A record of which nothing is known but that it exists."""
    return Record(
        made_by=MADE_BY, sources=(Source(id="dictation", kind="dictation", name="empty.txt", sha256="2" * 64),), entities=(), account=()
    )
