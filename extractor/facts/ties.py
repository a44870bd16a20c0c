"""Ties: which position was tied to which, said by position, by color, by number, or as a group."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise
from typing import TypeVar

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.looks import Look
from extractor.facts.pairing import Laid, labels_of, laid_by_sentence, numbers_of
from extractor.facts.places import Places
from extractor.facts.plans import QUADRANT, Position
from extractor.facts.tie_groups import (
    along_pairs,
    but_for_pairs,
    each_pair,
    likewise,
    partner_pairs,
    pointed_pairs,
    region_pairs,
    surface_pairs,
)
from extractor.facts.tie_matches import matched, tells_nothing_else
from extractor.facts.tie_partners import color_partners, glossed
from extractor.facts.tie_words import (
    JOINERS,
    MEETING,
    RULE,
    SPARE,
    THE,
    ends_of,
    is_meant,
    joined,
    mutual,
    spoken_between,
    tie,
)
from extractor.language.clauses import Span
from extractor.language.corrections import put_right
from extractor.language.verbs import verbal

PAUSED = ([",", "to"], [",", "with"])
"""A pause inside a tie: 'blue, to white'."""

TO_EACH_OTHER = (["to"], ["with"], *([to, the] for to in ("to", "with") for the in THE))
Said = TypeVar("Said", Position, Look)
BRIEF = 9
"""Tokens of a sentence that tells one pair without a verb, at most."""
LONG = 45
SHORT = 14
"""A sentence of no more tokens without positions or colors does not end talk of tying."""
BY_COLOR = "<color> tied to <color>"
BY_NUMBER = "<number> tied to <number>"
INSTEAD = frozenset({"it", "that", "this", "them"})


def tie_sentences(case: Case) -> set[int]:
    """Sentences with a word of tying that is meant."""
    return {case.sentence(c.start).number for c in case.by_list["tie"] if is_meant(case, c.start)}


def find_ties(
    case: Case, positions: Sequence[Position], looks: Sequence[Look], laid: Sequence[Laid], said: Places
) -> tuple[list[FactDraft], set[int]]:
    """Ties told, and the first tokens of the positions and looks they used up.

    Sentences after one about tying belong to it as long as they only go on with positions, colors or numbers; also
    after one that says how not to tie.
    """
    marked = tie_sentences(case)
    warned = {case.sentence(c.start).number for c in case.by_list["tie"] if case.assertion(c.start).negated}
    labels = labels_of(case, laid)
    where = _places_by_look(laid)
    firm = _places_by_look(
        [item for item in laid if case.sentence(item.position.start).number < min(marked, default=0)]
    )
    drafts: list[FactDraft] = []
    used: set[int] = set()
    going_on = False
    told_before: set[str] = set()
    positions = [p for p in positions if p.region in QUADRANT]
    places, colored = _by_sentence(case, positions), _by_sentence(case, looks)
    told = laid_by_sentence(case, laid)
    everywhere = frozenset(item.position.name for item in laid)
    colored_at = {item.position.start for item in laid if item.look}
    lately: list[Position] = []
    for sentence in case.note.segments.sentences:
        own, colors = places[sentence.number], colored[sentence.number]
        tying = sentence.number in marked or _go_to_each_other(case, sentence, colors, where)
        before, lately = lately, own or (lately if tying else [])
        if sentence.number in warned and not tying:
            going_on = True  # '... but back top to back bottom', or the sentence after, says what was done
            drafts += [tie(case, [a.name, b.name], a.start, b.end) for a, b in _position_pairs(case, own)]
            used |= {p.start for p in own}
            continue
        tying = tying or _wed(case, sentence, colors, where)
        fits = not (going_on or tying or colors) and matched(case, sentence, own, said, told_before)
        told_before |= {item.position.name for item in told[sentence.number]}
        if case.words[sentence.end - 1] == "?" or not (going_on or tying or fits):
            going_on = going_on and not own
            continue
        if of_ends := _of_ends(
            case, sentence, colors, firm, said, before, everywhere if tying or going_on else frozenset()
        ):
            drafts += of_ends
            drafts += likewise(case, sentence, drafts, said)
            used |= {p.start for p in own} | {k.start for k in colors}
            going_on = True
            continue
        gloss = (going_on or tying) and glossed(case, own, colors) and not _in_one_tissue(case, sentence)
        pairs = [] if colors and not (tying or gloss) else _position_pairs(case, own)
        used |= {p.start for p in own} | {k.start for k in colors} if gloss and pairs else set()
        renewed = [p.name for pair in pairs for p in pair] if pairs and case.correction(pairs[0][0].start) else []
        if renewed:
            drafts = [d for d in drafts if not set(renewed) & set(ends_of(d))]
        for a, b in pairs:
            drafts.append(tie(case, [a.name, b.name], a.start, b.end, RULE, 1.0))
            used |= {p.start for p in (a, b) if p.start not in colored_at or not _in_one_tissue(case, sentence)}
        start = _tie_start(case, sentence) if tying else sentence.start
        found = _pairs_behind(case, sentence, pairs, said) if pairs and not colors else []
        if not pairs:
            tied = tying or (going_on and mutual(case, sentence.start, sentence.end) is not None)
            near = [*told[sentence.number - 1], *told[sentence.number]] if tied else None
            found = partner_pairs(case, own, said) if not colors else []
            used |= {p.start for p in own} if found else set()
            found = found or _in_groups(case, sentence, own, said, near, everywhere)
            if going_on and not (found or tied) and tells_nothing_else(case, sentence):
                found = region_pairs(case, sentence, said)  # 'Now the two anterior ones'
        late = _with_lone_patterns(case, [k for k in colors if k.start >= start], case.part(start, sentence))
        if late and not [p for p in own if p.start >= start]:
            by_color = _color_pairs(case, late, where)
            used |= {k.start for k in late} if by_color else set()
            found += by_color
        if not pairs and not found and not own and labels:
            found = _number_pairs(case, sentence, labels)
        drafts += found
        if alike := likewise(case, sentence, drafts, said):
            drafts += alike
            used |= {p.start for p in own}
            found += alike
        going_on = tying or bool(pairs or found) or (not own and not colors and sentence.end - sentence.start < SHORT)
    return _unique(drafts), used


def _pairs_behind(
    case: Case, sentence: Span, pairs: Sequence[tuple[Position, Position]], said: Places
) -> list[FactDraft]:
    """'Posterior superior was knotted to posterior inferior, and the anterior couple after that'."""
    told = {p.name for pair in pairs for p in pair}
    rest = case.part(pairs[-1][1].end, sentence)
    return [d for d in region_pairs(case, rest, said) if told.isdisjoint(ends_of(d))]


def _of_ends(
    case: Case,
    sentence: Span,
    colors: Sequence[Look],
    where: dict[tuple[str, str | None], list[str]],
    said: Places,
    before: Sequence[Position],
    everywhere: frozenset[str],
) -> list[FactDraft]:
    """Ties told at whole ends: of all but one, of a color to its partner, of upper to lower."""
    if but_for := but_for_pairs(case, sentence, said, everywhere):
        return but_for
    if everywhere and (partners := color_partners(case, sentence, colors, where, said)):
        return partners
    found = surface_pairs(case, sentence, said, before)
    ends = {end for d in found for end in ends_of(d)}  # '..., then the anterior pair'
    return found + [d for d in region_pairs(case, sentence, said) if found and ends.isdisjoint(ends_of(d))]


def _in_groups(
    case: Case,
    sentence: Span,
    own: Sequence[Position],
    said: Places,
    near: Sequence[Laid] | None,
    everywhere: frozenset[str],
) -> list[FactDraft]:
    """Ties of a sentence with a word of tying, told of sutures in groups; `near` are the sutures told about there."""
    if near is None:
        return []
    found = region_pairs(case, sentence, said) or along_pairs(case, sentence, said) or each_pair(case, sentence, said)
    return found or pointed_pairs(case, sentence, own, near, everywhere)


def _go_to_each_other(
    case: Case, sentence: Span, colors: Sequence[Look], where: dict[tuple[str, str | None], list[str]]
) -> bool:
    """'At the back white to blue, in front green to black': a sentence's looks are all in pairs, of sutures told.

    A single pair is told without a verb: 'Front pair, green to black'.
    """
    if not colors or len(colors) % 2 or any((k.color, "any") not in where for k in colors):
        return False
    if len(colors) == 2 and (sentence.end - sentence.start > BRIEF or verbal(case.words, sentence)):
        return False
    joins = [case.words[a.end : b.start] in TO_EACH_OTHER for a, b in pairwise(colors)]
    return all(joins[::2]) and not any(joins[1::2]) and all(is_meant(case, k.start) for k in colors)


def _in_one_tissue(case: Case, sentence: Span) -> bool:
    """Whether a tie's ends, where their looks are told, tell sutures as well: they lie in one tissue that is named."""
    return len({c.name for c in case.within("tissue", sentence.start, sentence.end)} & {"native", "graft"}) == 1


def _by_sentence(case: Case, items: Sequence[Said]) -> dict[int, list[Said]]:
    table: dict[int, list[Said]] = defaultdict(list)
    for item in items:
        table[case.sentence(item.start).number].append(item)
    return table


def _tie_start(case: Case, sentence: Span) -> int:
    """Where the words of tying begin: in speech without punctuation a sentence may tell of passing first."""
    if sentence.end - sentence.start <= LONG:
        return sentence.start
    return case.clause(case.within("tie", sentence.start, sentence.end)[-1].start).start


def _position_pairs(case: Case, own: Sequence[Position]) -> list[tuple[Position, Position]]:
    pairs: list[tuple[Position, Position]] = []
    i = 0
    while i + 1 < len(own):
        if not _joined(case, own[i], own[i + 1]):
            i += 1
            continue
        pair = own[i], own[i + 1]
        while i + 2 < len(own) and _put_right(case, own[i + 1], own[i + 2]):
            pair = own[i], own[i + 2]
            own = [*own[: i + 1], *own[i + 2 :]]
        if all(is_meant(case, p.start) for p in pair):
            pairs.append(pair)
        elif i + 2 < len(own) and _tied_instead(case, pair[1], own[i + 2]):
            pairs.append((pair[0], own[i + 2]))
            i += 1
        i += 2
    return pairs


def _joined(case: Case, a: Position, b: Position) -> bool:
    """Whether the words between tie one end to the other; behind a pause a bare 'and' goes on a list.

    So it does between two that are given their looks, unless they are said to be tied to each other.
    """
    if a.end == b.start:  # 'PS-PI'
        return all(case.within("position-code", p.start, p.end) for p in (a, b))
    between = spoken_between(case, a.end, b.start)
    spoken = [w for w in between if w != ","]
    joiners = (JOINERS | MEETING) & set(spoken)
    colored = len(between) < b.start - a.end and case.within("color", a.end, b.start)
    if len(spoken) < len(between) or (colored and mutual(case, b.end, case.sentence(b.start).end) is None):
        joiners -= {"and", "/"}
    return bool(joiners) and joined(case, spoken)


def _tied_instead(case: Case, wrong: Position, right: Position) -> bool:
    """'I nearly tied it to the anterior inferior, | then saw it and tied it to the posterior inferior'."""
    lead = [w for w in case.words[wrong.end : right.start] if w != "the"]
    tied = any(is_meant(case, c.start) for c in case.within("tie", wrong.end, right.start))
    return tied and is_meant(case, right.start) and len(lead) > 1 and lead[-1] in JOINERS and lead[-2] in INSTEAD


def _put_right(case: Case, wrong: Position, right: Position) -> bool:
    """'... tied to anterior inferior, no, to posterior inferior'."""
    return put_right(case.words, wrong.end, right.start, JOINERS | SPARE | case.grammar.plain_words("tie-filler"))


def _places_by_look(laid: Sequence[Laid]) -> dict[tuple[str, str | None], list[str]]:
    """Positions of each color with its pattern, and of each color alone."""
    where: dict[tuple[str, str | None], list[str]] = {}
    for item in laid:
        if item.look:
            for key in {(item.look.color, item.look.pattern), (item.look.color, "any"), ("", item.look.pattern)}:
                names = where.setdefault(key, [])
                if item.position.name not in names:
                    names.append(item.position.name)
    return where


def _with_lone_patterns(case: Case, colors: list[Look], span: Span) -> list[Look]:
    """'The blue was tied to the striped one': a suture called by its pattern alone, beside those called by a color."""
    if not colors:
        return colors
    inside = {i for k in colors for i in range(k.start, k.end)}
    lone = [c for c in case.within("pattern", span.start, span.end) if c.start not in inside]
    alone = [Look("", c.name, None, None, c.start, c.end) for c in lone]
    return sorted([*colors, *alone], key=lambda k: k.start)


def _color_pairs(case: Case, colors: Sequence[Look], where: dict[tuple[str, str | None], list[str]]) -> list[FactDraft]:
    """'Yellow was tied to blue': the colors stand for the positions they were laid at; none where that is open."""
    drafts = []
    i = 0
    while i + 1 < len(colors):
        a, b = colors[i], colors[i + 1]
        between = case.words[a.end : b.start]
        between = between[1:] if between[:2] in PAUSED else between
        if not between and (both := _compound(a, b, where)):
            drafts.append(tie(case, both, a.start, b.end, BY_COLOR))
            i += 2
            continue
        if JOINERS.isdisjoint(between) or not {",", ".", ";"}.isdisjoint(between):
            i += 1
            continue
        i += 2
        at, to = (where.get((k.color, k.pattern)) or where.get((k.color, "any"), []) for k in (a, b))
        if a.color == b.color and len(where.get((a.color, "any"), ())) == 2:
            at, to = ([name] for name in where[(a.color, "any")])  # one color twice: its two places
        at, to = _at_one_end(at, to), _at_one_end(to, at)
        if len(at) == len(to) == 1 and at != to:
            drafts.append(tie(case, [*at, *to], a.start, b.end, BY_COLOR))
    return drafts


def _compound(a: Look, b: Look, where: dict[tuple[str, str | None], list[str]]) -> list[str]:
    """'The white-blue pair was tied': two colors in one word, where each lies at one place, both at one end."""
    both = [where.get((k.color, "any"), []) for k in (a, b)]
    both = [_at_one_end(both[0], both[1]), _at_one_end(both[1], both[0])]
    if any(len(at) != 1 for at in both) or a.pattern or b.pattern:
        return []
    names = [both[0][0], both[1][0]]
    return names if len({name.partition("-")[0] for name in names}) == 1 and names[0] != names[1] else []


def _wed(case: Case, sentence: Span, colors: Sequence[Look], where: dict[tuple[str, str | None], list[str]]) -> bool:
    """'Purple went to white and blue went to green': colors that lie at one end each, and nothing else said of them."""
    verbs, words = case.grammar.plain_words("tie-verb"), case.words
    if len(colors) < 2 or not is_meant(case, colors[0].start) or verbs.isdisjoint(sentence.said):
        return False
    pairs = _color_pairs(case, colors, where)
    onward = any(words[a.end : b.start] in TO_EACH_OTHER for a, b in zip(colors[1::2], colors[2::2], strict=False))
    if 2 * len(pairs) != len(colors) or onward:
        return False
    between = [w for a, b in zip(colors[::2], colors[1::2], strict=True) for w in words[a.end : b.start]]
    one_end = all(len({end.partition("-")[0] for end in ends_of(d)}) == 1 for d in pairs)
    return one_end and joined(case, [w for w in between if w not in verbs])


def _at_one_end(these: list[str], those: list[str]) -> list[str]:
    """Of several places of a color that at the end where its partner lies: 'in front, the green to the white'."""
    ends = {name.partition("-")[0] for name in those}
    near = [name for name in these if len(ends) == 1 and name.partition("-")[0] in ends and name not in those]
    return near if len(these) > 1 and len(near) == 1 else these


def _number_pairs(case: Case, sentence: Span, labels: dict[int, Position]) -> list[FactDraft]:
    """'One ties to two, and three to four', where positions were numbered."""
    named = [n for n in numbers_of(case, sentence.start, sentence.end) if n[0] in labels]
    drafts = []
    i = 0
    while i + 1 < len(named):
        (one, start, end), (two, next_start, next_end) = named[i], named[i + 1]
        between = case.words[end:next_start]
        if JOINERS.isdisjoint(between) or not joined(case, between):
            i += 1
            continue
        i += 2
        names = [labels[one].name, labels[two].name]
        drafts.append(tie(case, names, start, next_end, BY_NUMBER))
    return drafts


def _unique(drafts: list[FactDraft]) -> list[FactDraft]:
    seen: dict[frozenset[str], FactDraft] = {}
    for d in drafts:
        key = frozenset(d.fields["between"])  # type: ignore[call-overload]
        old = seen.get(key)
        seen[key] = FactDraft("ties", old.fields, (*old.spans, *d.spans), old.certainty) if old else d
    return list(seen.values())
