"""What the deltas are trained to: the words said, and staying near what the model made of the clean sound before."""

from __future__ import annotations

from dataclasses import dataclass

import torch
import torch.nn.functional as F
from tokenizers import Tokenizer
from torch import Tensor

from training.numerals import WORDS
from training.whisper import EOT, Whisper, features

IGNORED = -100
"""Label of a token that counts nothing."""

Made = tuple[Tensor, Tensor, Tensor, Tensor, Tensor]
"""A batch: sound, the same sound without room and noise, tokens, labels, and which rows are of the trade."""


def token_weights(tokenizer: Tokenizer, count: int, heavier: float) -> Tensor:
    """Weight of each token in the loss: numbers weigh more, since few words say so much."""
    found = torch.ones(count)
    for token in range(EOT):
        text = tokenizer.decode([token]).strip().lower()
        if text.isdigit() or text in WORDS or text in ("hundred", "point"):
            found[token] = heavier
    return found


@dataclass(frozen=True)
class Pull:
    """What counts in the loss.

    Attributes:
        answer: weight of the words said.
        hold: weight of the divergence from what the model makes of the clean sound without the deltas in training.
        states: weight of the relative distance of the encoder's states from those.
        everyone: whether sentences of the trade are held so, too, or everyday ones alone.
    """

    answer: float = 1.0
    hold: float = 0.0
    states: float = 0.0
    everyone: bool = False


def losses(
    model: Whisper, filters: Tensor, made: Made, drop: float, pull: Pull, weights: Tensor | None = None
) -> Tensor:
    """Cross-entropy, and the divergence from what the model makes of the clean sound without the deltas."""
    x, clean, tokens, labels, trade = made
    rows = torch.ones_like(trade) if pull.everyone else ~trade
    held = pull.hold > 0 and bool(rows.any())
    mel = features(x, filters).to(torch.bfloat16)  # in full precision, whatever the model runs in
    unspoilt = features(clean[rows], filters).to(torch.bfloat16) if held else mel
    with torch.autocast("cuda", torch.bfloat16):
        states = model.encode(mel, drop)
        logits = model.decode(tokens, states, drop).float()
        loss = F.cross_entropy(logits.flatten(0, 1), labels.flatten(), weight=weights, ignore_index=IGNORED)
        loss = pull.answer * loss
        if held:
            model.on = False
            with torch.no_grad():
                still = model.encode(unspoilt)
                plain = model.decode(tokens[rows], still).float().log_softmax(-1)
            model.on = True
            mine = logits[rows].log_softmax(-1)
            apart = (plain.exp() * (plain - mine)).sum(-1)
            share = rows.float().mean()
            loss = loss + pull.hold * apart[labels[rows] != IGNORED].mean() * share
            if pull.states:
                off = (states[rows].float() - still.float()).pow(2).mean() / still.float().pow(2).mean()
                loss = loss + pull.states * off * share
    return loss
