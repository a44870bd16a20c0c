"""Where in the story a step has its place: it may be told ahead, in passing, and again at the end.

A report names the operation under its headings, and a dictation opens with it, before anything is done. 'Before
the tunnel was drilled' tells of a step that comes later. The graft's wound is closed before the portals are, and
a tear is probed before the repair is. So of several tellings that one counts which lies in the narrative and
after what the step needs (`order.toml`); with one telling there is no choice, and the checks may ask.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from functools import lru_cache

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.sections import sections
from extractor.grammar.limits import Limits, limits_of
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.values import value

AHEAD = frozenset({
    "preoperative_diagnosis", "postoperative_diagnosis", "diagnoses", "procedure", "indication", "implants", "plan",
    "specimens", "complications", "anesthesia", "condition", "disposition",
})  # fmt: skip
"""Headings of what is summed up, not told."""
DESCRIBED = "description"
AHEAD_OF_IT = frozenset({"graft", "findings"})
"""Headings that sum up where another one opens the narrative, and else are a part of it."""
SUMMARY = 60
"""A text under such a heading with more words than this is the narrative itself."""
LATER = frozenset({"before", "until"})
SKIPPED = frozenset({"however", ",", "and", "but", "("})
POINTING_BACK = frozenset({"this", "that", "these", "which", "it", "all"})
NAMES = ("operation", "title")
"""Lists of what the work as a whole is called."""
NAME = 3
"""Words between the start of such a name and of what told the step, at most."""
FRAME = 4
"""Words of 'Prior to this,' and the like, at most."""
IN_PLACE, IN_PASSING, SUMMED_UP = 0, 1, 2
PERFORMED = "performed"
ORDERED = frozenset({"then", "before", "after", "afterwards", "next", "now", "so", "finally", "until"})
"""Words that tell which of two steps came first."""
HEADING = 2
"""Words of a step that heads what follows, at most."""
HAVING = frozenset({"had", "having"})
OURS = frozenset({"we", "i", "he", "she"})
HANGING = frozenset(
    {"once", "when", "after", "as", "until", "before", "because", "since", "if", "which", "that", "who"}
)
"""A 'had been' behind one of these is told where it belongs: 'once the rim had been rasped, the graft was passed'."""
ROUNDS = 3
"""How often the places are looked at again, since one may wait for another."""


@value(frozen=True, slots=True)
class Told:
    """One telling of a step, and the concept that told it."""

    trigger: Concept
    draft: FactDraft


def placed(case: Case, told: Mapping[tuple[str, str], Sequence[Told]]) -> list[FactDraft]:
    """One draft a step: at its best telling, with the others as further evidence."""
    limits = limits_of(case.grammar.folders)
    opens = _opening(case, limits, told)
    ranked = {key: [(_rank(case, t.trigger, opens), t) for t in tellings] for key, tellings in told.items()}
    best = {key: min(rank for rank, _ in found) for key, found in ranked.items()}
    choices = {key: [t for rank, t in found if rank == best[key]] for key, found in ranked.items()}
    place = {key: tellings[0] for key, tellings in choices.items()}
    for _ in range(ROUNDS):
        place = {key: _after_its_needs(key, tellings, place, limits) for key, tellings in choices.items()}
    return [_joined(place[key].draft, [t.draft for t in tellings]) for key, tellings in told.items()]


def in_order(case: Case, steps: Sequence[FactDraft]) -> list[FactDraft]:
    """The steps with the order in which they were done, as far as their one telling shows it.

    '... after a notchplasty was done' goes back, 'before the graft was passed' goes forward; what was only
    named in a summary comes after the setting up and after what it needs.
    """
    limits = limits_of(case.grammar.folders)
    opening = limits.opening
    tokens = {id(d): bisect_right(case.note.tokens.starts, d.spans[0].start) - 1 for d in steps}
    done = [d for d in steps if d.fields.get("status") == PERFORMED]
    opens = min((tokens[id(d)] for d in done if _opens(case, d, tokens[id(d)], opening)), default=0)
    at = {id(d): _moment(case, tokens[id(d)]) for d in steps}
    late = [d for d in done if d.fields["code"] not in opening and _summed_up(case, tokens[id(d)], opens)]
    rest = [d for d in done if d not in late]
    begun = min((at[id(d)] for d in rest if d.fields["code"] not in opening), default=float(len(case.words)))
    set_up = max((at[id(d)] for d in rest if d.fields["code"] in opening and at[id(d)] < begun), default=-1.0)
    for d in late:
        needed = limits.needs.get(str(d.fields["code"]), frozenset())
        needs = [at[id(o)] for o in rest if o.fields["code"] in needed]
        at[id(d)] = max([set_up, *needs]) + 0.25
    for d in done:
        needed = limits.needs.get(str(d.fields["code"]), frozenset())
        ahead = [at[id(o)] for o in done if o.fields["code"] in needed] if needed else []
        if ahead and max(ahead) > at[id(d)] and _only_heads(case, tokens[id(d)], int(max(ahead))):
            at[id(d)] = max(ahead) + 0.25
    for d in done:
        needed = limits.needs.get(str(d.fields["code"]), frozenset())
        for o in done:
            if o.fields["code"] in needed and o.fields["code"] in opening and at[id(d)] < at[id(o)]:
                if _told_together(case, tokens[id(d)], tokens[id(o)]):
                    at[id(d)] = at[id(o)] + 0.25
    for d in done:
        if _before_then(case, tokens[id(d)]):
            after = limits.needed_by.get(str(d.fields["code"]), frozenset())
            at[id(d)] = min([at[id(d)], *(at[id(o)] - 0.5 for o in done if o.fields["code"] in after)])
    _send_back(case, done, tokens, at, set_up)
    needs_of = _needs(tuple((pair.before, pair.after) for pair in limits.orders.values()))
    codes = {id(d): str(d.fields["code"]) for d in steps}
    ordered = sorted(steps, key=lambda d: (at[id(d)], d.spans[0].start, needs_of.get(codes[id(d)], 0)))  # else as told
    return [FactDraft(d.kind, {**d.fields, "order": n}, d.spans, d.certainty, d.key) for n, d in enumerate(ordered, 1)]


def _send_back(
    case: Case, done: Sequence[FactDraft], tokens: Mapping[int, int], at: dict[int, float], set_up: float
) -> None:
    """Put what is told late before what was told ahead of it: '... was tied. Before that we had rasped the rim'.

    'At the outset' goes as far as the setting up. Nothing is moved where most is told as 'had been'.
    """
    story = sorted(done, key=lambda d: tokens[id(d)])
    late = [d for d in story if _told_late(case, tokens[id(d)], story, tokens)]
    if 2 * len(late) > len(story):
        return
    for d in late:
        here = tokens[id(d)]
        before = [o for o in story if tokens[id(o)] < here and o not in late]
        if not before or at[id(d)] < at[id(before[-1])]:
            continue
        start = case.within("told-late-start", case.sentence(here).start, here)
        moved = at[id(before[-1])] - 0.5
        at[id(d)] = min(moved, set_up + 0.25) if start and set_up >= 0 else moved


def _told_late(case: Case, here: int, story: Sequence[FactDraft], tokens: Mapping[int, int]) -> bool:
    """Whether a step's clause, or a frame ahead of it that tells of none itself, says that it was done before."""
    clause, sentence = case.clause(here), case.sentence(here)
    words = case.words[clause.start : here + 1]
    perfect = "had" in words and any(words[i : i + 2] == ["had", "been"] for i in range(len(words)))
    perfect = perfect or ("had" in words[-3:-1] and OURS.issuperset(words[:1]))
    if perfect and words[0] not in HANGING:
        return True
    cues = [c for name in ("told-late", "told-late-start") for c in case.within(name, sentence.start, clause.end)]
    told = [tokens[id(d)] for d in story] if cues else []
    return any(
        c.start >= clause.start or not any(case.clause(c.start).start <= t < clause.start for t in told) for c in cues
    )


@lru_cache(maxsize=8)
def _needs(orders: tuple[tuple[str, str], ...]) -> dict[str, int]:
    """How many steps must come before each, for steps that the same words tell: 'through two portals we looked'."""
    needs: dict[str, set[str]] = {}
    for before, after in orders:
        needs.setdefault(after, set()).add(before)
    for _ in range(ROUNDS):
        for code, own in needs.items():
            own.update(*(needs.get(other, ()) for other in own - {code}))
    return {code: len(own) for code, own in needs.items()}


def _only_heads(case: Case, at: int, needed: int) -> bool:
    """'Point two, arthroscopy. Two portals.': a step named by a word or two heads the sentence that tells of it."""
    clause, sentence = case.clause(at), case.sentence(at)
    said = [w for w in case.words[clause.start : clause.end] if w.isalpha()]
    after = case.note.segments.sentences[sentence.number + 1 : sentence.number + 2]
    return (
        len(said) <= HEADING and clause.end == sentence.end and bool(after) and after[0].start <= needed < after[0].end
    )


def _told_together(case: Case, first: int, then: int) -> bool:
    """'Scope in, standard portals.': two steps of one sentence, and no word of which came first."""
    return case.sentence(first) == case.sentence(then) and ORDERED.isdisjoint(case.words[first:then])


def _opens(case: Case, draft: FactDraft, at: int, opening: frozenset[str]) -> bool:
    return draft.fields["code"] in opening and not _under_heading(case, at)


def _summed_up(case: Case, at: int, opens: int) -> bool:
    named = any(c.end > at for name in NAMES for c in case.within(name, max(0, at - NAME), at + NAME))
    return (at < opens and named) or _under_heading(case, at)


def _moment(case: Case, at: int) -> float:
    """A token's place in the story, moved where its clause says 'before' or 'after'."""
    clause, sentence = case.clause(at), case.sentence(at)
    if case.words[clause.start] == "and" and clause.start > sentence.start and FINITE.isdisjoint(_said(case, clause)):
        before = case.clause(clause.start - 1)
        if {"after", "before"} & set(_said(case, before)[:1]) or FINITE & set(_said(case, before)):
            if _moment(case, before.start) < before.start:  # '... after time-out | and prep'
                return _moment(case, before.start)
    start = clause.start
    if start > sentence.start:
        frame = case.clause(start - 1)
        said = _opened(case.words[frame.start : frame.end])
        fronted = bool(said) and (said[0] in LATER or said[:2] == ["prior", "to"])
        start = frame.start if fronted and len(said) <= FRAME else start
    words = _opened(case.words[start : clause.end])
    lead = words[2 if words[:2] == ["prior", "to"] else 1 :][:1]
    first = start == sentence.start
    if words[:1] == ["after"] and clause.end == sentence.end and case.words[start] == "and":
        return float(at)  # 'and after we have made two portals': no more than an 'and then'
    if words[:1] == ["after"] and not first and not POINTING_BACK & set(lead):
        return sentence.start - 0.5
    if words and (words[0] in LATER or words[:2] == ["prior", "to"]):
        if POINTING_BACK & set(lead):
            before = case.note.segments.sentences[max(0, sentence.number - 1)] if first else sentence
            return before.start - 0.5
        if first and clause.end < sentence.end:
            return sentence.end - 0.5
    return float(at)


def _said(case: Case, clause: Span) -> list[str]:
    return case.words[clause.start : clause.end]


def _opened(words: list[str]) -> list[str]:
    """What is said behind a 'however,' or an 'and'."""
    return words[next((i for i, word in enumerate(words) if word not in SKIPPED), len(words)) :]


def _before_then(case: Case, at: int) -> bool:
    """'It had been harvested through a small cut': what had been done was done before what it is told after."""
    clause = case.clause(at)
    if HAVING.isdisjoint(clause.said):
        return False
    end = at if FINITE & set(case.words[clause.start : at]) else clause.end  # 'Time-out had been done before that'
    return any(case.words[i : i + 2] in (["had", "been"], ["having", "been"]) for i in range(clause.start, end))


def _joined(first: FactDraft, tellings: Sequence[FactDraft]) -> FactDraft:
    others = [d.spans[0] for d in tellings if d is not first]
    return FactDraft(first.kind, first.fields, (*first.spans, *others), first.certainty)


def _opening(case: Case, limits: Limits, told: Mapping[tuple[str, str], Sequence[Told]]) -> int:
    """The first token that tells of setting up, outside a summary; 0 where nothing does."""
    codes = limits.opening
    starts = [
        t.trigger.start
        for (code, status), tellings in told.items()
        if code in codes and status == PERFORMED
        for t in tellings
        if not _under_heading(case, t.trigger.start)
    ]
    return min(starts, default=0)


def _under_heading(case: Case, at: int) -> bool:
    summed = _summaries(case)
    if not summed:
        return False
    last = bisect_right(summed, at, key=lambda span: span[0]) - 1
    return last >= 0 and at < summed[last][1]


@lru_cache(maxsize=1)
def _summaries(case: Case) -> list[tuple[int, int]]:
    """The texts under headings that stand ahead of the story, in order; looked up for every telling of a note."""
    found = sections(case)
    ahead = AHEAD | AHEAD_OF_IT if any(h.name == DESCRIBED for h, _, _ in found) else AHEAD
    return [(start, end) for h, start, end in found if h.name in ahead and start < end <= start + SUMMARY]


def _rank(case: Case, trigger: Concept, opens: int) -> int:
    if trigger.start < opens or _under_heading(case, trigger.start):
        return SUMMED_UP
    clause = case.clause(trigger.start)
    lead = case.words[clause.start : clause.start + 2]
    return IN_PASSING if lead[0] in LATER or lead == ["prior", "to"] else IN_PLACE


def _after_its_needs(
    key: tuple[str, str], tellings: Sequence[Told], place: Mapping[tuple[str, str], Told], limits: Limits
) -> Told:
    """The first telling after all that the step needs and after one of those it usually follows."""
    code, status = key
    if len(tellings) < 2 or status != PERFORMED:
        return tellings[0]
    at = {c: t.trigger.start for (c, s), t in place.items() if s == PERFORMED}
    needs = [at[before] for before in limits.needs.get(code, ()) if before in at]
    late = [at[c] for entry in limits.lates.values() if entry.step == code for c in entry.after if c in at]
    floor = max([*needs, min(late)] if late else needs, default=-1)
    return next((t for t in tellings if t.trigger.start >= floor), tellings[0])
