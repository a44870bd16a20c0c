"""Train the deltas on a GPU.

    python -m training.train SOUND OUT --rank 32 --encoder-rank 16

SOUND is what `training.sound` made, OUT the folder for `deltas.npz` and `run.json` (settings, data hashes, losses).
Besides PyTorch it needs numpy, soundfile and tokenizers (requirements in README.md). Windows of up to 30 s are laid
out anew each epoch from the sentences of a session; rooms, microphones and noises are drawn on the GPU. On everyday
speech the adapted model is also held to the plain one's own probabilities. What is written is a share of what was
learnt: an average with the plain weights kept recorded people as they were, at little cost in the trade's words
(README.md has the figures).
"""

from __future__ import annotations

import argparse
import hashlib
import json
import math
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import soundfile
import torch
from tokenizers import Tokenizer
from torch import Tensor

from extractor.speech.weights import packaged_weights, side_files
from training.loss import IGNORED, Made, Pull, losses, token_weights
from training.rooms import lay_over, reverberate, room_noise, through_microphone
from training.whisper import (
    ENGLISH,
    EOT,
    NO_SPEECH,
    NO_TIMES,
    PREVIOUS,
    RATE,
    SOT,
    TIME_0,
    TRANSCRIBE,
    Whisper,
    mel_filters,
)

WINDOW = 30 * RATE
Levels = tuple[Callable[[Random], float], ...]
LEVELS: Levels = (
    lambda draw: 60.0,
    lambda draw: draw.uniform(0, 12),
    lambda draw: draw.uniform(4, 14),
    lambda draw: draw.uniform(10, 30),
)
"""Decibels of noise below the voice, each as often as the others: none to speak of, loud, middling, quiet."""
LOUD: Levels = (*LEVELS, lambda draw: draw.uniform(-1, 8))
"""The same, and as often one that is hard for people, too."""


@dataclass
class Sound:
    """All speech end to end, and the sentences of each session as (text, first sample, last sample)."""

    samples: Tensor
    sessions: list[list[tuple[str, int, int]]]
    trade: list[bool]
    hours: float


@dataclass
class Window:
    """One training example: pieces of sound with their place in the window, and tokens."""

    pieces: list[tuple[int, int, int]] = field(default_factory=list)
    tokens: list[int] = field(default_factory=list)
    labels: list[int] = field(default_factory=list)
    trade: bool = True


def read_sound(folder: Path, device: str) -> Sound:
    """Read every session that `sound.jsonl` lists."""
    parts, sessions, trade, at = [], [], [], 0
    entries = [json.loads(row) for row in (folder / "sound.jsonl").read_text(encoding="utf-8").splitlines()]
    with ThreadPoolExecutor() as pool:
        read = list(pool.map(lambda entry: soundfile.read(folder / entry["file"], dtype="int16"), entries))
    for entry, (samples, rate) in zip(entries, read, strict=True):
        if rate != RATE or not entry["lines"]:
            continue
        parts.append(samples)
        lines = [(s["text"], at + round(s["from"] * RATE), at + round(s["to"] * RATE)) for s in entry["lines"]]
        sessions.append([line for line in lines if line[2] - line[1] < 25 * RATE])
        trade.append(entry["trade"])
        at += len(samples)
    return Sound(torch.tensor(np.concatenate(parts)).to(device), sessions, trade, at / RATE / 3600)


def lay_out(sound: Sound, numbers: list[int], draw: Random, *, steady: bool = False) -> list[tuple[list[Any], bool]]:
    """Lay sessions out in windows: lists of (sentence, place of its first sample), cut off at 30 s now and then."""
    windows: list[tuple[list[Any], bool]] = []
    for number in numbers:
        lines, i = sound.sessions[number], 0
        while i < len(lines):
            place = int(RATE * (0.1 if steady else draw.uniform(0, 0.6)))
            most = 27 if steady else draw.choice([8, 15, 22, 28, 28, 28, 31, 31])
            row: list[Any] = []
            while i < len(lines):
                length = lines[i][2] - lines[i][1]
                if row and place + length > most * RATE and not (most > 30 and place < WINDOW - RATE):
                    break
                row.append((lines[i], place))
                place += length + int(
                    RATE * (0.25 if steady else draw.choice([draw.uniform(0.05, 0.4), draw.uniform(0.3, 1.2)]))
                )
                if place > WINDOW:  # a sentence cut off by the end of the window is said again in the next
                    i += 0 if row[0][0] is not lines[i] else 1
                    break
                i += 1
            windows.append((row, sound.trade[number]))
    return windows


def example(
    row: list[Any], trade: bool, tokenizer: Tokenizer, hints: list[str], draw: Random, *, steady: bool = False
) -> Window:
    """Tokens and labels of a window, as Whisper was trained: with or without times, with or without words to expect."""
    window = Window(trade=trade)
    times = steady is False and draw.random() < 0.75
    body: list[int] = []
    texts: list[str] = []
    for (text, first, last), place in row:
        window.pieces.append((first, min(last, first + WINDOW - place), place))
        end = place + last - first
        whole = end <= WINDOW
        if times:
            body.append(TIME_0 + min(1500, round(place / 320)))
            if not whole:
                break
            body += [*tokenizer.encode(" " + text, add_special_tokens=False).ids, TIME_0 + min(1500, round(end / 320))]
        elif whole:
            texts.append(text)
        else:
            window.pieces.pop()
    if not times:
        body = tokenizer.encode(" " + " ".join(texts), add_special_tokens=False).ids
    before: list[int] = []
    if not steady and draw.random() < 0.35:
        words = ", ".join(draw.sample(hints, min(len(hints), draw.randint(5, 60))))
        before = [PREVIOUS, *tokenizer.encode(" " + words, add_special_tokens=False).ids[:220]]
    start = [SOT, ENGLISH, TRANSCRIBE] + ([] if times else [NO_TIMES])
    answer = [*body, EOT]
    silent = not row
    window.tokens = [*before, *start, *answer][:-1]
    labels = [IGNORED] * (len(before)) + [NO_SPEECH if silent else ENGLISH] + [IGNORED] * (len(start) - 2)
    window.labels = [*labels, *answer]
    if row and not any(text for (text, _, _), _ in row):  # nobody wrote down what is said
        window.labels = [IGNORED] * len(window.labels)
    window.tokens, window.labels = window.tokens[:448], window.labels[:448]
    return window


def batch(windows: list[Window], sound: Sound, draw: Random, *, noisy: bool, levels: Levels = LEVELS) -> Made:
    """Sound (with rooms and noise), the same sound without them, tokens, labels, and which rows are of the trade."""
    device = sound.samples.device
    x = torch.zeros(len(windows), WINDOW, device=device)
    for row, window in enumerate(windows):
        for first, last, place in window.pieces:
            length = min(last - first, WINDOW - place)
            piece = sound.samples[first : first + length].float() / 32768
            x[row, place : place + length] = piece * (draw.uniform(0.7, 1.2) if noisy else 1)
    clean = x
    if noisy:
        x = through_microphone(reverberate(x, 0.35), 0.35)
        noise = room_noise(len(windows), WINDOW, chatter(sound, *x.shape, draw), str(device))
        decibels = torch.tensor([[draw.choice(levels)(draw)] for _ in windows], device=device)
        quiet = torch.tensor([[0.0 if w.pieces else 1.0] for w in windows], device=device)
        x = lay_over(x, noise, decibels) * (1 - quiet) + quiet * noise * 10 ** -draw.uniform(0.5, 3)
        clean = clean * (1 - quiet) + quiet * x
        x = (x * torch.tensor([[10 ** draw.uniform(-1.3, 0.2)] for _ in windows], device=device)).clamp(-1, 1)
    longest = max(len(w.tokens) for w in windows)
    tokens = torch.tensor([w.tokens + [EOT] * (longest - len(w.tokens)) for w in windows], device=device)
    labels = torch.tensor([w.labels + [IGNORED] * (longest - len(w.labels)) for w in windows], device=device)
    return x, clean, tokens, labels, torch.tensor([w.trade for w in windows], device=device)


def chatter(sound: Sound, rows: int, length: int, draw: Random) -> Tensor:
    """Other people talking: three stretches of the same sound, one over the other, in each row."""
    found = torch.zeros(rows, length, device=sound.samples.device)
    for row in range(rows):
        for _ in range(3):
            at = draw.randrange(len(sound.samples) - length)
            found[row] += sound.samples[at : at + length].float() / 32768
    return found


def train(options: argparse.Namespace) -> None:
    """The whole run."""
    torch.manual_seed(options.seed)
    draw = Random(options.seed)
    started = time.time()
    blob = Path(options.model).read_bytes() if options.model else bytes(packaged_weights())
    tokenizer = Tokenizer.from_str(
        (Path(options.tokenizer).read_bytes() if options.tokenizer else side_files()["tokenizer.json"]).decode()
    )
    sound = read_sound(options.sound, "cuda")
    filters = mel_filters(options.filters).to("cuda")
    model = Whisper(blob)
    if options.onto:
        model.take_in(dict(np.load(options.onto)))
    pull = Pull(options.answer, options.hold, options.hold_states, options.hold_everyone)
    levels = LOUD if options.loud else LEVELS
    rank_parts = [
        (options.rank, ("decoder/",)),
        (options.encoder_rank, tuple(f"encoder/layer_{i}/" for i in range(options.encoder_from, 6))),
    ]
    trained = [p for rank, parts in rank_parts if rank for p in model.add_deltas(rank, parts)]
    trained = list(dict.fromkeys(trained))
    if options.start:
        model.take(dict(np.load(options.start)))
    hints = json.loads(options.hints.read_text(encoding="utf-8"))
    kept_back = set(range(0, len(sound.sessions), 30))
    rest = [i for i in range(len(sound.sessions)) if i not in kept_back]
    watched = [
        example(r, t, tokenizer, hints, draw, steady=True)
        for r, t in lay_out(sound, sorted(kept_back), Random(1), steady=True)
    ][:128]
    _tell(
        f"{sound.hours:.2f} h, {len(sound.sessions)} sessions, {sum(p.numel() for p in trained)} numbers to train, "
        f"{time.time() - started:.0f} s to read"
    )
    optimizer = torch.optim.AdamW(trained, lr=options.rate, weight_decay=0.01, betas=(0.9, 0.98))
    history: list[dict[str, float]] = []
    weights = token_weights(tokenizer, model.weights["decoder/embeddings/weight"].shape[0], options.number_weight)
    weights = weights.to("cuda")

    def watch() -> float:
        with torch.no_grad():
            found = [
                losses(model, filters, batch(watched[i : i + 32], sound, Random(i), noisy=noisy), 0, Pull())
                for i in range(0, len(watched), 32)
                for noisy in (False, True)
            ]
        return float(torch.stack(found).mean())

    step, begun = 0, time.time()
    _tell(f"loss on kept-back sessions before: {watch():.4f}")
    while (share := (time.time() - begun) / options.seconds if options.seconds else step / options.steps) < 1:
        draw.shuffle(rest)
        windows = lay_out(sound, rest, draw)
        windows += [([], True)] * (len(windows) // 40)
        draw.shuffle(windows)
        for at in range(0, len(windows) - options.batch + 1, options.batch):
            share = (time.time() - begun) / options.seconds if options.seconds else step / options.steps
            if share >= 1:
                break
            for group in optimizer.param_groups:
                group["lr"] = options.rate * min(1, (step + 1) / 40) * max(0.02, 0.5 * (1 + math.cos(math.pi * share)))
            made = batch(
                [example(r, t, tokenizer, hints, draw) for r, t in windows[at : at + options.batch]],
                sound,
                draw,
                noisy=True,
                levels=levels,
            )
            loss = losses(model, filters, made, options.drop, pull, weights)
            optimizer.zero_grad()
            loss.backward()
            torch.nn.utils.clip_grad_norm_(trained, 1.0)
            optimizer.step()
            step += 1
            if step in (20, 60) or step % 250 == 0:
                history.append(
                    {
                        "step": step,
                        "seconds": round(time.time() - begun, 1),
                        "loss": round(float(loss.detach()), 4),
                        "kept_back": round(watch(), 4),
                    }
                )
                _tell(json.dumps(history[-1]))
    history.append({"step": step, "seconds": round(time.time() - begun, 1), "kept_back": round(watch(), 4)})
    options.out.mkdir(parents=True, exist_ok=True)
    factors = model.factors(options.encoder_share, options.decoder_share)
    np.savez_compressed(
        options.out / "deltas.npz",
        **{f"{n}|{s}": m for n, pair in sorted(factors.items()) for s, m in zip("AB", pair, strict=True)},
    )
    run = {
        k: str(v) if isinstance(v, Path) else v
        for k, v in vars(options).items()
        if k not in ("model", "tokenizer", "filters", "sound", "out", "hints", "onto")
    }
    run |= {
        "hours": round(sound.hours, 2),
        "sound_sha256": hashlib.sha256((options.sound / "sound.jsonl").read_bytes()).hexdigest(),
        "steps_run": step,
        "history": history,
    }
    (options.out / "run.json").write_text(json.dumps(run, indent=1) + "\n", encoding="utf-8")
    _tell(json.dumps(history[-1]))


def _tell(text: str) -> None:
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("sound", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--model", help="model.bin, where the packages are not installed")
    parser.add_argument("--tokenizer", help="its tokenizer.json, likewise")
    parser.add_argument("--filters", type=Path, default=Path("mel.npy"), help="mel filters of faster-whisper as .npy")
    parser.add_argument(
        "--hints", type=Path, default=Path("hints.json"), help="words that a prompt may hold, a JSON list"
    )
    parser.add_argument("--rank", type=int, default=48, help="of the decoder's deltas; 0 for none")
    parser.add_argument("--encoder-rank", type=int, default=24)
    parser.add_argument("--encoder-from", type=int, default=0, help="first encoder layer that is adapted")
    parser.add_argument("--rate", type=float, default=6e-4)
    parser.add_argument("--batch", type=int, default=32)
    parser.add_argument("--steps", type=int, default=1200)
    parser.add_argument("--seconds", type=float, default=0, help="stop by the clock instead of by steps")
    parser.add_argument("--drop", type=float, default=0.05)
    parser.add_argument("--number-weight", type=float, default=2.0, help="of a number's tokens in the loss")
    parser.add_argument(
        "--hold", type=float, default=1.0, help="weight of staying with the plain model on everyday speech"
    )
    parser.add_argument("--answer", type=float, default=1.0, help="weight of the words said")
    parser.add_argument("--hold-states", type=float, default=0.0, help="the same of the encoder's states")
    parser.add_argument("--hold-everyone", action="store_true", help="hold sentences of the trade so, too")
    parser.add_argument("--loud", action="store_true", help="more of the loud noise")
    parser.add_argument("--onto", type=Path, help="deltas.npz that is taken into the weights before, for good")
    parser.add_argument("--encoder-share", type=float, default=0.5, help="how much of the encoder's deltas is kept")
    parser.add_argument("--decoder-share", type=float, default=0.8)
    parser.add_argument("--start", type=Path, help="deltas.npz of a run to go on from; its ranks must be the same")
    parser.add_argument("--seed", type=int, default=0)
    train(parser.parse_args())


if __name__ == "__main__":
    main()
