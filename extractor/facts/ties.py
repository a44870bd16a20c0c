"""Ties: which position was tied to which, said by position, by color, or as a pair."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import TypeVar

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.positions import QUADRANT, Look, Position
from extractor.facts.quadrants import Laid
from extractor.language.corrections import put_right

Said = TypeVar("Said", Position, Look)
LONG = 45
RULE = "<position> tied to <position>"
JOINERS = frozenset({"/", "to", "with", "and", "onto", "against"})
SPARE = frozenset(
    {
        "the",
        "suture",
        "sutures",
        "was",
        "were",
        "tied",
        "is",
        "then",
        "limb",
        "limbs",
        "one",
        "ones",
        "tie",
        "knotted",
        "its",
        "partner",
        "together",
        "stitch",
        "tape",
        "got",
        "gets",
    }
)
TWO_ARE = frozenset({"are", "were", "to", "tied", "together", ",", "."})
PAIR = frozenset({"pair", "pairs", "ones", "limbs", "sutures", "tapes"})


def tie_sentences(case: Case) -> set[int]:
    """Sentences about tying: one with a word of tying, and those after it that only go on with positions."""
    marked: set[int] = set()
    for c in case.by_list["tie"]:
        if case.assertion(c.start).mood == "performed":
            marked.add(case.sentence(c.start).number)
    return marked


def find_ties(
    case: Case, positions: Sequence[Position], looks: Sequence[Look], laid: Sequence[Laid]
) -> tuple[list[FactDraft], set[int]]:
    """Ties told, and the first tokens of the positions and looks they used up."""
    marked = tie_sentences(case)
    sentences = case.note.segments.sentences
    drafts: list[FactDraft] = []
    used: set[int] = set()
    going_on = False
    places, colored = _by_sentence(case, positions), _by_sentence(case, looks)
    for sentence in sentences:
        own, colors = places[sentence.number], colored[sentence.number]
        by_surface = _surface_pairs(case, sentence.start, sentence.end) if going_on or sentence.number in marked else []
        if by_surface:
            drafts += by_surface
            used |= {p.start for p in own}
            going_on = True
            continue
        if sentence.number in marked:
            going_on = True
        elif not own:
            going_on = going_on and sentence.end - sentence.start < 12
        if not going_on:
            continue
        pairs = _position_pairs(case, own)
        if sentence.number not in marked and not pairs:
            going_on = not own
            continue
        renewed = [p.name for pair in pairs for p in pair] if pairs and case.correction(pairs[0][0].start) else []
        if renewed:
            drafts = [d for d in drafts if not set(renewed) & set(_ends(d))]
        for a, b in pairs:
            drafts.append(FactDraft("ties", {"between": [a.name, b.name]}, case.spans([(a.start, b.end)], RULE)))
            used |= {a.start, b.start}
        if sentence.number in marked:
            if not pairs:
                drafts += _region_pairs(case, sentence.start, sentence.end)
            start = _tie_start(case, sentence.start, sentence.end)
            colors = [k for k in colors if k.start >= start]
            if colors and not [p for p in own if p.start >= start]:
                found = _color_pairs(case, colors, laid)
                drafts += found
                used |= {k.start for k in colors} if found else set()
    return _unique(drafts), used


def _by_sentence(case: Case, items: Sequence[Said]) -> dict[int, list[Said]]:
    table: dict[int, list[Said]] = defaultdict(list)
    for item in items:
        table[case.sentence(item.start).number].append(item)
    return table


def _tie_start(case: Case, start: int, end: int) -> int:
    """Where the words of tying begin: in speech without punctuation a sentence may tell of passing first."""
    if end - start <= LONG:
        return start
    return case.clause(case.within("tie", start, end)[-1].start).start


def _surface_pairs(case: Case, start: int, end: int) -> list[FactDraft]:
    """'Top to bottom at the back'; 'at each end the superior suture was tied to the inferior one'."""
    surfaces = case.within("surface", start, end)
    regions = [c for c in case.within("region", start, end) if c.name in QUADRANT]
    drafts = []
    for a, b in zip(surfaces, surfaces[1:], strict=False):
        between = case.words[a.end : b.start]
        joined = bool(JOINERS & set(between)) and all(w in JOINERS or w in SPARE for w in between) and a.name != b.name
        if not joined or any(a.start - 2 <= r.start < b.start for r in regions):
            continue
        after = [
            r
            for r in regions
            if 0 <= r.start - b.end <= 5 and not (r.start < len(case.words) and case.within("surface", b.end, r.start))
        ]
        both = {"each", "both"} & set(case.words[start:end])
        named = sorted(QUADRANT) if both else [after[0].name] if after else []
        for name in named:
            drafts.append(
                FactDraft(
                    "ties",
                    {"between": [f"{name}-superior", f"{name}-inferior"]},
                    case.spans([(a.start, b.end)], RULE),
                    0.9,
                )
            )
    return drafts


def _position_pairs(case: Case, own: Sequence[Position]) -> list[tuple[Position, Position]]:
    pairs: list[tuple[Position, Position]] = []
    i = 0
    while i + 1 < len(own):
        if _joined(case.words[own[i].end : own[i + 1].start]):
            pairs.append((own[i], own[i + 1]))
            while i + 2 < len(own) and _put_right(case, own[i + 1], own[i + 2]):
                pairs[-1] = (own[i], own[i + 2])
                i += 1
            i += 2
        else:
            i += 1
    return pairs


def _joined(between: Sequence[str]) -> bool:
    """Whether these words tie what stands before them to what follows; behind a pause a bare 'and' goes on a list."""
    spoken = [w for w in between if w != ","]
    joiners = JOINERS & set(spoken)
    if len(spoken) < len(between):
        joiners -= {"and", "/"}
    return bool(joiners) and all(w in JOINERS or w in SPARE for w in spoken)


def _put_right(case: Case, wrong: Position, right: Position) -> bool:
    """'... tied to anterior inferior, no, to posterior inferior'."""
    return put_right(case.words, wrong.end, right.start, JOINERS | SPARE)


def _region_pairs(case: Case, start: int, end: int) -> list[FactDraft]:
    """'The two posterior ones were tied to each other', 'anterior pair tied'."""
    drafts = []
    for region in case.within("region", start, end):
        if region.name not in {"anterior", "posterior"}:
            continue
        before = set(case.words[max(start, region.start - 2) : region.start])
        after = set(case.words[region.end : min(end, region.end + 2)])
        two = case.words[region.end : region.end + 1] == ["two"] and bool(
            TWO_ARE & set(case.words[region.end + 1 : region.end + 2])
        )
        if (before & {"two", "both"} or after & PAIR or two) and not case.assertion(region.start).declines(
            region.start
        ):
            between = [f"{region.name}-superior", f"{region.name}-inferior"]
            drafts.append(FactDraft("ties", {"between": between}, case.spans([(region.start, region.end)], RULE), 0.9))
    return drafts


def _color_pairs(case: Case, colors: Sequence[Look], laid: Sequence[Laid]) -> list[FactDraft]:
    """'Yellow was tied to blue': the colors stand for the positions they were laid at."""
    where: dict[tuple[str, str | None], set[str]] = {}
    anywhere: dict[str, set[str]] = {}
    for item in laid:
        if item.look:
            where.setdefault((item.look.color, item.look.pattern), set()).add(item.position.name)
            anywhere.setdefault(item.look.color, set()).add(item.position.name)
    drafts = []
    for a, b in zip(colors[::2], colors[1::2], strict=False):
        at = where.get((a.color, a.pattern)) or anywhere.get(a.color, set())
        to = where.get((b.color, b.pattern)) or anywhere.get(b.color, set())
        if len(at) == 1 and len(to) == 1:
            between = [*at, *to]
            drafts.append(
                FactDraft("ties", {"between": between}, case.spans([(a.start, b.end)], "<color> tied to <color>"), 0.9)
            )
    return drafts


def _ends(draft: FactDraft) -> list[str]:
    between = draft.fields["between"]
    return [str(end) for end in between] if isinstance(between, list) else []


def _unique(drafts: list[FactDraft]) -> list[FactDraft]:
    seen: dict[frozenset[str], FactDraft] = {}
    for d in drafts:
        key = frozenset(d.fields["between"])  # type: ignore[call-overload]
        old = seen.get(key)
        seen[key] = FactDraft("ties", old.fields, (*old.spans, *d.spans), old.certainty) if old else d
    return list(seen.values())
