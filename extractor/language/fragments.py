"""Sentences that only go on with the one before, as 'Nine millimeters wide.' does after 'Slot cut in the tibia.'.

Speakers pause, and a recognizer writes a full stop for it; others dictate in such pieces. What is no thought of its own
is read as if a comma stood there. Most such pieces hold no verb: a size that nothing of its own follows, a dimension, a
place, what a suture is like, what 'and' joins on. Places and looks told in turn pair up in the order they began.
"""

from __future__ import annotations

from collections.abc import Sequence

from extractor.grammar.packs import Grammar
from extractor.language.clause_words import PAUSES, PREPOSITIONS, PRONOUNS
from extractor.language.concepts import Concept
from extractor.language.measure import QUANTITY
from extractor.language.openings import opening_of, opens_on
from extractor.language.place_headings import place_headings
from extractor.language.quantities import Quantity
from extractor.language.quantity_words import quantity_words
from extractor.language.talk import ASKED, PLACES, Piece, Talk, pieces_of

STOP = "."
SIZES = frozenset({"length", "angle", "time", "volume", "pressure", "force", "area", "share"})
DIMENSIONS = frozenset({"length", "width", "depth", "diameter", "thickness", "height", "spacing"})
"""Dimensions that name nothing themselves; 'along the rim' does."""
LOOKS = frozenset({"color", "pattern", "form", "stripe-of"})
KINDS = frozenset({"configuration", "technique", "material", "form"})
STITCHED = frozenset({"stitch-noun", "color", "form", "configuration", "technique", "suture-role"})
MOST_PIECE = 9
"""Words of a piece of places and looks at most."""
JOINS_ON = frozenset({"and", "or", "plus"})
OF_THEM = frozenset({("each", "of"), ("all", "of"), ("both", "of"), ("each", "one")})
IT = frozenset({"it", "that", "this"})
SO_IT_IS = frozenset({"'s", "is", "was"})
MEASURES = frozenset({"'s", "is", "was", "measured", "measures", "came", "comes", "runs", "ran", "makes", "made"})
NEAR, FAR, AT_ONCE = 5, 7, 1
"""Words from 'it' to the size, and from words of correction to the number; from a weak one ('no') hardly any."""
WEAK = "weak"
FEW = 3
"""Words before a place that opens a piece at most: 'in the middle of'."""
HEADING = 5
"""Words of a heading at most."""
ASKED_FOR = 9
"""Words of a question that only asks for a value at most: 'From the anterior root to the near edge?'."""
HOW = "how"
WHAT_IS = frozenset({("what", "is"), ("what", "was"), ("what", "'s")})
ECHOING = frozenset({"where", "what"})
"""Last words of a question that is told up to what it asks for."""
HEADS = PLACES | {"tissue", "suture-tissue", "thing", "dimension", "cue"}
SEWN = frozenset({"stitch-noun", "technique", "configuration"})
STYLES = frozenset({"configuration", "technique", "material", "color"})
SAME = frozenset({"same", "same-of"})


def stops_within(
    words: Sequence[str], concepts: Sequence[Concept], quantities: Sequence[Quantity], grammar: Grammar
) -> frozenset[int]:
    """Full stops that part no thought, as token numbers.

    Args:
        words: reading tokens.
        concepts: what was found in them, in order.
        quantities: the numbers among them, in order.
        grammar: the packs that read the note.
    """
    if STOP not in words and ASKED not in words:
        return frozenset()
    reader = _Reader(words, concepts, quantities, grammar)
    pieces = list(pieces_of(words))
    heads = place_headings(reader, pieces)
    found = {
        before.end
        for before, piece in zip(pieces, pieces[1:], strict=False)
        if before.end < len(words)
        and (
            (words[before.end] == STOP and piece.start not in heads and reader.goes_on(before, piece))
            or (words[before.end] == ASKED and reader.answered(before, piece))
        )
    }
    return frozenset(found | reader.paired(pieces))


class _Reader(Talk):
    """Which pieces go on with the one before."""

    def goes_on(self, before: Piece, piece: Piece) -> bool:
        """Whether a piece goes on with the one before. A question is a thought of its own."""
        if self.asked(piece):
            return False
        if self._joined(before, piece) or self._told_of_it(before, piece) or self._put_right(before, piece):
            return True
        if self._told_behind(before, piece):
            return True
        if self._styled(before, piece) or self._listed_on(before, piece) or opens_on(self, before, piece):
            return True
        if self.verb(piece):
            piece = opening_of(self, piece)
            return not self.verb(piece) and (self._sized(before, piece) or self._at_place(before, piece))
        return (
            self._sized(before, piece)
            or self._dimension_again(before, piece)
            or self._headed(before, piece)
            or self._placed(before, piece)
            or (bool(self.sizes(piece)) and self._placed(before, opening_of(self, piece)))
            or self._at_place(before, piece)
        )

    def answered(self, before: Piece, piece: Piece) -> bool:
        """'Length of the gap? Twenty.' 'Front upper? Black tape.': what is asked for, and its value at once."""
        echo = self.words[before.end - 1] in ECHOING  # 'And it is marked where? Twenty from its root.'
        asking = tuple(self.words[before.start : before.start + 2])
        how = asking[0] == HOW or echo or asking in WHAT_IS
        if before.end - before.start > ASKED_FOR or self.sizes(before) or (self.verb(before) and not how):
            return False
        heads, sizes = self.lists(before), self.sizes(piece)
        if self.asked(piece) or not (heads & HEADS or echo):
            return False
        if not sizes or any(self.words[i] not in self.ahead for i in range(piece.start, sizes[0].start)):
            opens = {c.list for c in self.of(piece) if c.start == piece.start}
            return not sizes and bool(heads & PLACES and opens & LOOKS)
        size = self.whole(sizes)
        return size.kind == QUANTITY and size.dimension in {None, *SIZES} and self.free(size, piece)

    def _joined(self, before: Piece, piece: Piece) -> bool:
        """'And twelve for the small one.' 'Each of them eight wide.': what joins on and has no verb of its own."""
        opening = tuple(self.words[piece.start : piece.start + 2])
        if opening[:1] == ("and",) and opening[1:] in {("these",), ("those",)}:
            return True
        if opening[0] not in JOINS_ON and opening not in OF_THEM:
            return False
        if any(c.list == "dimension" and c.name not in DIMENSIONS for c in self.of(piece)):
            return False
        told = "form" in self.lists(piece) or any(q.kind == "suture-size" for q in self.sizes(piece))
        joins = opening[0] in JOINS_ON or (opening in OF_THEM and not told)
        return joins and not self.verb(piece) and bool(self.of(before)) and bool(self.of(piece) or self.sizes(piece))

    def _told_of_it(self, before: Piece, piece: Piece) -> bool:
        """'It's two millimeters, and ...', 'And it's a hundred and ten long'."""
        at = piece.start + (self.words[piece.start] in JOINS_ON)
        if at + 1 >= piece.end or self.words[at] not in IT or self.words[at + 1] not in MEASURES:
            return False
        size = next(iter(self.sizes(piece)), None)
        if at == piece.start and self.sizes(before):
            return False  # it may be what was told of before that size
        if not self.named(before.start, before.end):
            return False
        near = size is not None and size.start - at <= NEAR and (size.dimension in SIZES or self.dimension_at(size.end))
        return near and bool(self.of(before)) and size is not None and self.free(size, piece)

    def _told_behind(self, before: Piece, piece: Piece) -> bool:
        """'Seventeen by eight. That's what is missing ...': a size alone, and then what it is of."""
        sizes = self.sizes(before)
        if not sizes or sizes[0].start != before.start or piece.end - piece.start < FEW:
            return False
        q = self.whole(sizes)
        it = self.words[piece.start] in IT and self.words[piece.start + 1] in SO_IT_IS
        told = q.dimension in SIZES or (q.dimension is None and q.product is not None)
        return q.kind == QUANTITY and told and it and q.end == before.end and self.named(piece.start, piece.end)

    def _put_right(self, before: Piece, piece: Piece) -> bool:
        """'Fifteen millimeters. Sorry, sixteen.': a number put right."""
        size = next(iter(self.sizes(piece)), None)
        if size is None or not self.sizes(before):
            return False
        known = quantity_words()
        at = piece.start
        while at < piece.end and ((filler := known.filler.at(self.words, at)) or self.words[at] in PAUSES):
            at = filler[1] if filler else at + 1
        corrects = known.correction.at(self.words, at)
        if corrects is None or size.kind != QUANTITY or self.named(corrects[1], size.start):
            return False  # 'Correction, the graft was cut at 19'
        return size.start - corrects[1] <= (AT_ONCE if corrects[0] == WEAK else FAR)

    def _sized(self, before: Piece, piece: Piece) -> bool:
        """'Nine millimeters wide, ten deep': a size first, and nothing of its own behind it."""
        sizes = self.sizes(piece)
        if not sizes or any(self.words[i] not in self.ahead for i in range(piece.start, sizes[0].start)):
            return False
        q = self.whole(sizes)
        bare = q.dimension is None and q.kind == QUANTITY and self.dimension_at(q.end)
        known = q.dimension in SIZES or (bare and not self._in_other_units(before))
        return known and self.free(q, piece) and self.named(before.start, before.end)

    def _in_other_units(self, piece: Piece) -> bool:
        """Whether sizes are told in centimeters: what is said without a unit after a pause need not be."""
        return any(q.dimension == "length" and q.said_unit not in {None, "mm"} for q in self.sizes(piece))

    def _headed(self, before: Piece, piece: Piece) -> bool:
        """'Blood loss. Thirty.' 'Anterior horn. Two outside-in stitches.': a thing named, and what is said of it."""
        if before.end - before.start > HEADING or self.sizes(before) or self.verb(before):
            return False
        heads = self.lists(before)
        if not heads & HEADS or not self.only(before, heads):
            return False
        found, sizes = self.of(piece), self.sizes(piece)
        if sizes and sizes[0].start == piece.start:
            stitched = any(c.list in STITCHED for c in found)
            size = self.whole(sizes)
            own = size.kind == QUANTITY and size.dimension in {None, *SIZES} and self.free(size, piece)
            return own or (stitched and bool(heads & PLACES))
        opens = {c.list for c in found if c.start == piece.start}
        return bool(opens & (LOOKS | KINDS | SAME)) and not heads & (LOOKS - {"form"} if opens & SAME else LOOKS)

    def _dimension_again(self, before: Piece, piece: Piece) -> bool:
        """'Depth 10 mm. Length 35 mm', 'Bridge shaped. Width 7 mm': a dimension of the same thing."""
        sizes = self.sizes(piece)
        named = [
            c.end for c in self.of(piece) if c.start == piece.start and c.name in DIMENSIONS and c.list == "dimension"
        ]
        if not sizes or not named or sizes[0].start - named[0] > 1 or not self.named(before.start, before.end):
            return False
        return sizes[0].dimension is not None or not self._in_other_units(before)

    def _placed(self, before: Piece, piece: Piece) -> bool:
        """'Purple, native, anterior. Superior surface', 'Two inside-out. Middle of the graft, vertical mattress'."""
        if piece.end - piece.start > MOST_PIECE or self.sizes(piece):
            return False
        lists = self.lists(piece)
        if not lists & (PLACES | KINDS) or lists & LOOKS - KINDS or not self.only(piece, PLACES | KINDS | {"tissue"}):
            return False
        if "tissue" in lists and not lists & (PLACES | {"configuration", "technique"}):
            return False  # 'Graft sutures.' heads what comes next
        told = self.lists(before)
        again = lists & told & {"region", "surface"} or (lists & {"region", "surface"} and lists & told & KINDS)
        return bool(told & STITCHED) and not again

    def _at_place(self, before: Piece, piece: Piece) -> bool:
        """Where stitches are: 'Three inside-out sutures. In the middle of the graft, five millimeters apart.'."""
        told, own = self.lists(before), self.lists(piece)
        if not told & SEWN or told & PLACES or own & STITCHED:
            return False
        if self.words[piece.start] not in PREPOSITIONS:
            return False
        opening = [c for c in self.of(piece) if c.start <= piece.start + FEW]
        return any(c.list in PLACES for c in opening) and not any(q.kind == "count" for q in self.sizes(piece))

    def _styled(self, before: Piece, piece: Piece) -> bool:
        """'Five inside-out sutures. Two-oh braided, vertical mattress.': what those sutures are like."""
        told = self.lists(before)
        if not told & {"stitch-noun", "form"} or self.words[piece.start] in PRONOUNS:
            return False
        sizes = self.sizes(piece)
        opens = {c.list for c in self.of(piece) if c.start == piece.start and c.list in STYLES}
        threaded = bool(sizes) and sizes[0].start == piece.start and sizes[0].kind == "suture-size"
        if threaded and not any(q.kind == "suture-size" for q in self.sizes(before)):
            return not self._counted(piece)
        return bool(opens) and not opens & told and not self._counted(piece)

    def _listed_on(self, before: Piece, piece: Piece) -> bool:
        """'..., white anterior superior. Green anterior inferior, matching ones ...': the next of a list, and more."""
        if PLACES.isdisjoint(self.lists(before)) or PLACES.isdisjoint(self.lists(piece)):
            return False
        parts, next_parts = list(self.parts(before)), list(self.parts(piece))
        if len(parts) < 2 or len(next_parts) < 2:
            return False
        listed = [place for part in parts if (place := self._place_of(part))]
        here = self._place_of(next_parts[0])
        return bool(here) and bool(self._place_of(parts[-1])) and len(listed) > 1 and here not in listed

    def _place_of(self, part: Piece) -> frozenset[str]:
        """The place of a suture, where a part tells its look and its place and nothing else."""
        found = self.of(part)
        told = {c.list for c in found}
        one = sum(c.list == "color" for c in found) < 2  # 'white to blue' are two that are tied
        whole = one and bool(told & LOOKS) and not self.sizes(part) and self.only(part, PLACES | LOOKS)
        return frozenset(c.key for c in found if c.list in PLACES) if whole else frozenset()

    def _counted(self, piece: Piece) -> bool:
        """Whether a piece tells of stitches of its own, or of places."""
        lists = self.lists(piece)
        return bool(lists & (PLACES | {"stitch-noun"})) or any(q.kind == "count" for q in self.sizes(piece))

    def paired(self, pieces: Sequence[Piece]) -> set[int]:
        """Stops inside pairs of a place and a look told in turn: 'Posterior superior. White. Front. Blue'."""
        kinds = [self._kind(piece) for piece in pieces]
        found: set[int] = set()
        i = 0
        while i < len(pieces) - 1:
            if self.asked(pieces[i]) or self.asked(pieces[i + 1]) or (i and self.asked(pieces[i - 1])):
                i += 1
            elif kinds[i] and kinds[i + 1] and kinds[i] != kinds[i + 1] and self.words[pieces[i].end] == STOP:
                found.add(pieces[i].end)
                i += 2
            else:
                i += 1
        return found

    def _kind(self, piece: Piece) -> str:
        """'place' or 'look' for a piece that tells nothing else."""
        if piece.end - piece.start > MOST_PIECE or self.sizes(piece):
            return ""
        lists = self.lists(piece)
        if lists & PLACES and not lists & LOOKS and self.only(piece, PLACES):
            return "place"
        if lists & LOOKS and not lists & PLACES and self.only(piece, LOOKS):
            return "look"
        return ""
