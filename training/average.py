"""Average the deltas of several runs and cut the sum to a rank.

    python -m training.average OUT.npz FIRST.npz:0.3:0.425 SECOND.npz:0.5:0.5 --rank 54 --encoder-rank 27

After each file stand the shares of its encoder's and its decoder's deltas. What two runs learnt apart from each other,
and only one of them by chance, is halved (Wortsman et al. 2022, arXiv 2203.05482; from memory).
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from extractor.speech.adapt import SCALES, read_deltas

Factors = tuple[NDArray[np.floating], NDArray[np.floating]]


def cut(a: NDArray[np.floating], b: NDArray[np.floating], rank: int) -> Factors:
    """The best factors of a rank for `b @ a`, and as small as each other."""
    inner, outer = np.linalg.qr(a.T.astype(np.float64)), np.linalg.qr(b.astype(np.float64))
    left, sizes, right = np.linalg.svd(outer.R @ inner.R.T)
    root = np.sqrt(sizes[:rank])
    return (right[:rank] * root[:, None]) @ inner.Q.T, (outer.Q @ left[:, :rank]) * root


def in_bytes(ranks: NDArray[np.floating]) -> tuple[NDArray[np.int8], NDArray[np.float16]]:
    """A factor, a rank a row, in whole numbers of eight bits, with the scale of each rank: half as large a file."""
    scales = np.maximum(np.abs(ranks).max(1) / 127, 1e-6).astype(np.float16)
    return np.rint(ranks / scales.astype(np.float64)[:, None]).clip(-127, 127).astype(np.int8), scales


def average(runs: list[tuple[dict[str, Factors], float, float]], rank: int, encoder_rank: int) -> dict[str, Factors]:
    """The weighted sum of runs (deltas, the encoder's share, the decoder's), cut to ranks."""
    found: dict[str, Factors] = {}
    for name in sorted({name for deltas, *_ in runs for name in deltas}):
        encoder = name.startswith("encoder/")
        own = [run for run in runs if name in run[0]]
        a = np.concatenate([deltas[name][0] for deltas, *_ in own])
        parts = [deltas[name][1].astype(np.float64) * shares[not encoder] for deltas, *shares in own]
        found[name] = cut(a, np.concatenate(parts, 1), encoder_rank if encoder else rank)
    return found


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("out", type=Path)
    parser.add_argument("runs", nargs="+", help="FILE:encoder-share:decoder-share")
    parser.add_argument("--rank", type=int, default=54)
    parser.add_argument("--encoder-rank", type=int, default=27)
    options = parser.parse_args()
    runs = [run.rsplit(":", 2) for run in options.runs]
    read = [(read_deltas(Path(path).read_bytes()), float(encoder), float(decoder)) for path, encoder, decoder in runs]
    arrays: dict[str, Any] = {}
    for name, (a, b) in average(read, options.rank, options.encoder_rank).items():
        for side, ranks in (("A", a), ("B", b.T)):
            whole, scales = in_bytes(ranks)
            arrays[f"{name}|{side}"] = whole if side == "A" else whole.T
            arrays[f"{name}|{side}{SCALES}"] = scales
    np.savez_compressed(options.out, **arrays)
    sys.stdout.write(f"{options.out}: {options.out.stat().st_size} bytes\n")


if __name__ == "__main__":
    main()
