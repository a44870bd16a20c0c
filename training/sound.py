"""Speak the training text.

One Opus file a session, and `sound.jsonl` saying who speaks it and when each sentence begins.

python -m training.sound OUT --notes 220 # text and all sound
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from itertools import groupby
from pathlib import Path
from random import Random

import numpy as np
import soundfile
from numpy.typing import NDArray

from training.breath import MARK, hesitate, pause_s, pieces
from training.texts import Line, everyday_numbers, own_lines, plain_lines, read_material, sayable, trade_lines
from training.voices import RATE, Voice, any_voice, speak

GAP_S = 0.3
LONGEST = 10
"""Sentences of one note in one voice; the next ones are another's, so that more voices are heard."""
SEED = 5
WORDNET = tuple(Path("/usr/share/wordnet") / f"data.{kind}" for kind in ("noun", "verb", "adj", "adv"))


def training_text(notes: int, plain: int, seed: int = SEED, own: tuple[Path, ...] = ()) -> list[list[Line]]:
    """All sessions of the training text: trade and everyday, a session a speaker.

    Args:
        notes: how many notes are drawn.
        plain: how many everyday sentences.
        seed: of the drawing.
        own: files of notes whose sentences are said as well.
    """
    draw = Random(seed)
    lines = list(trade_lines(read_material(), draw, notes))
    lines += own_lines(own, draw)
    lines += plain_lines(list(WORDNET), draw, plain)
    lines += everyday_numbers(draw, plain // 10)
    sessions: list[list[Line]] = []
    for name, group in groupby(lines, key=lambda line: line.session):
        whole = list(group)
        for part, at in enumerate(range(0, len(whole), LONGEST)):
            sessions.append(
                [
                    replace(line, session=f"{name}-{part}", said=hesitate(line.said, draw) if line.trade else line.said)
                    for line in whole[at : at + LONGEST]
                ]
            )
    draw.shuffle(sessions)
    return sessions


def cast(sessions: list[list[Line]], seed: int = SEED) -> list[Voice]:
    """A voice for each session."""
    draw = Random(seed + 1)
    return [any_voice(draw) for _ in sessions]


def speak_broken(voice: Voice, texts: list[str], draw: Random) -> list[NDArray[np.float32]]:
    """Speak sentences, silent where they are marked to pause."""
    cut = [pieces(sayable(text), draw) for text in texts]
    spoken = iter(speak(voice, [piece for row in cut for piece in row]))
    whole = []
    for row in cut:
        parts = [next(spoken)]
        for _ in row[1:]:
            parts += [np.zeros(int(pause_s(draw) * RATE), np.float32), next(spoken)]
        whole.append(np.concatenate(parts))
    return whole


def speak_session(folder: Path, voice: Voice, lines: list[Line], form: str = "opus") -> dict[str, object]:
    """Speak one session into `folder`; returns its entry in `sound.jsonl`."""
    path = folder / f"{lines[0].session}.{form}"
    entry_path = path.with_suffix(".json")
    if entry_path.exists():
        found: dict[str, object] = json.loads(entry_path.read_text(encoding="utf-8"))
        return found
    gap, draw = np.zeros(int(GAP_S * RATE), np.float32), Random(lines[0].session)
    parts, said, at = [gap], [], len(gap)
    for line, samples in zip(lines, speak_broken(voice, [line.said for line in lines], draw), strict=True):
        if len(samples) > RATE // 4:
            spoken = sayable(line.said.replace(MARK, ""))
            said.append({"text": line.written, "said": spoken, "from": at / RATE, "to": (at + len(samples)) / RATE})
            parts += [samples, gap]
            at += len(samples) + len(gap)
    how = {"format": "OGG", "subtype": "OPUS", "compression_level": 0.94} if form == "opus" else {"subtype": "PCM_16"}
    soundfile.write(path, np.concatenate(parts), RATE, **how)
    entry: dict[str, object] = {"file": path.name, "voice": vars(voice), "trade": lines[0].trade, "lines": said}
    entry_path.write_text(json.dumps(entry), encoding="utf-8")
    return entry


def _work(task: tuple[Path, Voice, list[Line], str]) -> tuple[dict[str, object] | None, str]:
    try:
        return speak_session(*task), ""
    except Exception as error:  # one voice that fails must not end hours of work; it is counted and told
        return None, f"{task[1].engine}/{task[1].name}: {error}"


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("out", type=Path)
    parser.add_argument("--notes", type=int, default=220)
    parser.add_argument("--plain", type=int, default=6000, help="everyday sentences")
    parser.add_argument("--own", type=Path, nargs="*", default=[], help="notes (YAML) whose sentences are said as well")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--engines", help="only these, comma between")
    parser.add_argument("--part", default="0/1", help="which part of how many, e.g. 0/2")
    parser.add_argument("--form", choices=("opus", "wav"), default="opus", help="wav is quicker and larger")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    sessions = training_text(options.notes, options.plain, options.seed, tuple(options.own))
    part, of = map(int, options.part.split("/"))
    voices = cast(sessions, options.seed)
    tasks = [(options.out, voice, lines, options.form) for voice, lines in zip(voices, sessions, strict=True)]
    if options.engines:
        tasks = [task for task in tasks if task[1].engine in options.engines.split(",")]
    tasks = tasks[part::of]
    failed: list[str] = []
    with ProcessPoolExecutor(options.jobs) as pool:
        for number, (_, problem) in enumerate(pool.map(_work, tasks)):
            failed += [problem] if problem else []
            if number % 50 == 0:
                sys.stdout.write(f"{number}/{len(tasks)}\n")
                sys.stdout.flush()
    entries = [path.read_text(encoding="utf-8") for path in sorted(options.out.glob("*.json"))]
    (options.out / "sound.jsonl").write_text("\n".join(entries) + "\n", encoding="utf-8")
    sys.stdout.write(f"{len(entries)} sessions, {len(failed)} failed {failed[:3]}\n")


if __name__ == "__main__":
    main()
