"""How the readers' time and memory grow: ``python -m tests.benchmarks.readers [CUES] [FORMAT ...]``.

Each format is read with CUES cues (2,000), 10 and 100 times as many, each in a process of its own. Shown are the seconds, the memory at its
highest, both for each cue at the largest size, and the slope of the time from ten to a hundred times (1 is linear, 2 quadratic).
Nothing is asserted: a slow machine is no fault of the code.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
from collections.abc import Callable, Iterator
from math import log10
from time import perf_counter

from opnote.transcript import LIMIT_BYTES, read_bytes

WORDS = "left knee nine by twenty five millimetres so it was".split()
SIZES = (1, 10, 100)


def _said(number: int) -> str:
    return f"{WORDS[number % len(WORDS)]} {WORDS[(number * 7 + 3) % len(WORDS)]} {number % 100}"


def _clock(number: int, mark: str) -> str:
    return f"{number // 3600:02}:{number // 60 % 60:02}:{number % 60:02}{mark}000"


def _rows(count: int) -> Iterator[dict[str, object]]:
    return ({"start": number, "end": number + 1, "text": _said(number)} for number in range(count))


def _vtt(count: int) -> str:
    return "WEBVTT\n\n" + "".join(f"{_clock(n, '.')} --> {_clock(n + 1, '.')}\n{_said(n)}\n\n" for n in range(count))


def _srt(count: int) -> str:
    return "".join(f"{n + 1}\n{_clock(n, ',')} --> {_clock(n + 1, ',')}\n{_said(n)}\n\n" for n in range(count))


def _ttml(count: int) -> str:
    cues = "".join(f'<p begin="{n}s" end="{n + 1}s">{_said(n)}</p>\n' for n in range(count))
    return f"<tt><body><div>{cues}</div></body></tt>"


def _textgrid(count: int) -> str:
    labels = "".join(f'{n}\n{n + 1}\n"{_said(n)}"\n' for n in range(count))
    return f'"ooTextFile"\n"TextGrid"\n0\n{count}\n<exists>\n1\n"IntervalTier"\n"a"\n0\n{count}\n{count}\n{labels}'


def _monologues(count: int) -> str:
    def element(number: int) -> dict[str, object]:
        return {"type": "text", "value": WORDS[number % len(WORDS)], "ts": number * 0.3, "end_ts": number * 0.3 + 0.2}

    rows = [{"speaker": n % 3, "elements": [element(3 * n), element(3 * n + 1)]} for n in range(count)]
    return json.dumps({"monologues": rows}, indent=1)


FORMATS: dict[str, Callable[[int], str]] = {
    "webvtt": _vtt,
    "webvtt without blanks": lambda count: _vtt(count).replace("\n\n", "\n"),
    "subrip": _srt,
    "ttml": _ttml,
    "textgrid": _textgrid,
    "ctm": lambda count: "".join(f"c {n % 2} {n * 0.5:.2f} 0.4 {WORDS[n % len(WORDS)]} 0.9\n" for n in range(count)),
    "json rows": lambda count: json.dumps(list(_rows(count)), indent=1),
    "json in one line": lambda count: json.dumps({"segments": list(_rows(count))}),
    "json monologues": _monologues,
    "timed text": lambda count: "".join(f"[{n // 60}:{n % 60:02}] Nurse: {_said(n)}\n" for n in range(count)),
    "timed text in one line": lambda count: " ".join(f"[{n // 60}:{n % 60:02}] {_said(n)}" for n in range(count)),
    "plain text": lambda count: "".join(f"{_said(n)}\n" for n in range(count)),
    "plain text in one line": lambda count: " ".join(_said(n) for n in range(count)),
    "rtf": lambda count: "{\\rtf1 " + "".join(f"[{n // 60}:{n % 60:02}] {_said(n)}\\par " for n in range(count)) + "}",
}


def measure(name: str, count: int) -> dict[str, float]:
    """Seconds and highest memory (MB) of reading ``count`` cues in this process, and the size of the file (MB)."""
    data = FORMATS[name](count).encode()
    if len(data) >= LIMIT_BYTES:
        return {"mb": len(data) / 1e6, "seconds": 0.0, "memory": 0.0}
    start = perf_counter()
    read_bytes(data, name="benchmark")
    taken = perf_counter() - start
    return {"mb": len(data) / 1e6, "seconds": taken, "memory": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024}


def _in_a_process(name: str, count: int) -> dict[str, float]:
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.readers", "--one", name, str(count)], check=True, capture_output=True, text=True
    )
    return {key: float(value) for key, value in json.loads(done.stdout).items()}


def _row(name: str, cues: int) -> str:
    small, middle, large = (_in_a_process(name, cues * size) for size in SIZES)
    if not large["seconds"]:
        return f"{name:<24} {large['mb']:6.1f} MB: beyond the limit, refused"
    slope = log10(large["seconds"] / middle["seconds"])
    each = large["seconds"] / (cues * SIZES[-1]) * 1e6
    return (
        f"{name:<24} {small['seconds']:7.3f} {middle['seconds']:7.3f} {large['seconds']:7.3f} s   slope {slope:4.2f}  {each:5.1f} us/cue  "
        f"{large['mb']:5.1f} MB   memory {small['memory']:5.0f} {middle['memory']:5.0f} {large['memory']:5.0f} MB"
    )


def main() -> None:
    """Measure and print a row for each format."""
    if sys.argv[1:2] == ["--one"]:
        print(json.dumps(measure(sys.argv[2], int(sys.argv[3]))))
        return
    cues = int(sys.argv[1]) if len(sys.argv) > 1 else 2_000
    print(f"cues: {', '.join(f'{cues * size:,}' for size in SIZES)}")
    for name in sys.argv[2:] or FORMATS:
        print(_row(name, cues), flush=True)


if __name__ == "__main__":
    main()
