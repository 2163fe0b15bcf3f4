"""Templates: strict about what they ask for, safe about what they print, pages that stand alone."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from markdown_it import MarkdownIt

from opnote.errors import TemplateError
from opnote.note import Note, Worksheet, compose, render, worksheet
from opnote.note.rendering import css_string, markdown
from opnote.record.model import Attribute, Entity, Evidence, Record
from opnote.resources import templates_dir

NASTY = "<b>x</b> & | *y* _z_ `c` [a](http://b.example) </style>"


class Page(HTMLParser):
    """The tags, ids and texts of a page; a tag that is not closed in its turn is an error."""

    VOID = ("meta", "br", "rect", "line", "path", "circle")

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.feed(text)
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    def all(self, *names: str) -> list[dict[str, str | None]]:
        return [attrs for tag, attrs in self.tags if tag in names]


@pytest.fixture(params=["note", "worksheet"])
def page(request: pytest.FixtureRequest, record: Record) -> Page:
    view: Note | Worksheet = compose(record) if request.param == "note" else worksheet(record)
    return Page(render(view, form="html"))


def nasty(bare: Record) -> Record:
    evidence = Evidence(source="dictation", start_s=1.0, chars=(0, 1), quote=NASTY)
    lot = Attribute(value=NASTY, evidence=(evidence,))
    return bare.model_copy(update={"entities": (Entity(id="i", type="implant", attributes={"lot": lot}),)})


def test_a_page_stands_alone(page: Page) -> None:
    assert page.all("script", "link", "img", "iframe", "object") == []
    assert all((anchor["href"] or "").startswith("#") for anchor in page.all("a"))
    style = "".join(page.words)
    assert "@import" not in style
    assert re.findall(r"url\((?!#)", style) == []


def test_a_page_can_be_walked_by_a_reader_of_screens(page: Page) -> None:
    """Names of WCAG 2.1: language of page (3.1.1), headings (1.3.1, 2.4.6), table headers (1.3.1), unique ids (4.1.1)."""
    assert page.all("html")[0]["lang"] == "en"
    levels = [int(tag[1]) for tag, _ in page.tags if re.fullmatch(r"h[1-6]", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert all("scope" in attrs for attrs in page.all("th"))
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    assert all(attrs["aria-labelledby"] in ids for _, attrs in page.tags if "aria-labelledby" in attrs)
    assert all((attrs["href"] or "")[1:] in ids for attrs in page.all("a"))


def test_the_templates_escape_what_they_print(bare: Record) -> None:
    for view in (compose(nasty(bare)), worksheet(nasty(bare))):
        page = Page(render(view, form="html"))
        assert page.all("b") == []
        assert len(page.all("style")) == 1
        assert any(NASTY in words for words in page.words)


def test_the_markdown_prints_words_and_not_marks(bare: Record) -> None:
    """Rendered by markdown-it-py (an implementation of CommonMark with tables)."""
    for view in (compose(nasty(bare)), worksheet(nasty(bare))):
        html = MarkdownIt("commonmark").enable("table").render(render(view, form="md"))
        page = Page(html)
        assert page.all("b", "em", "code", "a") == []
        assert NASTY in "".join(page.words)


def test_markdown_tables_have_as_many_cells_as_columns(record: Record) -> None:
    for view in (compose(record), worksheet(record)):
        lines = render(view, form="md").splitlines()
        rows = [line for line in lines if line.startswith("|")]
        assert len(rows) > 10
        html = MarkdownIt("commonmark").enable("table").render("\n".join(lines))
        assert html.count("<tr>") == len([row for row in rows if not row.startswith("|-")])
        assert "<p>|" not in html


@pytest.mark.parametrize(
    ("text", "escaped"),
    [("1. first", "1\\. first"), ("- 5", "\\- 5"), ("2+", "2+"), ("# 2 suture", "\\# 2 suture"), ("[not dictated]", "[not dictated]")],
)
def test_marks_at_the_start_of_a_line_mean_nothing(text: str, escaped: str) -> None:
    assert markdown(text) == escaped


def test_css_strings_cannot_be_closed() -> None:
    assert css_string('a"</style>') == "a\\22 \\3c /style\\3e "


@pytest.mark.parametrize(
    ("template", "message"),
    [
        ("{{ note.signature }}", "asks for what the note does not hold: .*signature"),
        ("{{ surgeon }}", "asks for what the note does not hold: 'surgeon' is undefined"),
        ("line one\n{% if %}", "note.txt.j2:2: "),
    ],
)
def test_a_template_that_asks_for_more_is_an_error_without_patient_words(
    record: Record, tmp_path: Path, template: str, message: str
) -> None:
    (tmp_path / "note.txt.j2").write_text(template)
    with pytest.raises(TemplateError, match=message) as caught:
        render(compose(record), form="txt", folder=tmp_path)
    assert "Arden" not in str(caught.value)


def test_a_form_without_a_template_is_an_error(record: Record) -> None:
    form: Any = "docx"
    with pytest.raises(TemplateError, match=r"no such template; forms are md, txt and html"):
        render(compose(record), form=form)


def luminance(colour: str) -> float:
    """Relative luminance of "#rrggbb" (WCAG 2.1, definition of relative luminance)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_measured_as_the_standard_does() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)  # WCAG 2.1, definition of contrast ratio: 1 to 21
    assert contrast("#777777", "#ffffff") < 4.5 < contrast("#767676", "#ffffff")  # the grey on which the 4.5 line falls: common knowledge


def test_text_has_the_contrast_that_wcag_asks_for_in_light_and_dark() -> None:
    """WCAG 2.1, 1.4.3: 4.5 for text; 1.4.11: 3 for marks that carry meaning."""
    css = (templates_dir() / "page.css").read_text(encoding="utf-8")
    light, dark = (dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", block)) for block in re.findall(r":root \{(.*?)\}", css, re.DOTALL)[:2])
    for theme in (light, dark):
        for ground in ("paper", "band"):
            for text in ("ink", "quiet", "head", "gap", "clash"):
                assert contrast(theme[text], theme[ground]) >= 4.5, (text, ground)
        assert contrast(theme["mark"], theme["paper"]) >= 3
