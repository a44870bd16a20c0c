"""The pieces of a note between full stops, with what was found in each: for telling which go on with the one before."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterator, Sequence

from extractor.grammar.packs import Grammar
from extractor.language.clause_words import CONNECTORS, FINITE_RUN_ON, PAUSES, PREPOSITIONS, PRONOUNS, SENTENCE_END
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity
from extractor.language.values import value

ASKED = "?"
PLACES = frozenset({"region", "surface", "position-code", "suture-region", "suture-surface"})
"""Lists of where a suture is."""
LITTLE = frozenset({
    "the", "a", "an", "of", "in", "at", "on", "one", "ones", "and", "for", "each", "all", "both", "to",
})  # fmt: skip
"""Plain words that tell nothing in a piece of places and looks, beside those of `place-noun`."""
LEFT = frozenset({"off", "in", "from", "along", "between", "behind", "by", "at"})
"""Plain words that may follow a size that is of the thing before, beside those of `size-behind`."""
LED_IN = frozenset({"and", "so", "a", "good", "just", "plus", "of", "with"})
"""Plain words before a size that name nothing, beside those of `size-ahead`."""
SIZED = frozenset({
    "thing", "structure", "tissue", "device", "dimension", "finding", "region", "operation", "form", "stitch-noun",
    "color", "action",
})  # fmt: skip
"""Lists whose words may have sizes, or lead up to one."""
RULER = "thing:ruler"
ACTING = FINITE_RUN_ON | PRONOUNS


@value(frozen=True, slots=True)
class Piece:
    """Tokens `[start, end)` of a sentence; the token at `end` is what ends it."""

    start: int
    end: int


def pieces_of(words: Sequence[str]) -> Iterator[Piece]:
    """The sentences of a note as it was punctuated."""
    start = 0
    for i, word in enumerate(words):
        if word in SENTENCE_END:
            if i > start:
                yield Piece(start, i)
            start = i + 1
    if start < len(words):
        yield Piece(start, len(words))


class Talk:
    """The concepts and numbers of a note by place."""

    def __init__(
        self, words: Sequence[str], concepts: Sequence[Concept], quantities: Sequence[Quantity], grammar: Grammar
    ) -> None:
        """Take a note's words, and in order what was found in them."""
        self.words = words
        self.grammar = grammar
        self.little = LITTLE | grammar.plain_words("place-noun")
        self.behind = LEFT | grammar.plain_words("size-behind")
        self.ahead = LED_IN | grammar.plain_words("size-ahead")
        self.concepts = list(concepts)
        self.starts = [c.start for c in self.concepts]
        self.quantities = list(quantities)
        self.numbered = [q.start for q in self.quantities]
        self._of: dict[tuple[int, int], list[Concept]] = {}
        self._lists: dict[tuple[int, int], frozenset[str]] = {}
        self._sizes: dict[tuple[int, int], list[Quantity]] = {}

    def of(self, piece: Piece) -> list[Concept]:
        """Concepts of a piece."""
        found = self._of.get(place := (piece.start, piece.end))
        if found is None:
            first = bisect_left(self.starts, piece.start)
            found = self._of[place] = self.concepts[first : bisect_left(self.starts, piece.end)]
        return found

    def lists(self, piece: Piece) -> frozenset[str]:
        """The lists of a piece's concepts."""
        found = self._lists.get(place := (piece.start, piece.end))
        if found is None:
            found = self._lists[place] = frozenset([c.list for c in self.of(piece)])
        return found

    def sizes(self, piece: Piece) -> list[Quantity]:
        """Numbers of a piece."""
        found = self._sizes.get(place := (piece.start, piece.end))
        if found is None:
            first = bisect_left(self.numbered, piece.start)
            found = self._sizes[place] = self.quantities[first : bisect_left(self.numbered, piece.end)]
        return found

    def asked(self, piece: Piece) -> bool:
        """Whether a piece is a question."""
        return piece.end < len(self.words) and self.words[piece.end] == ASKED

    def verb(self, piece: Piece) -> bool:
        """Whether a piece has a verb, or somebody who does something."""
        return not ACTING.isdisjoint(self.words[piece.start : piece.end])

    def named(self, start: int, end: int) -> bool:
        """Whether something that has sizes is named in the tokens `[start, end)`."""
        return any(c.list in SIZED and c.key != RULER for c in self.of(Piece(start, end)))

    def whole(self, sizes: Sequence[Quantity]) -> Quantity:
        """The first size, or the last part of the product that it opens: '8 by 20 millimeters'."""
        first = sizes[0]
        return first if first.product is None else [q for q in sizes if q.product == first.product][-1]

    def free(self, q: Quantity, piece: Piece) -> bool:
        """Whether what follows a size does not say what it is of."""
        i = q.end
        if i >= piece.end or self.dimension_at(i):
            return True
        return self.words[i] in PAUSES or self.words[i] in self.behind or self.words[i] in CONNECTORS

    def dimension_at(self, i: int) -> bool:
        """Whether a dimension is named at a token."""
        first = bisect_left(self.starts, i)
        return any(c.start == i and c.list == "dimension" for c in self.concepts[first : first + 4])

    def opening(self, piece: Piece) -> Piece:
        """A piece up to its first pause."""
        for i in range(piece.start, piece.end):
            if self.words[i] in PAUSES:
                return Piece(piece.start, i)
        return piece

    def parts(self, piece: Piece) -> Iterator[Piece]:
        """What the commas of a piece part."""
        start = piece.start
        for i in range(piece.start, piece.end):
            if self.words[i] in PAUSES:
                yield Piece(start, i)
                start = i + 1
        yield Piece(start, piece.end)

    def only(self, piece: Piece, lists: Collection[str]) -> bool:
        """Whether a piece holds words of these lists, and besides only little words."""
        inside = {i for c in self.of(piece) if c.list in lists for i in range(c.start, c.end)}
        return all(
            i in inside or self.words[i] in self.little or self.words[i] in PAUSES or self.words[i] in PREPOSITIONS
            for i in range(piece.start, piece.end)
        )
