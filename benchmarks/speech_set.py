"""Speak gold notes, recognize them, and score audio to record, with and without the second reading.

    python -m benchmarks.speech_set OUT GOLD_DIR [GOLD_DIR ...] --score ../shared/score.py

Each note is spoken in one voice (`--every`: in all), clean and in noise at 15 and 5 dB; voices and kinds of noise take
turns. With `--cores` so many recordings are made and read at once, each on one core. Notes whose style says that they
were typed are left out: nobody says them so. What was made is kept under OUT and not made again, so a run that was
stopped goes on where it was; delete OUT/*.json after a change of the recognizer, OUT/records after one of the reading.
`--figures` only scores.

"as written" is the note read from its own words; "by sound" counts the silent errors that this reading does not make.
"""

from __future__ import annotations

import argparse
import importlib.util
import json
import multiprocessing
import os
import re
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import replace
from functools import lru_cache
from itertools import repeat
from pathlib import Path
from types import ModuleType
from typing import Any

import yaml

from benchmarks.speech_sound import LEVELS, VOICES, Spoken, make, recordings
from extractor.grammar.packs import Grammar, load_grammar
from extractor.pipeline import extract
from extractor.record import record_json
from extractor.second_reading import second_reading
from extractor.speech.files import read_transcript, write_transcript
from extractor.speech.model import SpeechModel, load_model, words_to_expect
from extractor.speech.recognize import recognize
from extractor.speech.transcript import Transcript

Record = dict[str, Any]
WAYS = ("without", "with")
TEXT = "text"
"""The third way: the note read from its own words, which shows what is not the sound's fault."""


def run_all(chosen: Sequence[Spoken], out: Path, *, device: str = "cpu", cores: int = 1) -> Iterator[Spoken]:
    """Make what is missing of all recordings; gives each as it is done.

    Args:
        chosen: the recordings.
        out: folder of all that is made.
        device: of the recognizer.
        cores: processes at once, each with a recognizer of its own on one core; 1 for one on all cores.
    """
    out.mkdir(parents=True, exist_ok=True)
    if cores == 1:
        model, grammar = load_model(device=device), load_grammar()
        for spoken in chosen:
            run_one(spoken, out, model, grammar)
            yield spoken
        return
    with ProcessPoolExecutor(cores, multiprocessing.get_context("spawn")) as pool:
        # The sound without noise first: other levels are made of it, and no two processes may write one file.
        clean = {(s.note, s.voice): replace(s, level="clean") for s in chosen}
        list(pool.map(make, clean.values(), repeat(out)))
        waiting = {pool.submit(_run_alone, spoken, out, device): spoken for spoken in chosen}
        for done in as_completed(waiting):
            done.result()
            yield waiting[done]


def _run_alone(spoken: Spoken, out: Path, device: str) -> None:
    run_one(spoken, out, _model(device), load_grammar())


@lru_cache(maxsize=1)
def _model(device: str) -> SpeechModel:
    return load_model(device=device, threads=1)


def run_one(spoken: Spoken, out: Path, model: SpeechModel, grammar: Grammar) -> None:
    """Make what is missing of one recording: its sound, transcript, two records and the seconds they took."""
    sound = make(spoken, out)
    heard = out / f"{spoken.name}.json"
    cost = out / f"{spoken.name}.cost.json"
    seconds: dict[str, float] = json.loads(cost.read_text(encoding="utf-8")) if cost.exists() else {}
    if not heard.exists():
        before = time.process_time()
        write_transcript(recognize(sound, model=model, hotwords=words_to_expect(model, grammar)), heard)
        seconds["recognize"] = time.process_time() - before
    transcript = read_transcript(heard)
    paths = {way: out / "records" / way / f"{spoken.name}.json" for way in WAYS}
    if not all(path.exists() for path in paths.values()):
        record = extract(transcript, grammar, case_id=spoken.note.stem)
        before = time.process_time()
        again = second_reading(record, sound, transcript, model, grammar)
        seconds["second"] = time.process_time() - before
        for way, case in zip(WAYS, (record, again), strict=True):
            write(paths[way], record_json(case))
    if not (text := _text_path(spoken, out)).exists():
        words = Transcript(text=_gold(spoken)["note"])
        write(text, record_json(extract(words, grammar, case_id=spoken.note.stem)))
    write(cost, json.dumps(seconds))


def write(path: Path, text: str) -> None:
    """Write a file, whole or not at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_suffix(".part")
    part.write_text(text, encoding="utf-8")
    os.replace(part, path)


def figures(chosen: list[Spoken], out: Path, scorer: ModuleType) -> Iterator[str]:
    """Lines of figures: silent errors and flags a note, by level and way, and the cost of the second reading."""
    yield f"{'':16}{'notes':>6}{'silent':>9}{'by sound':>10}{'flags':>8}{'flags, clean notes':>20}{'primary F1':>12}"
    texts = {s.note.stem: (_gold(s), _text_record(s, out)) for s in chosen if _text_path(s, out).exists()}
    if texts:
        yield _line("as written", [counts_of(gold, record, record, scorer) for gold, record in texts.values()])
    wrong: Counter[str] = Counter()
    for level in LEVELS:
        there = [s for s in chosen if s.level == level and all(_path(s, out, way).exists() for way in WAYS)]
        if not there:
            continue
        for way in WAYS:
            of = [(_gold(s), _record(s, out, way), texts[s.note.stem][1]) for s in there]
            yield _line(f"{level} {way}", [counts_of(*records, scorer) for records in of])
        for spoken in there:
            before, after = (_record(spoken, out, way) for way in WAYS)
            wrong.update(wrong_numbers(_gold(spoken), after, texts[spoken.note.stem][1], scorer))
            wrong.update(changes(_gold(spoken), before, after, scorer))
    yield (
        f"measurements read with a wrong number: {wrong['wrong']}, flagged {wrong['flagged']}, "
        f"the truth suggested first {wrong['first']}, at all {wrong['suggested']}"
    )
    yield (
        f"primary facts of the first reading that the second changed: {wrong['lost']}; added by listed repairs: "
        f"{wrong['added']}, of which right {wrong['right']}, flagged {wrong['asked']}"
    )
    paths = [path for s in chosen if (path := out / f"{s.name}.cost.json").exists()]
    costs = [json.loads(path.read_text(encoding="utf-8")) for path in paths]
    both = [c for c in costs if {"recognize", "second"} <= set(c)]
    if both:
        share = sum(c["second"] for c in both) / sum(c["recognize"] for c in both)
        yield f"second reading takes {share:.2f} of the processor time of recognition ({len(both)} recordings)"


def _line(name: str, counts: Sequence[Counter[str]]) -> str:
    total: Counter[str] = sum(counts, Counter())
    n = len(counts)
    right = 2 * total["tp"] / max(1, 2 * total["tp"] + total["fp"] + total["fn"])
    clean = total["clean_flags"] / max(1, total["clean_notes"])
    silent, sound, flags = total["silent"] / n, total["by_sound"] / n, total["flags"] / n
    return f"{name:16}{n:>6}{silent:>9.2f}{sound:>10.2f}{flags:>8.2f}{clean:>20.2f}{right:>12.3f}"


def _path(spoken: Spoken, out: Path, way: str) -> Path:
    return out / "records" / way / f"{spoken.name}.json"


def _text_path(spoken: Spoken, out: Path) -> Path:
    return out / "records" / TEXT / f"{spoken.note.stem}.json"


def _record(spoken: Spoken, out: Path, way: str) -> Record:
    record: Record = json.loads(_path(spoken, out, way).read_text(encoding="utf-8"))
    return record


def _text_record(spoken: Spoken, out: Path) -> Record:
    record: Record = json.loads(_text_path(spoken, out).read_text(encoding="utf-8"))
    return record


def _gold(spoken: Spoken) -> Record:
    gold: Record = yaml.safe_load(spoken.note.read_text(encoding="utf-8"))
    return gold


def changes(gold: Record, before: Record, after: Record, scorer: ModuleType) -> dict[str, int]:
    """Primary facts that the second reading took away, and those it added: how many, right, with a flag on them."""
    there, now = (_primary(record) for record in (before, after))
    new = [fact for fact in now if now[fact] and fact not in there]
    named = {name for flag in after["flags"] if flag["severity"] in ("stop", "review") for name in flag["facts"]}
    right = [counts_of(gold, record, record, scorer)["tp"] for record in (before, after)]
    return {
        "lost": sum(fact not in now for fact in there),
        "added": len(new),
        "right": right[1] - right[0],
        "asked": sum(now[fact] in named for fact in new),
    }


def _primary(record: Record) -> dict[str, str]:
    """The primary facts of a record, each as one text without its id and its words, and their ids."""
    apart = ("id", "evidence", "certainty", "earlier_values")
    side = [record["laterality"]] if record["laterality"] else []
    facts = [*side, *record["measurements"], *record["sutures"], *record["ties"]]
    return {json.dumps({k: v for k, v in fact.items() if k not in apart}, sort_keys=True): fact["id"] for fact in facts}


def counts_of(gold: Record, record: Record, written: Record, scorer: ModuleType) -> Counter[str]:
    """What the scorer counts in one record: silent errors, flags, and primary facts right, extra and missed.

    Silent errors are counted twice: against what was said, and ("by sound") against what is read from the same words as
    written, so that what the reading makes wrong anyway is left out.
    """
    counts, _ = scorer.score_note(gold, record)
    by_sound, _ = scorer.score_note(as_gold(written), record)
    found: Counter[str] = Counter(silent=counts["silent"]["errors"], by_sound=by_sound["silent"]["errors"])
    found.update({key: counts["burden"][key] for key in ("flags", "clean_flags", "clean_notes")})
    for kind in scorer.PRIMARY:
        found.update({key: counts.get(kind, {}).get(key, 0) for key in ("tp", "fp", "fn")})
    return found


def as_gold(record: Record) -> Record:
    """A record's primary facts, as if they were what was said."""
    side = record["laterality"]
    told = ("what", "value", "low", "high", "unit", "site", "role")
    measured = [{key: m[key] for key in told if m[key] is not None} for m in record["measurements"]]
    sutures = [{key: s[key] for key in ("tissue", "region", "surface")} for s in record["sutures"]]
    facts = {"measurements": measured, "sutures": sutures, "ties": [tie["between"] for tie in record["ties"]]}
    return {"facts": facts | ({"laterality": side["value"]} if side else {})}


def wrong_numbers(gold: Record, record: Record, written: Record, scorer: ModuleType) -> dict[str, int]:
    """Measurements with another number than was said: how many, flagged, with the truth suggested (first).

    Only those that are read rightly from the words as written, so that the sound is to blame.
    """
    anyway = [g for kind, _, _, g in scorer.score_note(gold, written)[1] if kind == "measurements" and g]
    _, errors = scorer.score_note(gold, record)
    missed = [g for kind, how, _, g in errors if kind == "measurements" and how == "missed" and g not in anyway]
    found: Counter[str] = Counter()
    for kind, how, fact, _ in errors:
        true = next((g for g in missed if fact and g["what"] == fact["what"]), None) if kind == "measurements" else None
        if how != "extra" or true is None:
            continue
        missed.remove(true)
        if not _other_number(fact, true):  # the number is right, and what it measures misheard
            continue
        flags = [f for f in record["flags"] if fact["id"] in f["facts"] and f["severity"] in ("stop", "review")]
        named = [n for f in flags for n in re.findall(r"\d+(?:\.\d+)?", f["suggestion"] or "")]
        said = f"{next(n for key in ('value', 'high', 'low') if (n := true.get(key)) is not None):g}"
        found["wrong"] += 1
        found["flagged"] += bool(flags)
        found["suggested"] += said in named
        found["first"] += said in named[:1]
    return found


def _other_number(fact: Record, true: Record) -> bool:
    told, said = ([fact.get(key) for key in ("value", "low", "high")] for fact in (fact, true))
    return told != said


def load_scorer(path: Path) -> ModuleType:
    """The scorer, loaded from its file."""
    spec = importlib.util.spec_from_file_location("scorer", path)
    if spec is None or spec.loader is None or not path.is_file():
        sys.exit(f"{path}: no such scorer; give its place with --score")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def main(arguments: list[str] | None = None) -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("out", type=Path)
    parser.add_argument("gold", type=Path, nargs="+", help="folders of gold notes, or notes")
    parser.add_argument("--score", type=Path, default=Path("../shared/score.py"))
    parser.add_argument("--voices", nargs="+", default=list(VOICES), choices=list(VOICES))
    parser.add_argument("--levels", nargs="+", default=list(LEVELS), choices=list(LEVELS))
    parser.add_argument("--every", action="store_true", help="every note in every voice")
    parser.add_argument("--figures", action="store_true", help="make nothing, score what is there")
    parser.add_argument("--device", default="cpu", choices=("cpu", "cuda"))
    parser.add_argument("--cores", type=int, default=1, help="recordings made and read at once, each on one core")
    options = parser.parse_args(arguments)
    notes = [note for given in options.gold for note in (sorted(given.glob("*.yaml")) if given.is_dir() else [given])]
    notes = [note for note in notes if "typed" not in yaml.safe_load(note.read_text(encoding="utf-8")).get("style", "")]
    chosen = list(recordings(notes, options.voices, options.levels, every=options.every))
    if not options.figures:
        done = run_all(chosen, options.out, device=options.device, cores=options.cores)
        for number, spoken in enumerate(done, 1):
            sys.stdout.write(f"\r{number}/{len(chosen)} {spoken.name:40}")
            sys.stdout.flush()
        sys.stdout.write("\n")
    for line in figures(chosen, options.out, load_scorer(options.score)):
        sys.stdout.write(line + "\n")


if __name__ == "__main__":
    main()
