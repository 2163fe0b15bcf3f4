"""How long things take, as ratios within one run, so that machines can be compared: ``python -m tests.benchmarks.speed``.

pipeline     transcript to record in a warm process, against a blank English tokeniser on the same text
facts        `opnote facts` on 2,000 words as a process, against a process that only makes that tokeniser
help         `opnote --help` as a process, against the same

Each figure is the median of several turns taken in alternation. Nothing is asserted: a slow machine is no fault of the code.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from time import perf_counter

from opnote.lexicon import load
from opnote.pipeline import run
from opnote.transcript import Transcript, read, read_bytes
from tests.corpora import SAMPLES, transcript_of

WORDS = 2_000
TURNS = 7
BLANK = ("-c", "import spacy; spacy.blank('en')")


def alternated(one: Callable[[], object], other: Callable[[], object], *, turns: int = TURNS) -> tuple[float, float]:
    """The median seconds of two jobs that take turns, after one unmeasured turn each."""
    times: tuple[list[float], list[float]] = ([], [])
    for turn in range(turns + 1):
        for job, taken in ((one, times[0]), (other, times[1])):
            start = perf_counter()
            job()
            if turn:
                taken.append(perf_counter() - start)
    return median(times[0]), median(times[1])


def _two_thousand_words() -> Transcript:
    """The samples' own segments, one after the other, cut at 2,000 words."""
    lines: list[str] = []
    count = 0
    for case in SAMPLES * 4:
        transcript = read(str(transcript_of(case)))
        for segment in transcript.segments:
            text = transcript.text[segment.start : segment.end]
            if count + len(text.split()) > WORDS:
                return read_bytes("\n".join(lines).encode(), name="benchmark.txt")
            minutes, seconds = divmod(count // 2, 60)
            lines.append(f"[{minutes}:{seconds:02}] {text}")
            count += len(text.split())
    raise ValueError("the samples hold too few words")


def _process(*arguments: str) -> Callable[[], object]:
    def job() -> None:
        subprocess.run([sys.executable, *arguments], check=True, capture_output=True)

    return job


def _row(name: str, pair: Sequence[float], against: str) -> str:
    return f"{name:<10} {pair[0] * 1000:8.1f} ms   {against} {pair[1] * 1000:8.1f} ms   ratio {pair[0] / pair[1]:6.2f}"


def main() -> None:
    """Measure and print the three rows."""
    import spacy

    lexicon, transcript, tokeniser = load(), _two_thousand_words(), spacy.blank("en")
    warm = alternated(lambda: run(transcript, lexicon=lexicon), lambda: tokeniser(transcript.text))
    print(_row("pipeline", warm, "tokenising the same text"))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "benchmark.txt"
        spoken = (
            f"[{int(s.start_s or 0) // 60}:{int(s.start_s or 0) % 60:02}] {transcript.text[s.start : s.end]}" for s in transcript.segments
        )
        path.write_text("\n".join(spoken), encoding="utf-8")
        print(_row("facts", alternated(_process("-m", "opnote", "facts", str(path)), _process(*BLANK)), "making the tokeniser  "))
    print(_row("help", alternated(_process("-m", "opnote", "--help"), _process(*BLANK)), "making the tokeniser  "))


if __name__ == "__main__":
    main()
