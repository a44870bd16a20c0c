"""Whisper base in PyTorch, in the layout of CTranslate2's `model.bin`, with low-rank deltas on its linear layers.

The layout fuses queries, keys and values of self-attention in `linear_0`, and keys and values of cross-attention in
`linear_1`. The forward pass was compared with CTranslate2's forced alignment token by token.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np
import torch
import torch.nn.functional as F
from torch import Tensor, nn

from extractor.speech.weights import find_tensors, view

RATE = 16_000
HEADS = 8
LAYERS = 6
WIDTH = 512
SOT, EOT, ENGLISH, TRANSCRIBE, PREVIOUS, NO_SPEECH, NO_TIMES, TIME_0 = (
    50258,
    50257,
    50259,
    50359,
    50361,
    50362,
    50363,
    50364,
)


class Whisper:
    """The model's frozen weights and its trainable deltas."""

    def __init__(self, blob: bytes, device: str = "cuda") -> None:
        """Read the weights of a `model.bin`."""
        self.device = device
        self.on = True
        self.weights: dict[str, Tensor] = {}
        for name, tensor in find_tensors(blob).items():
            if tensor.shape:
                self.weights[name] = torch.tensor(np.array(view(blob, tensor)).astype(np.float32)).to(device)
        self.deltas: dict[str, tuple[nn.Parameter, nn.Parameter]] = {}
        self.scale = 2.0

    def add_deltas(self, rank: int, parts: Iterable[str]) -> list[nn.Parameter]:
        """Put deltas of a rank on each linear layer whose name begins with one of `parts`; return what is trained."""
        for name in sorted(self.weights):
            if "/linear_" in name and name.endswith("/weight") and name.startswith(tuple(parts)):
                out, into = self.weights[name].shape
                a = nn.Parameter(torch.randn(rank, into, device=self.device) / math.sqrt(into))
                self.deltas[name] = (a, nn.Parameter(torch.zeros(out, rank, device=self.device)))
        return [p for pair in self.deltas.values() for p in pair]

    def take(self, factors: dict[str, Any]) -> None:
        """Go on from the deltas of an earlier run (as `deltas.npz` holds them)."""
        with torch.no_grad():
            for name, (a, b) in self.deltas.items():
                a.copy_(torch.tensor(factors[f"{name}|A"].astype(np.float32)))
                b.copy_(torch.tensor(factors[f"{name}|B"].astype(np.float32)) / self.scale)

    def take_in(self, factors: dict[str, Any]) -> None:
        """Add finished deltas to the weights for good, as the program does at load."""
        for name in {key.partition("|")[0] for key in factors}:
            a, b = (torch.tensor(factors[f"{name}|{side}"].astype(np.float32)).to(self.device) for side in "AB")
            self.weights[name] = self.weights[name] + b @ a

    def factors(self, encoder_share: float = 1.0, decoder_share: float = 1.0) -> dict[str, tuple[Any, Any]]:
        """The deltas as float16 arrays, (A, B) with scale and share in B."""
        found = {}
        for name, (a, b) in self.deltas.items():
            share = self.scale * (encoder_share if name.startswith("encoder/") else decoder_share)
            found[name] = (a.detach().half().cpu().numpy(), (b * share).detach().half().cpu().numpy())
        return found

    def linear(self, x: Tensor, name: str, drop: float = 0.0) -> Tensor:
        """A linear layer with its delta."""
        weight = f"{name}/weight"
        y = F.linear(x, self.weights[weight].to(x.dtype), self.weights[f"{name}/bias"].to(x.dtype))
        if self.on and weight in self.deltas:
            a, b = self.deltas[weight]
            y = y + self.scale * F.linear(F.linear(F.dropout(x, drop) if drop else x, a.to(x.dtype)), b.to(x.dtype))
        return y

    def norm(self, x: Tensor, name: str) -> Tensor:
        """A layer norm."""
        return F.layer_norm(x.float(), (WIDTH,), self.weights[f"{name}/gamma"], self.weights[f"{name}/beta"]).to(
            x.dtype
        )

    def attend(self, q: Tensor, k: Tensor, v: Tensor, *, causal: bool) -> Tensor:
        """Multi-head attention."""

        def split(t: Tensor) -> Tensor:
            return t.view(t.shape[0], t.shape[1], HEADS, WIDTH // HEADS).transpose(1, 2)

        out = F.scaled_dot_product_attention(split(q), split(k), split(v), is_causal=causal)
        return out.transpose(1, 2).reshape(q.shape)

    def feed(self, x: Tensor, part: str, drop: float) -> Tensor:
        """The feed-forward block of a layer."""
        h = self.norm(x, f"{part}ffn/layer_norm")
        return x + self.linear(F.gelu(self.linear(h, f"{part}ffn/linear_0", drop)), f"{part}ffn/linear_1", drop)

    def encode(self, mel: Tensor, drop: float = 0.0) -> Tensor:
        """Mel features (batch, 80, frames), of 30 s or less, to encoder states (batch, frames / 2, width)."""
        w, x = self.weights, mel
        for i, stride in ((1, 1), (2, 2)):
            kernel, bias = w[f"encoder/conv{i}/weight"].to(x.dtype), w[f"encoder/conv{i}/bias"].to(x.dtype)
            x = F.gelu(F.conv1d(x, kernel, bias, padding=1, stride=stride))
        places = w["encoder/position_encodings/encodings"]
        x = x.transpose(1, 2) + places[: x.shape[2]].to(x.dtype)
        for layer in range(LAYERS):
            part = f"encoder/layer_{layer}/"
            h = self.norm(x, f"{part}self_attention/layer_norm")
            q, k, v = self.linear(h, f"{part}self_attention/linear_0", drop).chunk(3, -1)
            x = x + self.linear(self.attend(q, k, v, causal=False), f"{part}self_attention/linear_1", drop)
            x = self.feed(x, part, drop)
        return self.norm(x, "encoder/layer_norm")

    def decode(self, tokens: Tensor, states: Tensor, drop: float = 0.0) -> Tensor:
        """Logits (batch, length, vocabulary) of the next token after each."""
        w = self.weights
        table = w["decoder/embeddings/weight"].to(states.dtype)
        x = F.embedding(tokens, table) + w["decoder/position_encodings/encodings"][: tokens.shape[1]].to(states.dtype)
        for layer in range(LAYERS):
            part = f"decoder/layer_{layer}/"
            h = self.norm(x, f"{part}self_attention/layer_norm")
            q, k, v = self.linear(h, f"{part}self_attention/linear_0", drop).chunk(3, -1)
            x = x + self.linear(self.attend(q, k, v, causal=True), f"{part}self_attention/linear_1", drop)
            h = self.norm(x, f"{part}attention/layer_norm")
            q = self.linear(h, f"{part}attention/linear_0", drop)
            k, v = self.linear(states, f"{part}attention/linear_1", drop).chunk(2, -1)
            x = x + self.linear(self.attend(q, k, v, causal=False), f"{part}attention/linear_2", drop)
            x = self.feed(x, part, drop)
        return F.linear(self.norm(x, "decoder/layer_norm"), table)

    @torch.no_grad()  # type: ignore[untyped-decorator,unused-ignore]
    def greedy(self, mel: Tensor, prompt: list[int], longest: int = 220) -> list[list[int]]:
        """Most probable tokens step by step, for a quick look at the error rate while training."""
        states = self.encode(mel)
        tokens = torch.tensor([prompt] * len(mel), device=self.device)
        done = torch.zeros(len(mel), dtype=torch.bool, device=self.device)
        for _ in range(longest):
            logits = self.decode(tokens, states)[:, -1].float()
            logits[:, EOT + 1 :] = -1e9  # no special tokens, no timestamps
            step = logits.argmax(-1)
            step[done] = EOT
            tokens = torch.cat([tokens, step[:, None]], 1)
            done |= step == EOT
            if bool(done.all()):
                break
        return [[t for t in row[len(prompt) :] if t < EOT] for row in tokens.tolist()]


def mel_filters(path: Path) -> Tensor:
    """The mel filters that faster-whisper uses, saved as an array."""
    return torch.tensor(np.load(path)).float()


def features(samples: Tensor, filters: Tensor) -> Tensor:
    """Whisper's log-mel features (batch, 80, frames) of sound (batch, samples)."""
    window = torch.hann_window(400, device=samples.device)
    power = torch.stft(samples, 400, 160, window=window, return_complex=True)[..., :-1].abs() ** 2
    logs = torch.clamp(filters @ power, min=1e-10).log10()
    return (torch.maximum(logs, logs.amax((1, 2), keepdim=True) - 8) + 4) / 4
