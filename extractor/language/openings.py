"""Pieces that by their first words go on with the one before, whatever follows: 'Maybe twenty-five percent of it, and'.

`fragments` reads pieces that hold no verb as a whole; these may hold one further on. What opens them has no subject of
its own ('Starting ten from the root', 'Was placed at the horn', 'The other one nine by eight'), so that the piece can
only be about what was named before.
"""

from __future__ import annotations

from extractor.language.clause_words import DETERMINERS, PAUSES, PREPOSITIONS, PRONOUNS
from extractor.language.concepts import Concept
from extractor.language.measure import QUANTITY
from extractor.language.quantities import Quantity
from extractor.language.talk import PLACES, Piece, Talk

MAYBE = frozenset({"maybe", "perhaps", "possibly", "probably", "or", "to", "say"})
BUT = frozenset({"but", "and"})
COUNT = "count"
PASSIVE = frozenset({"was", "were"})
PLACED = frozenset({"placed", "passed", "put"})
TAKEN_BACK = frozenset({"no", "sorry", "wait", "correction", "rather"})
THEN = (("at", "that", "time"), ("back", "then"), ("in", "those", "days"))
PAST = "history"
STARTS = frozenset({"start", "starts", "starting", "begin", "begins", "beginning", "ending", "ends"})
MEASURED = frozenset({"measuring", "leaving", "running", "extending", "lying", "sitting", "stretching", "reaching"})
SPEAKER = frozenset({"we", "i"})
HANDLED = frozenset({"got", "put", "took", "cut", "made", "left", "brought"})
SEWN = frozenset({"stitch-noun", "form", "technique", "configuration", "color", "suture-role"})
NUMBERED = frozenset({"size", "number", "all", "of", "them", "the", "lot", "each", "a", "an", "in", "and"})
STYLES = frozenset({"configuration", "material", "technique"})
SOON = 6
"""Tokens from the words that open a piece to its size, at most."""
LED_TO = 12
"""Words of a place that leads up to a bare number, at most."""
HEADING = 5


def opens_on(talk: Talk, before: Piece, piece: Piece) -> bool:
    """Whether a piece goes on with the one before by the words that open it.

    Args:
        talk: the note.
        before: the piece before.
        piece: the piece, which is no question.
    """
    return (
        _hesitates(talk, before, piece)
        or _counts_on(talk, before, piece)
        or _lacks_subject(talk, piece)
        or _starts(talk, before, piece)
        or _other_one(talk, before, piece)
        or _bends(talk, before, piece)
        or _led_to(talk, before, piece)
        or _of_its_kind(talk, before, piece)
        or _shared_out(talk, before, piece)
        or _heads(talk, before, piece)
        or _place_of_looks(talk, before, piece)
        or _taken_back(talk, before)
        or _back_then(talk, before, piece)
    )


def opening_of(talk: Talk, piece: Piece) -> Piece:
    """A piece up to its first pause."""
    return talk.opening(piece)


def _size_soon(talk: Talk, piece: Piece, at: int) -> Quantity | None:
    """A size shortly behind a token, with nothing of its own named between."""
    size = next((q for q in talk.sizes(piece) if q.start >= at), None)
    if size is None or size.start - at > SOON or size.kind != QUANTITY or talk.named(at, size.start):
        return None
    return size


def _last(talk: Talk, piece: Piece) -> Quantity | None:
    """The number that ends a piece."""
    sizes = talk.sizes(piece)
    return sizes[-1] if sizes and sizes[-1].end == piece.end else None


def _hesitates(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'One. Maybe two millimeters.', 'Twenty. Or twenty-five percent of it, and ...'."""
    at = piece.start
    while at < piece.end and talk.words[at] in MAYBE:
        at += 1
    if at == piece.start:
        return False
    size, last = next(iter(talk.sizes(piece)), None), _last(talk, before)
    if size is None or last is None or last.dimension:
        return False
    return size.number_start == at and size.kind == QUANTITY and last.kind in {QUANTITY, COUNT}


def _counts_on(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'Five, ten. Fifteen, and two more': a count along marks, which goes up."""
    last, size = _last(talk, before), next(iter(talk.sizes(piece)), None)
    if last is None or size is None or size.start != piece.start or last.dimension or size.dimension:
        return False
    counted = any(not PAUSES.isdisjoint(talk.words[q.start : q.end]) for q in (last, size))
    return counted and (last.value or 0.0) < (size.value or 0.0)


def _lacks_subject(talk: Talk, piece: Piece) -> bool:
    """'Was placed at the posterior horn.', 'But was not needed.', 'Got it to three millimeters': of what was named."""
    at = piece.start + (talk.words[piece.start] in BUT)
    if at + 1 >= piece.end:
        return False
    word, after = talk.words[at], talk.words[at + 1]
    opening = opening_of(talk, piece)
    if opening.end < piece.end - 1 and talk.words[opening.end + 1] in PASSIVE | PLACED:  # 'Number two, was placed at'
        inside = {i for c in talk.of(opening) if c.list in STYLES | {"color"} for i in range(c.start, c.end)}
        inside |= {i for q in talk.sizes(opening) if q.kind == "suture-size" for i in range(q.start, q.end)}
        return all(i in inside or talk.words[i] in NUMBERED for i in range(opening.start, opening.end))
    if word in PASSIVE:
        return after not in DETERMINERS and after not in PRONOUNS and after not in {"it", "you", "any"}
    return (word in HANDLED or word.endswith("ed")) and after == "it" and _size_soon(talk, piece, at + 2) is not None


def _starts(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'Starting eleven from its posterior root, and was cut', 'Ending two millimeters short of the root'."""
    at = piece.start + (talk.words[piece.start] in BUT)
    at += at < piece.end and talk.words[at] in SPEAKER
    if at >= piece.end:
        return False
    says_so = talk.words[at] in STARTS or (talk.words[at] in MEASURED and at == piece.start)
    size = _size_soon(talk, piece, at + 1) if says_so else None
    return size is not None and size.dimension in {None, "length", "share"} and talk.named(before.start, before.end)


def _other_one(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'The posterior one 8 by 7 millimeters. The anterior one 9 by 8': things told apart by their place."""
    at = piece.start + (talk.words[piece.start] in BUT)
    if at >= piece.end or talk.words[at] != "the" or not any(q.dimension for q in talk.sizes(before)):
        return False
    one = next((i for i in range(at + 2, min(at + 4, piece.end)) if talk.words[i] == "one"), None)
    return (
        one is not None
        and _size_soon(talk, piece, one + 1) is not None
        and "one" in talk.words[before.start : before.end]
    )


def _bends(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'Extension minus five degrees. Flexion one forty': the other half of how far a knee moves."""
    opens = [c for c in talk.of(piece) if c.start == piece.start]
    if not opens:
        return False
    moves, straight = talk.grammar.concepts_in("motion-half"), talk.grammar.concepts_in("motion-straight")
    first = next((c for c in opens if c.key in moves), None)
    told = {c.key for c in talk.of(before)} if first else set()
    if first is None or first.key in told or straight.isdisjoint(told):
        return False
    sized = any(q.dimension in {None, "angle"} for q in talk.sizes(before))
    return sized and _size_soon(talk, piece, first.end) is not None


def _led_to(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'From the posterior root to the gap. Seven and a half.': a place without a verb, and its number."""
    at = before.start + (talk.words[before.start] in BUT)
    if at >= before.end or before.end - at > LED_TO or talk.sizes(before) or talk.asked(before):
        return False
    leads = talk.words[at] in PREPOSITIONS or any(c.start == at and c.list == "dimension" for c in talk.of(before))
    if not leads or talk.verb(before) or not talk.named(at, before.end):
        return False
    opening = opening_of(talk, piece)
    size = next(iter(talk.sizes(opening)), None)
    alone = size is not None and (size.start, size.end) == (opening.start, opening.end)
    return alone and size is not None and size.kind == QUANTITY


def _of_its_kind(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'Five inside-out sutures. Two-oh braided, and they ...': what opens a piece says only what those are like."""
    opening = opening_of(talk, piece)
    told, found = talk.lists(before), talk.of(opening)
    sizes = talk.sizes(opening)
    if not told & {"stitch-noun", "form"} or any(q.kind != "suture-size" for q in sizes):
        return False
    if not sizes and not any(c.list in STYLES for c in found):
        return False
    inside = {i for c in found if c.list in STYLES for i in range(c.start, c.end)}
    inside |= {i for q in sizes for i in range(q.start, q.end)}
    plain = all(i in inside or talk.words[i] in NUMBERED for i in range(opening.start, opening.end))
    again = {c.list for c in found if c.list in STYLES} & told or (sizes and _has_size(talk, before))
    return plain and not again


def _has_size(talk: Talk, piece: Piece) -> bool:
    return any(q.kind == "suture-size" for q in talk.sizes(piece))


def _shared_out(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'Eight stitches, vertical mattress. Five on the upper surface, three below': how many of them went where."""
    opening = opening_of(talk, piece)
    at = opening.start + (talk.words[opening.start] in BUT)
    size = next(iter(talk.sizes(opening)), None)
    if size is None or size.start != at or size.dimension or size.end >= opening.end:
        return False
    if talk.words[size.end] not in PREPOSITIONS:
        return False
    own = talk.lists(opening)
    return bool(own & PLACES) and not own & SEWN and bool(talk.lists(before) & SEWN)


def _heads(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'Ramp lesion. Medial meniscus, posterior horn, 22 mm': what was found, and what is told of it without a verb."""
    if before.end - before.start > HEADING or talk.sizes(before) or talk.verb(before) or talk.verb(piece):
        return False
    return (
        _found(talk.of(before)) and not _found(talk.of(piece)) and _place_first(talk, piece) and bool(talk.sizes(piece))
    )


def _found(said: list[Concept]) -> bool:
    return any([c.list == "finding" for c in said])


def _place_first(talk: Talk, piece: Piece) -> bool:
    return any(c.start == piece.start and c.list in {"structure", "region"} for c in talk.of(piece))


def _place_of_looks(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'For the anterior side. The superior one was white, and': an end named alone, and the surfaces of it."""
    lists = talk.lists(before)
    alone = "region" in lists and not lists & {"surface", "color"} and talk.only(before, PLACES)
    if not alone or before.end - before.start > HEADING or talk.words[before.start] not in PREPOSITIONS:
        return False
    own = talk.lists(opening_of(talk, piece))
    return {"surface", "color"} <= own and "region" not in own


def _taken_back(talk: Talk, before: Piece) -> bool:
    """'I measure eleven, no. Not eleven, thirteen.': a number is taken back, and the other one comes after a breath."""
    last = talk.words[before.end - 1]
    sizes = talk.sizes(before)
    return (
        last in TAKEN_BACK and bool(sizes) and talk.words[before.end - 2] in PAUSES and sizes[-1].end >= before.end - 2
    )


def _back_then(talk: Talk, before: Piece, piece: Piece) -> bool:
    """'Four years ago, elsewhere. At that time forty percent was taken away': still of what was before."""
    if PAST not in talk.lists(before):
        return False
    said = tuple(talk.words[piece.start : piece.start + 3])
    return any(said[: len(way)] == way for way in THEN)
