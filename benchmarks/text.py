"""Reading text notes: against spaCy's blank tokenizer alone and against quantulum3, and what packs and rules cost.

Every time is the best of several: the least disturbed by whatever else the machine does. The text is the demo
recordings' scripts. quantulum3 (a quantity spotter) and spaCy's tokenizer do a small part of the work each.
"""

from __future__ import annotations

import gc
import os
import subprocess
import sys
import tempfile
import time
import warnings
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from extractor.batch.inputs import find_notes
from extractor.batch.read import Job, Settings, read_all, usable_cores
from extractor.cli.demo import demo_folder
from extractor.grammar.packs import Grammar, load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

WORDS = 300
"""Length of note that times are given for."""
NOTES = 240
"""Notes read for the figure of notes a second."""
TURNS = 9
LENGTHS = (50, 200, 800)
REPEATED = (
    "The meniscus defect measured nineteen millimeters. An eight millimeter cannula was placed, white tape at the "
    "posterior superior position, tied to the posterior inferior. "
)
SENTENCE = "the defect measured eighteen by nine millimeters"


def run() -> Iterator[str]:
    """Give the figures, a line each."""
    texts = [path.read_text(encoding="utf-8") for path in sorted(demo_folder().glob("*.txt"))]
    words = sum(len(text.split()) for text in texts)
    grammar = load_grammar()
    ours = _a_note(lambda t: extract(Transcript(text=t), grammar), texts, words)
    yield f"{len(texts)} demo scripts, {words} words; times for a note of {WORDS} words"
    yield f"note to checked record            {ours * 1e3:8.2f} ms"
    yield from _beside(ours, texts, words)
    yield from _growth(grammar)
    yield from _packs(grammar, texts, words)
    yield from _rules(grammar, texts, words)
    yield from _notes_a_second(texts)
    yield from _start_up()
    yield from _memory()


def _growth(grammar: Grammar) -> Iterator[str]:
    """How time grows with the length of one note, which is the same sentences again and again."""
    gc.freeze()  # as the program does where it reads notes from files (extractor/batch/read.py)
    times = [_best(lambda n=n: extract(Transcript(text=REPEATED * n), grammar), 2) for n in LENGTHS]  # type: ignore[misc]
    shown = ", ".join(
        f"{len((REPEATED * n).split())} words {t * 1e3:.0f} ms" for n, t in zip(LENGTHS, times, strict=True)
    )
    ratios = " and ".join(f"{later / sooner:.1f}" for sooner, later in zip(times, times[1:], strict=False))
    yield f"growth with length                {shown}: four times the text takes {ratios} times as long"


def _best(job: Callable[[], object], times: int = 7, clock: Callable[[], float] = time.process_time) -> float:
    """Seconds of the fastest of several runs, after one that warms up.

    Reading keeps one core busy and waits for nothing, so its processor time is what an idle machine's clock would show.
    """
    job()
    found = []
    for _ in range(times):
        started = clock()
        job()
        found.append(clock() - started)
    return min(found)


def _a_note(read: Callable[[str], object], texts: list[str], words: int, times: int = 7) -> float:
    """Seconds for a note of `WORDS` words."""
    return sum(_best(lambda t=text: read(t), times) for text in texts) * WORDS / words  # type: ignore[misc]


def _beside(ours: float, texts: list[str], words: int) -> Iterator[str]:
    import spacy

    tokenizer = spacy.blank("en")
    plain = _a_note(tokenizer.make_doc, texts, words)
    yield f"spaCy blank tokenizer alone       {plain * 1e3:8.2f} ms   ours takes {ours / plain:.1f} times as long"
    spotter = _quantulum()
    if spotter:
        other = _a_note(spotter, texts, words, 3)
        yield f"quantulum3, quantities alone      {other * 1e3:8.2f} ms   ours takes {ours / other:.2f} times as long"


def _quantulum() -> Callable[[str], Any] | None:
    """The quantity spotter's reading function, where it is installed (it is a development dependency)."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            from quantulum3 import parser
        except ImportError:
            return None
    parse: Callable[[str], Any] = parser.parse
    return parse


def _packs(grammar: Grammar, texts: list[str], words: int) -> Iterator[str]:
    """What each pack adds, the common one first."""
    parts = [_first_packs(grammar, count) for count in range(1, len(grammar.packs) + 1)]
    times = _in_turn(parts, texts, words)
    yield "as packs are added:"
    for part, seconds in zip(parts, times, strict=True):
        yield f"  + {part.packs[-1]:<28} {len(part.rules):5} rules  {seconds * 1e3:8.2f} ms"
    yield f"  speed falls from one pack to all by {1 - times[0] / times[-1]:.0%}"


def _first_packs(grammar: Grammar, count: int) -> Grammar:
    own = grammar.packs[:count]
    rules = tuple(rule for rule in grammar.rules if rule.pack in own)
    entries = tuple(word for word in grammar.words if word[1].pack in own)
    return replace(grammar, words=entries, rules=rules, packs=own, folders=grammar.folders[:count])


def _in_turn(grammars: list[Grammar], texts: list[str], words: int) -> list[float]:
    """Seconds for a note of `WORDS` words with each grammar.

    Each text is read with all of them in turn, again and again: whatever else slows the machine then slows all alike.
    """
    total = [0.0] * len(grammars)
    for text in texts:
        best = [float("inf")] * len(grammars)
        for _ in range(TURNS):
            for i, grammar in enumerate(grammars):
                best[i] = min(best[i], _best(lambda g=grammar, t=text: extract(Transcript(text=t), g), 1))  # type: ignore[misc]
        total = [sum(pair) for pair in zip(total, best, strict=True)]
    return [seconds * WORDS / words for seconds in total]


def _rules(grammar: Grammar, texts: list[str], words: int) -> Iterator[str]:
    """What rules cost: the same words with a share of the rules, and with copies of them."""
    yield "as the number of rules grows, words the same:"
    for label, rules in (
        ("none", ()),
        ("half", grammar.rules[::2]),
        ("all", grammar.rules),
        ("all, twice", _copies(grammar, 2)),
        ("all, four times", _copies(grammar, 4)),
    ):
        part = replace(grammar, rules=tuple(rules))
        seconds = _a_note(lambda t, g=part: extract(Transcript(text=t), g), texts, words, 5)  # type: ignore[misc]
        yield f"  {label:<30} {len(rules):5} rules  {seconds * 1e3:8.2f} ms"


def _copies(grammar: Grammar, times: int) -> list[Any]:
    return [replace(rule, name=f"{rule.name} ({n})") for n in range(times) for rule in grammar.rules]


def _notes_a_second(texts: list[str]) -> Iterator[str]:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for i in range(NOTES):
            (folder / f"n{i:04}.txt").write_text(texts[i % len(texts)], encoding="utf-8")
        jobs = [Job(note, folder / "out" / f"{note.case_id}.json") for note in find_notes([name])]
        for cores in sorted({1, usable_cores()}):
            started = time.perf_counter()
            done = list(read_all(jobs, Settings(), cores=cores))
            seconds = time.perf_counter() - started
            assert all(outcome.error is None for outcome in done)
            yield f"file to file, processes: {cores:<8} {len(done) / seconds:8.0f} notes a second"


def _start_up() -> Iterator[str]:
    python = sys.executable
    for label, command in (
        ("Python alone", [python, "-c", "pass"]),
        ("import spacy alone", [python, "-c", "import spacy"]),
        ("extractor --help", [python, "-m", "extractor", "--help"]),
        ("extractor explain SENTENCE", [python, "-m", "extractor", "explain", SENTENCE]),
    ):
        wall = min(_seconds(command, time.perf_counter) for _ in range(3))
        processor = min(_seconds(command, _childrens_time) for _ in range(3))
        yield f"start-up: {label:<27} {wall:5.2f} s by the clock, {processor:5.2f} s of processor"


def _seconds(command: list[str], clock: Callable[[], float]) -> float:
    started = clock()
    subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
    return clock() - started


def _childrens_time() -> float:
    used = os.times()
    return used.children_user + used.children_system


def _memory() -> Iterator[str]:
    """The most memory that one command takes, as Linux tells it of a process."""
    note = sorted(demo_folder().glob("*.txt"))[0]
    tell = "sys.stderr.write(open('/proc/self/status').read().split('VmHWM:')[1].split()[0])"
    for label, args in (("explain", ["explain", SENTENCE]), ("extract, one note", ["extract", str(note), "--json"])):
        code = f"import sys\nfrom extractor.cli import main\nmain({args!r})\n{tell}"
        command = [sys.executable, "-c", code]
        done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, check=True)
        yield f"peak memory: {label:<20} {int(done.stderr) / 1024:8.0f} MiB"
