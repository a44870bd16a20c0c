"""Which look goes to which position.

Speakers say it position first or look first, with or without pauses; inside one list they keep to one
order. Where each part between pauses holds one of either, they belong together; else the list is read
in the order its first item sets. Places may have been numbered, and looks told in columns.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from extractor.facts.case import Case
from extractor.facts.first_thoughts import only_wished
from extractor.facts.looks import Look
from extractor.facts.places import BOTH
from extractor.facts.plans import OPPOSITE, Position
from extractor.language.clauses import Span
from extractor.language.corrections import excused, put_right, taken_back

SEEN_ANEW = (["oh"], ["ah"])
"""What opens a second look: 'Oh, that is white'."""
CORRECTING = frozenset({"no", "sorry", "correction", "rather", "actually", "wait", "scratch", "strike", "mean"})
HESITANT = frozenset({"um", "uh", "er", "erm", "well"})
AGAIN = frozenset({"well", "make", "that", "call", "it", "a", "the", "is", "'s"})
SMALL = frozenset({",", "so", "the", "a", "i", "i'm", "'m", "that", "it", "'s", "is"})
ROW = frozenset({",", "and", "/", ";", "also", "again", "the", "a"})
ROWS = 24
"""Sentences before a row of a table in which its columns may have been named."""
DONE = "performed"
MEANT = frozenset({"planned", "considered", "conditional", "habit"})
"""Moods of what was meant for a place, and then another suture laid there."""
FAR = 40
"""Tokens between a thing said and its correction, at most."""
LATELY = 3
"""How many things said before may be put right."""
Item = Position | Look


@dataclass(frozen=True)
class Laid:
    """A look at a position, and the tokens that say so. `tissue` where a column or the pair itself says it."""

    position: Position
    look: Look | None
    tissue: str | None = None

    @property
    def pieces(self) -> tuple[tuple[int, int], ...]:
        """The tokens it was said in."""
        if self.look is None:
            return ((self.position.start, self.position.end),)
        a, b = sorted([(self.position.start, self.position.end), (self.look.start, self.look.end)])
        return ((a[0], b[1]),) if b[0] - a[1] <= 8 else (a, b)


def pair_up(case: Case, positions: Sequence[Position], looks: Sequence[Look]) -> list[Laid]:
    """Join looks and positions sentence by sentence; a sentence with only one kind joins the one before."""
    laid: list[Laid] = []
    waiting: list[Item] = []
    labels: dict[int, Position] = {}
    items: list[Item] = sorted([*positions, *looks], key=lambda i: i.start)
    starts = [i.start for i in items]
    for sentence in case.note.segments.sentences:
        own = items[bisect_left(starts, sentence.start) : bisect_left(starts, sentence.end)]
        row = _row(case, sentence, own)
        own = _corrected(case, _by_number(case, sentence, own, labels))
        kinds = {type(item) for item in own}
        if not own:
            waiting = []
        elif row:
            laid += row
            waiting = []
        elif laid and len(own) == 1 and isinstance(own[0], Look) and _takes_back(case, own[0], laid[-1]):
            last = laid.pop()
            if last.look is None or last.look.color != own[0].color:
                laid.append(Laid(last.position, own[0], last.tissue))  # else that color is said to be elsewhere
            waiting = []
        elif laid and len(own) == 1 and isinstance(own[0], Position) and _moved(case, sentence, laid[-1], own[0]):
            laid.append(replace(laid.pop(), position=own[0]))
            waiting = []
        elif len(kinds) == 1 and not waiting:
            waiting = own if len(own) == 1 else []
            if Position in kinds and len(own) > 1 and not case.within("tie", sentence.start, sentence.end):
                laid += [Laid(p, None) for p in own if isinstance(p, Position)]
        elif len(kinds) == 1 and len(own) == 1 and type(waiting[0]) is not type(own[0]):
            laid += _sequence([*waiting, *own])
            waiting = []
        elif len(kinds) == 1:
            waiting = own if len(own) == 1 else []
        else:
            own = _completed(waiting, own)
            laid += _by_parts(case, own) or _sequence(own)
            waiting = []
    told = [_with_tissue(case, item) for item in laid if _is_told(case, item)]
    return _put_right(case, [one for item in told for one in _at_each_end(item)])


def _takes_back(case: Case, look: Look, last: Laid) -> bool:
    """'Correction, it is green', 'Green, I beg your pardon': a look that puts the one before it right.

    So does one that took its place: '... frayed. We put a violet one there instead.'
    """
    sentence = case.sentence(look.start)
    changed = [c for c in case.within("changed-look", sentence.start, sentence.end) if case.words[c.end] != "of"]
    if changed and case.sentence(last.position.start).number == sentence.number - 1 and last.look:
        return case.assertion(look.start).mood == DONE
    seen = case.words[sentence.start : sentence.start + 1] in SEEN_ANEW and sentence.number > 0
    return bool(case.correction(look.start)) or excused(case.words, look.end) or seen or _answers(case, look, last)


def _answers(case: Case, look: Look, last: Laid) -> bool:
    """'Anterior inferior, can I have orange? They don't have it, so blue.': what was asked for, and what came."""
    if last.look is None or not _done(case, look.start):
        return False
    asked = case.sentence(last.look.start)
    near = asked.number == case.sentence(look.start).number - 1
    return near and case.words[asked.end - 1] == "?" and not _done(case, last.look.start)


def _at_each_end(item: Laid) -> list[Laid]:
    """What was told of both ends, once for each."""
    if item.position.region != BOTH:
        return [item]
    return [replace(item, position=replace(item.position, region=region)) for region in sorted(OPPOSITE)]


def _moved(case: Case, sentence: Span, last: Laid, position: Position) -> bool:
    """'White posterior superior. Correction, that one is posterior inferior' moves it."""
    before = case.sentence(last.position.start).number
    ties = case.within("tie", sentence.start, sentence.end)
    return bool(last.look and before == sentence.number - 1 and not ties and case.correction(position.start))


def _completed(waiting: list[Item], own: list[Item]) -> list[Item]:
    """A list with the item that the sentence before began it with, where it lacks just that one."""
    lacking = sum(isinstance(i, Position) for i in own) - sum(isinstance(i, Look) for i in own)
    fits = len(waiting) == 1 and lacking == (1 if isinstance(waiting[0], Look) else -1)
    return [*waiting, *own] if fits and type(waiting[0]) is not type(own[0]) else own


def _is_told(case: Case, item: Laid) -> bool:
    """Whether a suture was laid in this case: not denied, no habit, no condition."""
    at = item.position.start
    if item.look and case.words[case.sentence(at).end - 1] == "?" != case.words[case.sentence(item.look.start).end - 1]:
        at = item.look.start  # 'top at the back? White tape.': the answer tells
    elif item.look and not _done(case, at) and _meant_for_another(case, at, item.look):
        at = item.look.start
    assertion = case.assertion(at)
    done = assertion.mood in {"performed", "planned"} or (assertion.mood == "conditional" and _it_was(case, at))
    return done and not assertion.declines(at)


def _meant_for_another(case: Case, at: int, look: Look) -> bool:
    """Whether another color was meant for a place, and this look is told of as done in the same sentence."""
    clause, sentence = case.clause(at), case.sentence(at)
    other = [c for c in case.within("color", clause.start, look.start) if c.name != look.color]
    apart = not clause.start <= look.start < clause.end and sentence.start <= look.start < sentence.end
    return apart and bool(other) and _done(case, look.start)


def _done(case: Case, at: int) -> bool:
    """Whether what stands at a token is told as done; 'blue it is' is, whatever was meant before."""
    assertion = case.assertion(at)
    so = case.words[at + 1 : at + 3] in (["it", "is"], ["it", "was"])
    return so or (assertion.mood == DONE and not assertion.declines(at))


def _it_was(case: Case, at: int) -> bool:
    """'We would use green there, and green it was'."""
    sentence = case.sentence(at)
    said = case.within("color", at, sentence.end)
    return any(case.words[c.end : c.end + 2] == ["it", "was"] for c in said)


def _with_tissue(case: Case, item: Laid) -> Laid:
    """'Superior posterior graft white': the tissue stands within the pair."""
    if item.tissue or item.look is None:
        return item
    inner = [c for a, b in item.pieces for c in case.within("tissue", a, b) if c.name in {"native", "graft"}]
    if len({c.name for c in inner}) > 1:
        return item  # 'posterior superior, native and graft, white'
    return replace(item, tissue=inner[-1].name) if inner and len(item.pieces) == 1 else item


def numbers_of(case: Case, start: int, end: int) -> list[tuple[int, int, int]]:
    """(number, first token, token after) of running numbers said: 'number one', 'corner three', a bare 'two'."""
    return [
        (int(q.value), q.start, q.end)
        for q in case.numbers(start, end)
        if q.kind in {"ordinal", "count", "quantity"}
        and q.dimension is None
        and q.product is None
        and q.value is not None
        and q.value == int(q.value)
    ]


def _numbered(case: Case, sentence: Span) -> list[tuple[int, int, int]]:
    """Running numbers said as such."""
    numbering = case.grammar.plain_words("numbering") | {"#"}
    return [
        n
        for n in numbers_of(case, sentence.start, sentence.end)
        if case.words[n[1]] in numbering or (n[1] > sentence.start and case.words[n[1] - 1] in numbering)
    ]


def _by_number(case: Case, sentence: Span, own: list[Item], labels: dict[int, Position]) -> list[Item]:
    """A number given to a position stands for it later: 'number one is white, at the back on top ... number one white'.

    Learns the number of a sentence that tells one position, and puts positions for numbers where none is told.
    """
    if not own:
        return own
    places = [item for item in own if isinstance(item, Position)]
    named = _numbered(case, sentence)
    if len(places) == 1 and len(named) == 1 and len(own) > 1:
        labels.setdefault(named[0][0], places[0])
    if places or not named or any(n not in labels for n, _, _ in named):
        return own
    stand = [replace(labels[n], start=a, end=b) for n, a, b in named]
    return sorted([*own, *stand], key=lambda item: item.start)


def laid_by_sentence(case: Case, laid: Sequence[Laid]) -> dict[int, list[Laid]]:
    """Sutures by the number of the sentence that places them."""
    table: dict[int, list[Laid]] = defaultdict(list)
    for item in laid:
        table[case.sentence(item.position.start).number].append(item)
    return table


def labels_of(case: Case, laid: Sequence[Laid]) -> dict[int, Position]:
    """The numbers that positions were given, for those who tie by number."""
    labels: dict[int, Position] = {}
    for item in laid:
        named = _numbered(case, case.sentence(item.position.start))
        if len(named) == 1:
            labels.setdefault(named[0][0], item.position)
    return labels


def _row(case: Case, sentence: Span, own: list[Item]) -> list[Laid]:
    """One line of a table: a position, then its look in one tissue and in the other, as a heading has ordered them."""
    if len(own) != 3:
        return []
    place, first, second = own
    if not (isinstance(place, Position) and isinstance(first, Look) and isinstance(second, Look)):
        return []
    order = _columns(case, sentence) if all(w in ROW for w in case.words[first.end : second.start]) else None
    return [Laid(place, first, order[0]), Laid(place, second, order[1])] if order else []


def _columns(case: Case, sentence: Span) -> tuple[str, str] | None:
    """The order in which a sentence a little before named the two tissues: 'columns are position, native, graft'."""
    sentences = case.note.segments.sentences
    for before in reversed(sentences[max(0, sentence.number - ROWS) : sentence.number]):
        named = [c.name for c in case.within("tissue", before.start, before.end) if c.name in {"native", "graft"}]
        if len(named) == 2 and named[0] != named[1]:
            return named[0], named[1]
    return None


def _put_right(case: Case, laid: list[Laid]) -> list[Laid]:
    """Of two looks told of one place, with words of correction between, the last holds."""
    kept: list[Laid] = []
    for item in laid:
        kept[-LATELY:] = [old for old in kept[-LATELY:] if not _replaces(case, old, item)]
        kept.append(item)
    return kept


def _replaces(case: Case, old: Laid, new: Laid) -> bool:
    if old.position.name != new.position.name or old.tissue != new.tissue or old.look is None or new.look is None:
        return False
    between = case.words[old.pieces[-1][1] : new.pieces[0][0]]
    differ = (old.look.color, old.look.pattern) != (new.look.color, new.look.pattern)
    wrong = not CORRECTING.isdisjoint(between) or _thought_first(case, old.look)
    return differ and len(between) <= FAR and wrong


def _thought_first(case: Case, look: Look) -> bool:
    """'I want to say green for anterior superior': only a first thought, where another color is told of the place."""
    floor = case.sentence(look.start).start
    return bool(case.within("first-thought", max(floor, look.start - FAR // 2), look.start))


def _without_first_thoughts(case: Case, own: list[Item]) -> list[Item]:
    """'I was about to say blue for this place, that's wrong, this place was green': both of them go where told anew."""
    names = [i.name if isinstance(i, Position) else "" for i in own]
    for n, item in enumerate(own):
        if not isinstance(item, Look) or not _thought_first(case, item):
            continue
        for at in (n + 1, n - 1):
            if 0 <= at < len(own) and names[at] and names[at] in names[max(n, at) + 1 :]:
                return [k for i, k in enumerate(own) if i not in (n, at)]
    return own


def _by_parts(case: Case, own: list[Item]) -> list[Laid]:
    """One position and one look in every part between pauses; an empty list where that is not so."""
    level = case.note.segments.level
    parts: list[list[Item]] = [[]]
    for before, item in zip([None, *own[:-1]], own, strict=True):
        if before is not None and any(
            level[i] >= 2 or case.words[i] == "and" for i in range(before.end, item.start + 1)
        ):
            parts.append([])
        parts[-1].append(item)
    out = []
    for part in parts:
        p = [i for i in part if isinstance(i, Position)]
        k = [i for i in part if isinstance(i, Look)]
        if len(p) != 1 or len(k) != 1:
            return []
        out.append(Laid(p[0], k[0]))
    return out


def _corrected(case: Case, own: list[Item]) -> list[Item]:
    """Of two looks, or two positions, in a row with a word of correction between, the last."""
    out: list[Item] = []
    own = _without_first_thoughts(case, own)
    spare = sum(1 if isinstance(i, Look) else -1 for i in own)
    if spare > 0:  # 'it was to be white but it is green'
        told = _without_given_up(case, own)
        spare, own = spare - (len(own) - len(told)), told
        meant = [i for i in own if isinstance(i, Position) or not _only_meant(case, i, own[-1])]
        spare, own = spare - (len(own) - len(meant)), meant
    for item in own:
        old = out[-1] if out else None
        if isinstance(item, Look) and isinstance(old, Look):
            between = case.words[old.end : item.start]
            said = set(between)
            taken = taken_back(case.words, old.end, item.start) or put_right(case.words, old.end, item.start)
            pausing = bool(said & HESITANT) or between.count(",") > 1
            again = old.color == item.color and pausing and said <= HESITANT | SMALL  # 'black, um, black tape'
            if taken or again:
                out[-1] = item
                continue
        if isinstance(item, Position) and isinstance(old, Position):
            moved = spare < 0 and taken_back(case.words, old.end, item.start)
            if moved or put_right(case.words, old.end, item.start):
                out[-1] = item
                spare += 1
                continue
        if isinstance(item, Look) and len(out) > 1 and isinstance(old, Position) and isinstance(out[-2], Look):
            if spare > 0 and put_right(case.words, old.end, item.start, AGAIN):
                out[-2] = item  # 'blue above, make that striped blue, and white below'
                spare -= 1
                continue
        out.append(item)
    return out


def _without_given_up(case: Case, own: list[Item]) -> list[Item]:
    """'I wanted black, but nobody can see black here, so green': of looks in a row those given up for the last one."""
    out: list[Item] = []
    for is_look, run in itertools.groupby(own, key=lambda item: isinstance(item, Look)):
        *before, last = run
        looks = [i for i in before if isinstance(i, Look)]
        if is_look and looks and isinstance(last, Look) and case.assertion(last.start).done:
            stops = [*(i.start for i in looks[1:]), last.start]
            gone = {i.color for i, stop in zip(looks, stops, strict=True) if not _stands(case, i, stop)} - {last.color}
            before = [i for i in looks if i.color not in gone]
        out += [*before, last]
    return out


def _stands(case: Case, look: Look, stop: int) -> bool:
    assertion = case.assertion(look.start)
    meant = assertion.mood in MEANT or assertion.declines(look.start)
    return not meant and not only_wished(case, look.start, look.end, stop)


def _only_meant(case: Case, look: Look, last: Item) -> bool:
    """'We had planned a white one, but what went in was blue': meant, where the last one told of was used."""
    mood = case.assertion(look.start).mood
    return mood == "considered" or (mood in MEANT and look != last and case.assertion(last.start).mood == DONE)


def _sequence(own: list[Item]) -> list[Laid]:
    """Read a list in the order its first item sets."""
    p = [i for i in own if isinstance(i, Position)]
    k = [i for i in own if isinstance(i, Look)]
    if len(p) == len(k):
        return [Laid(a, b) for a, b in zip(p, k, strict=True)]
    laid = []
    step = 1 if isinstance(own[0], Position) else -1
    for i, item in enumerate(own):
        if isinstance(item, Position):
            other = own[i + step] if 0 <= i + step < len(own) else None
            laid.append(Laid(item, other if isinstance(other, Look) else None))
    return laid
