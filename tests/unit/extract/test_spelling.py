"""The order of day and month in a date of figures, told by the spelling of the dictation."""

import pytest

from tests.unit.record.told import only, record

DATE = "Date of surgery 03/04/2026."


def _date(text: str) -> object:
    day = only(record(text), "case")["date_of_surgery"]
    return day.value if day.candidates == () else sorted(str(one.value) for one in day.candidates)


@pytest.mark.parametrize(
    ("spelling", "day"),
    [
        ("General anesthesia.", "2026-03-04"),
        ("General anaesthesia.", "2026-04-03"),
        ("Right knee.", ["2026-03-04", "2026-04-03"]),
        ("General anesthesia, in theatre four.", ["2026-03-04", "2026-04-03"]),
    ],
)
def test_the_spelling_tells_the_order_or_nothing_does(spelling: str, day: object) -> None:
    assert _date(f"{spelling} {DATE}") == day


@pytest.mark.parametrize("text", ["General anesthesia. Date of surgery 25/04/2026.", "General anaesthesia. Date of surgery 04/25/2026."])
def test_a_date_that_can_be_read_one_way_alone_is_read_so(text: str) -> None:
    assert _date(text) == "2026-04-25"
