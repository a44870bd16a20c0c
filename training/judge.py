"""Judge the packaged recognizer, plain against adapted, on sound and text that training never saw.

    python -m training.judge OUT --notes NOTES... [--scorer score.py --gold DIR] [--noises 10]

NOTES are YAML files with `id` and `note`. Prints word, trade-word and number errors by voice and noise, the same on
recorded people and everyday speech with the trade words heard where none was said, words heard in silence and noise,
how far word times lie from known ones, and, with a scorer, the score of the records read from the sound. Recognized
text is kept in OUT: a second run only does what is missing.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from collections import defaultdict
from pathlib import Path

import numpy as np
import soundfile

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record.files import write_record
from extractor.speech.model import SpeechModel, load_model
from extractor.speech.recognize import recognize
from extractor.speech.transcript import Transcript
from training.exam import Item, dictations, everyday, human, nothing
from training.prompts import prompts
from training.score import Score, align, normal, score, stray_stops, trade_words

KINDS = ("plain", "adapted")


def hear(items: list[Item], out: Path, models: dict[str, SpeechModel]) -> dict[tuple[str, Path], Transcript]:
    """Recognize everything with both models, keeping what is done."""
    heard: dict[tuple[str, Path], Transcript] = {}
    for kind, model in models.items():
        folder = out / model.identifier.replace("@", "-").replace("+", "-")
        folder.mkdir(exist_ok=True)
        for item in items:
            kept = folder / f"{item.group}-{item.path.parent.name}-{item.path.stem}.json"
            if not kept.exists():
                kept.write_text(recognize(item.path, model=model).model_dump_json(), encoding="utf-8")
            heard[kind, item.path] = Transcript.model_validate_json(kept.read_text(encoding="utf-8"))
    return heard


def table(items: list[Item], heard: dict[tuple[str, Path], Transcript], trade: frozenset[str]) -> list[str]:
    """A line for each group, voice and noise: percent of words, trade words, numbers wrong; trade words inserted."""
    sums: dict[tuple[str, str], dict[str, Score]] = defaultdict(lambda: defaultdict(Score))
    for item in items:
        for kind in KINDS:
            found = score(item.text or "", heard[kind, item.path].text, trade)
            for key in ((item.group, f"{item.voice} {item.noise}"), (item.group, f"all {item.noise}")):
                sums[key][kind] = sums[key][kind] + found
    lines = [f"{'':44}{'words':>7}   plain: words trade numbers +trade   adapted: words trade numbers +trade"]
    for (group, name), by in sorted(sums.items()):
        plain, adapted = by["plain"], by["adapted"]
        lines.append(
            f"{group + ': ' + name:44}{plain.words:7}   {plain.rates():>23} {plain.inserted_trade:5}"
            f"      {adapted.rates():>23} {adapted.inserted_trade:5}"
        )
    return lines


def word_times(items: list[Item], heard: dict[tuple[str, Path], Transcript], kind: str) -> str:
    """How far the beginnings of rightly heard words lie from the known ones."""
    apart: list[float] = []
    for item in (i for i in items if i.begins):
        transcript = heard[kind, item.path]
        mine = [
            (w, word.start_s or 0.0)
            for word in transcript.words
            for w in normal(transcript.text[word.start : word.end])
        ]
        known = [(w, at) for text, at in item.begins for w in normal(text)]
        i = j = 0
        for a, b in align([w for w, _ in known], [w for w, _ in mine]):
            if a is not None and a == b:
                apart.append(abs(known[i][1] - mine[j][1]))
            i, j = i + (a is not None), j + (b is not None)
    if not apart:
        return "no words with known times"
    return f"{len(apart)} words, median {np.median(apart):.3f} s, 90% within {np.quantile(apart, 0.9):.3f} s"


def agreement(items: list[Item], heard: dict[tuple[str, Path], Transcript], trade: frozenset[str]) -> str:
    """Where nobody wrote down what is said: how much the two differ, and the trade words that each hears."""
    both = [(heard["plain", i.path].text, heard["adapted", i.path].text) for i in items if i.text is None]
    total = sum((score(p, a, trade) for p, a in both), Score())
    counts = (
        [sum(w in trade for text in side for w in normal(text)) for side in zip(*both, strict=True)] if both else [0, 0]
    )
    apart = 100 * total.errors / max(1, total.words)
    return f"{total.words} words by plain, {apart:.1f}% otherwise; trade words {counts[0]} and {counts[1]}"


def records(items: list[Item], heard: dict[tuple[str, Path], Transcript], options: argparse.Namespace) -> list[str]:
    """Score the records read from the sound, by noise, speaker of each note, and model."""
    grammar, lines = load_grammar(), []
    for noise, turn in sorted({(i.noise, i.turn) for i in items if i.note}):
        chosen = [i for i in items if i.note and (i.noise, i.turn) == (noise, turn)]
        for kind in KINDS:
            folder = options.out / "records" / f"{noise.replace(' ', '')}-{turn}-{kind}"
            gold = options.out / "records" / "gold"
            for place in (folder, gold):
                place.mkdir(parents=True, exist_ok=True)
            for item in chosen:
                write_record(extract(heard[kind, item.path], grammar, case_id=item.note), folder / f"{item.note}.json")
                (gold / f"{item.note}.yaml").write_bytes((options.gold / f"{item.note}.yaml").read_bytes())
            done = subprocess.run(
                [sys.executable, str(options.scorer), str(gold), str(folder)],
                capture_output=True,
                text=True,
                check=True,
            )
            lines += [
                f"records, noise {noise}, speaker {turn + 1}, {kind}:",
                *("  " + row for row in done.stdout.splitlines()),
            ]
    return lines


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("out", type=Path)
    parser.add_argument("--notes", type=Path, nargs="+", required=True)
    parser.add_argument("--noises", type=float, nargs="*", default=[10.0], help="decibels below the voice")
    parser.add_argument("--scorer", type=Path)
    parser.add_argument("--gold", type=Path)
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    trade = trade_words()
    items = human(options.out / "human") + prompts(options.out / "human") + nothing(options.out) + everyday(options.out)
    items += dictations(options.out, options.notes, tuple(options.noises))
    models = {"plain": load_model(plain=True), "adapted": load_model()}
    heard = hear(items, options.out, models)
    lines = table([i for i in items if i.text], heard, trade)
    for item in (i for i in items if i.group == "nothing"):
        lines.append(
            f"{'nothing: ' + item.voice:44} words heard: "
            + ", ".join(f"{kind} {len(heard[kind, item.path].words)}" for kind in KINDS)
        )
    lines.append("meetings: " + agreement(items, heard, trade))
    for noise in sorted({i.noise for i in items if i.note}):
        told = [i for i in items if i.note and i.noise == noise]
        counts = (f"{kind} {sum(stray_stops(i.text or '', heard[kind, i.path].text) for i in told)}" for kind in KINDS)
        lines.append(f"full stops inside sentences, noise {noise}: {', '.join(counts)}")
    lines += [f"word times, {kind}: {word_times(items, heard, kind)}" for kind in KINDS]
    if options.scorer and options.gold:
        lines += records(items, heard, options)
    seconds = sum(soundfile.info(i.path).duration for i in items)
    lines.append(
        f"{seconds / 60:.1f} minutes of sound; " + ", ".join(f"{k} is {m.identifier}" for k, m in models.items())
    )
    report = "\n".join(lines) + "\n"
    (options.out / "report.txt").write_text(report, encoding="utf-8")
    sys.stdout.write(report)
    (options.out / "heard.json").write_text(
        json.dumps({f"{k} {p.name}": t.text for (k, p), t in heard.items()}, indent=1), encoding="utf-8"
    )


if __name__ == "__main__":
    main()
