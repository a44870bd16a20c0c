"""Train the ear on a GPU: a small net that spells what the recognizer's encoder heard, frame by frame.

    python -m training.ear SOUND OUT.npz --deltas deltas.npz

The recognizer's decoder knows what is likely to be said and prefers its own error; the ear knows nothing but spelling,
so that it is a second witness (`extractor.speech.ear`). It is trained by connectionist temporal classification
(Graves et al. 2006, ICML, doi 10.1145/1143844.1143891) on the states of the adapted encoder, which stays as it is.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import math
import sys
import time
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import torch
import torch.nn.functional as F
from torch import Tensor, nn

from extractor.speech.spelling import ALPHABET, codes, spelled
from extractor.speech.weights import packaged_weights
from training.rooms import lay_over, reverberate, room_noise, through_microphone
from training.train import LEVELS, LOUD, Levels, Sound, chatter, read_sound
from training.whisper import RATE, WIDTH, Whisper, features, mel_filters

HOP = 160
LONGEST_S = 10.0
SIGNS = 1 + len(ALPHABET)
BLOCKS, KERNEL, INNER = 4, 7, 320


class Ear(nn.Module):
    """Encoder states (batch, frames, 512) to log-probabilities of signs (batch, frames, signs)."""

    def __init__(self) -> None:
        """Fresh weights."""
        super().__init__()
        self.into = nn.Linear(WIDTH, INNER)
        self.norms = nn.ModuleList(nn.LayerNorm(INNER) for _ in range(BLOCKS))
        self.convs = nn.ModuleList(nn.Conv1d(INNER, INNER, KERNEL, padding=KERNEL // 2) for _ in range(BLOCKS))
        self.out = nn.Linear(INNER, SIGNS)

    def forward(self, states: Tensor, drop: float = 0.0) -> Tensor:
        """Log-probabilities."""
        x = F.gelu(self.into(states))
        for norm, conv in zip(self.norms, self.convs, strict=True):
            x = x + F.gelu(conv(F.dropout(norm(x), drop, self.training).transpose(1, 2)).transpose(1, 2))
        found: Tensor = self.out(x).float().log_softmax(-1)
        return found

    def arrays(self) -> dict[str, Any]:
        """The weights as float16 arrays, by name."""
        return {name: p.detach().half().cpu().numpy() for name, p in self.state_dict().items()}


Line = tuple[str, int, int]
"""What is said, first sample, last sample."""


def spoken_lines(folder: Path, sound: Sound) -> list[list[Line]]:
    """The sessions' lines in the ear's spelling, in the order of `sound`; those with figures are left out."""
    entries = [json.loads(row) for row in (folder / "sound.jsonl").read_text(encoding="utf-8").splitlines()]
    entries = [entry for entry in entries if entry["lines"]]
    found = []
    for entry, session in zip(entries, sound.sessions, strict=True):
        said = {s["text"]: s["said"] for s in entry["lines"]}
        lines = [(said[text], first, last) for text, first, last in session]
        found.append([(spelled(s), a, b) for s, a, b in lines if not any(c.isdigit() for c in s) and spelled(s)])
    return found


def windows_of(sessions: list[list[Line]], draw: Random) -> list[list[Line]]:
    """Neighboring lines together, up to a length drawn anew for each."""
    found: list[list[Line]] = []
    for lines in sessions:
        row: list[Line] = []
        length, most = 0.0, draw.uniform(1.5, LONGEST_S)
        for line in lines:
            seconds = (line[2] - line[1]) / RATE + 0.8
            if row and length + seconds > most:
                found.append(row)
                row, length, most = [], 0.0, draw.uniform(1.5, LONGEST_S)
            if seconds <= LONGEST_S:
                row.append(line)
                length += seconds
        if row:
            found.append(row)
    return found


def laid(
    rows: list[list[Line]], sound: Sound, draw: Random, *, noisy: bool, levels: Levels = LEVELS
) -> tuple[Tensor, list[list[int]]]:
    """Sound of windows as long as the longest of them, and the signs said in each."""
    device = sound.samples.device
    places: list[list[tuple[int, Line]]] = []
    signs: list[list[int]] = []
    for row in rows:
        at, laid_out = int(RATE * draw.uniform(0.05, 0.4)), []
        for line in row:
            laid_out.append((at, line))
            at += line[2] - line[1] + int(RATE * draw.choice([draw.uniform(0.05, 0.3), draw.uniform(0.2, 0.8)]))
        places.append(laid_out)
        signs.append(codes(" ".join(line[0] for line in row)))
    ends = [p[-1][0] + p[-1][1][2] - p[-1][1][1] for p in places]
    length = (max(ends) + int(RATE * 0.3)) // (2 * HOP) * 2 * HOP
    x = torch.zeros(len(rows), length, device=device)
    for number, laid_out in enumerate(places):
        for at, (_, first, last) in laid_out:
            piece = sound.samples[first:last].float() / 32768
            x[number, at : at + len(piece)] = piece[: length - at] * (draw.uniform(0.7, 1.2) if noisy else 1)
    if noisy:
        x = through_microphone(reverberate(x, 0.35), 0.35)
        noise = room_noise(len(rows), length, chatter(sound, *x.shape, draw), str(device))
        x = lay_over(x, noise, torch.tensor([[draw.choice(levels)(draw)] for _ in rows], device=device))
        x = (x * torch.tensor([[10 ** draw.uniform(-1.3, 0.2)] for _ in rows], device=device)).clamp(-1, 1)
    return x, signs


def ear_loss(logs: Tensor, signs: list[list[int]]) -> Tensor:
    """Mean loss a sign. Windows too short for their signs count nothing."""
    frames = torch.full((len(signs),), logs.shape[1], dtype=torch.long)
    lengths = torch.tensor([len(s) for s in signs])
    targets = torch.tensor([s for row in signs for s in row], device=logs.device)
    sums = F.ctc_loss(logs.transpose(0, 1), targets, frames, lengths, reduction="sum", zero_infinity=True)
    return sums / lengths.sum()


def hear(model: Whisper, x: Tensor, filters: Tensor) -> Tensor:
    """The encoder's states."""
    with torch.no_grad(), torch.autocast("cuda", torch.bfloat16):
        return model.encode(features(x, filters).to(torch.bfloat16)).float()


def train(options: argparse.Namespace) -> None:
    """The whole run."""
    torch.manual_seed(options.seed)
    draw = Random(options.seed)
    sound = read_sound(options.sound, "cuda")
    filters = mel_filters(options.filters).to("cuda")
    model = Whisper(Path(options.model).read_bytes() if options.model else bytes(packaged_weights()))
    if options.deltas:
        model.take_in(dict(np.load(options.deltas)))
    sessions = spoken_lines(options.sound, sound)
    kept_back = windows_of(sessions[::30], Random(1))[:256]
    sessions = [lines for number, lines in enumerate(sessions) if number % 30]
    ear = Ear().to("cuda").train()
    optimizer = torch.optim.AdamW(ear.parameters(), lr=options.rate, weight_decay=0.01, betas=(0.9, 0.98))
    history: list[dict[str, float]] = []
    begun, step = time.time(), 0

    def watch() -> float:
        ear.eval()
        with torch.no_grad():
            sums = [
                ear_loss(ear(hear(model, x, filters)), signs)
                for at in range(0, len(kept_back), 64)
                for noisy in (False, True)
                for x, signs in (laid(kept_back[at : at + 64], sound, Random(at), noisy=noisy),)
            ]
        ear.train()
        return float(torch.stack(sums).mean())

    while (share := (time.time() - begun) / options.seconds) < 1:
        windows = windows_of(sessions, draw)
        windows.sort(key=lambda row: sum(b - a for _, a, b in row) + draw.uniform(0, RATE))
        batches = [windows[at : at + options.batch] for at in range(0, len(windows), options.batch)]
        draw.shuffle(batches)
        for rows in batches:
            share = (time.time() - begun) / options.seconds
            if share >= 1:
                break
            for group in optimizer.param_groups:
                group["lr"] = options.rate * min(1, (step + 1) / 100) * max(0.01, 0.5 * (1 + math.cos(math.pi * share)))
            x, signs = laid(rows, sound, draw, noisy=True, levels=LOUD if options.loud else LEVELS)
            loss = ear_loss(ear(hear(model, x, filters), options.drop), signs)
            optimizer.zero_grad()
            loss.backward()
            torch.nn.utils.clip_grad_norm_(ear.parameters(), 1.0)
            optimizer.step()
            step += 1
            if step in (20, 100) or step % 500 == 0:
                history.append({"step": step, "loss": round(float(loss.detach()), 4), "kept_back": round(watch(), 4)})
                sys.stdout.write(json.dumps(history[-1]) + "\n")
                sys.stdout.flush()
    history.append({"step": step, "kept_back": round(watch(), 4)})
    sys.stdout.write(json.dumps(history[-1]) + "\n")
    np.savez_compressed(options.out, **ear.arrays())
    run = {name: getattr(options, name) for name in ("seconds", "batch", "rate", "drop", "loud", "seed")}
    digest = hashlib.sha256(options.deltas.read_bytes()).hexdigest() if options.deltas else ""
    sound_digest = hashlib.sha256((options.sound / "sound.jsonl").read_bytes()).hexdigest()
    run |= {"hours": round(sound.hours, 2), "deltas_sha256": digest, "sound_sha256": sound_digest, "history": history}
    options.out.with_suffix(".json").write_text(json.dumps(run, indent=1) + "\n", encoding="utf-8")


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("sound", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--deltas", type=Path, help="deltas.npz that the recognizer is to have")
    parser.add_argument("--model", help="model.bin, where the packages are not installed")
    parser.add_argument("--filters", type=Path, default=Path("mel.npy"))
    parser.add_argument("--seconds", type=float, default=240)
    parser.add_argument("--batch", type=int, default=64)
    parser.add_argument("--rate", type=float, default=1.5e-3)
    parser.add_argument("--drop", type=float, default=0.1)
    parser.add_argument("--loud", action="store_true", help="more of the loud noise")
    parser.add_argument("--seed", type=int, default=0)
    train(parser.parse_args())


if __name__ == "__main__":
    main()
