"""Pieces that head what is told behind them: 'Superior surface. Posterior white, anterior green.'.

A place alone may close the piece before it as well ('Purple, native, anterior. Superior surface.'): it heads the next
where that tells sutures at places of the other kind, and where nothing before lacks it, or a list is headed so already.
"""

from __future__ import annotations

from collections.abc import Sequence

from extractor.language.talk import Piece, Talk

KINDS = ("surface", "region")


def place_headings(talk: Talk, pieces: Sequence[Piece]) -> frozenset[int]:
    """The first tokens of pieces that head the next."""
    found = set()
    in_force, before = "", frozenset[str]()
    for piece, after in zip(pieces, pieces[1:], strict=False):
        lists = talk.lists(piece)
        kind = next((k for k in KINDS if lists & {*KINDS} == {k} and talk.only(piece, KINDS)), "")
        if kind:
            told = talk.lists(after)
            heads = "color" in told and kind not in told and bool(told & {*KINDS})
            if heads and (in_force == kind or "color" not in before):
                found.add(piece.start)
                in_force = kind
            elif kind == "region" and kind not in told and "technique" in told:
                found.add(piece.start)  # 'Anterior horn. One number zero, outside-in.'
        elif "color" not in lists:
            in_force = ""
        before = lists
    return frozenset(found)
