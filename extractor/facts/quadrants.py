"""The list of quadrants: sutures of the native tissue and of the graft.

'The same on the graft' repeats the native sutures, unless the graft's are then told one by one.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft, FlagDraft
from extractor.facts.pairing import Laid, laid_by_sentence
from extractor.facts.positions import landmarks
from extractor.facts.repeated import with_repeated
from extractor.facts.stitch_counts import is_count
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

RULE = "<look> at <position>, in the tissue in hand"
PLACED = "suture-tissue"
HANDLED = ("graft-handling", "form", "color", "suture-role")
POINTING = frozenset({"the", "this", "that", "his", "her", "in", "on", "through", "into", "to"})
"""Before the name of an operation they make it the graft itself: 'in the meniscal allograft'."""
TITLE = 5
"""Tokens of the name of an operation before the word for its graft, at most."""
FAR = 2
"""Sentences before in which a place may have told the tissue."""
IN_IT = frozenset({"in", "into", "through", "on"})
BEFORE_TISSUE = frozenset({",", "the", "her", "his", "its", "all", "both", "each", "of", "them", "placed"})
FEW = 4
"""Pieces of a list before its tissue that are looked at for the last one."""
MOST_BETWEEN = 5
"""Tokens between a list of sutures and the tissue that closes it, at most."""
CLOSING = (["on", "the"], ["of", "the"], ["in", "the"])
BOTH_TISSUES = frozenset({"and", "the", "side"})
"""Plain words between the names of the two tissues where something is said of both."""
CLAIM = "<count> sutures, announced"


def landmark_doubts(case: Case, laid: Sequence[Laid]) -> list[FlagDraft]:
    """A doubt where ends were named by landmarks: which is which is inferred."""
    marks = landmarks(case) if laid else []
    if not marks:
        return []
    ways = {case.note.tokens.said(c.start, c.end): c.name for c in marks}
    told = ", ".join(f"'{said}' as the {end} end" for said, end in ways.items())
    return [
        FlagDraft("term-uncertain", f"Read {told}; is that so?", case.spans([(c.start, c.end) for c in marks], RULE))
    ]


def order_doubts(case: Case, laid: Sequence[Laid]) -> list[FlagDraft]:
    """A doubt where nothing but the order of telling says which suture lies above and which below."""
    found = [item for item in laid if item.position.inferred and item.look]
    if not found:
        return []
    told = ", ".join(
        f"{item.look.color or item.look.pattern} as {item.position.name.replace('-', ' ')}"
        for item in found
        if item.look
    )
    message = f"Read {told}, in the order told for the other end; is that so?"
    spans = case.spans([piece for item in found for piece in item.pieces], RULE)
    return [FlagDraft("term-uncertain", message, spans, tuple(_key(item) for item in found))]


def _key(item: Laid) -> str:
    return f"in turn {item.position.start}" if item.position.inferred else ""


def tissue_at(case: Case, token: int, sentence_end: int) -> tuple[str, tuple[int, int] | None]:
    """The tissue in hand at a token: said in its clause, or last before it; native where none was said."""
    sentence, clause = case.sentence(token), case.clause(token)
    parts = case.grammar.concepts_in("tissue-part")
    here = [c for c in case.within("tissue", sentence.start, max(token, clause.start) + 1) if not _in_name(case, c)]
    here = [c for c in here if c.key not in parts]
    own = [c for c in case.within("tissue", clause.start, min(clause.end, sentence_end)) if c.key not in parts]
    placed = case.within(PLACED, sentence.start, token + 1)
    last = _strongest(case, here) or (own[0] if own else None) or (placed[-1] if placed else None)
    if last is None:
        floor = case.note.segments.sentences[max(0, sentence.number - FAR)].start
        before = (c for c in case.earlier("tissue", sentence.start) if c.key not in parts)
        last = next((c for c in before if not _in_name(case, c)), None)
        if last:
            whole = case.sentence(last.start)
            named = [c for c in case.within("tissue", whole.start, whole.end) if c.key not in parts]
            last = _strongest(case, named)
        placed = case.within(PLACED, floor, sentence.start)
        if last and placed and placed[-1].start > last.end:
            last = placed[-1]
    if last is None:
        return "native", None
    return last.name.removesuffix("-place"), (last.start, last.end)


def _trailing(case: Case, item: Laid, sentence: Span) -> tuple[str, tuple[int, int]] | None:
    """'Anterior superior and anterior inferior, that's white and black on the graft': the tissue closes the list."""
    said = [c for c in case.within("tissue", sentence.start, sentence.end) if c.name in {"native", "graft"}]
    if item.look is None or len(said) != 1 or said[0].start < item.pieces[-1][1]:
        return None
    lead = case.words[said[0].start - 2 : said[0].start]
    colored = any(c.end == said[0].start - 2 for c in case.within("color", item.look.start, said[0].start))
    return (said[0].name, (said[0].start, said[0].end)) if colored and lead in CLOSING else None


def _closed_by(
    case: Case, item: Laid, listed: Sequence[tuple[int, int]], sentence: Span
) -> tuple[str, tuple[int, int]] | None:
    """'White posterior superior, blue posterior inferior in the native meniscus': the tissue told behind its list.

    None is told before the list in the sentence, and nothing stands between the list and its tissue. `listed` are the
    tokens of the sentence's sutures in order.
    """
    parts = case.grammar.concepts_in("tissue-part")
    named = [c for c in case.within("tissue", sentence.start, sentence.end) if c.name in {"native", "graft"}]
    named = [c for c in named if c.key not in parts and not _in_name(case, c)]
    if item.look is None or not named or named[0].start < listed[0][0]:
        return None
    end = max(b for _, b in item.pieces)
    tissue = next((c for c in named if c.start >= end), None)
    if tissue is None:
        return None
    before = bisect_left(listed, (tissue.start, 0))
    last = max((b for _, b in listed[max(0, before - FEW) : before] if b <= tissue.start), default=end)
    between = case.words[last : tissue.start]
    closes = bool(IN_IT & set(between)) and set(between) <= IN_IT | BEFORE_TISSUE and len(between) <= MOST_BETWEEN
    return (tissue.name, (tissue.start, tissue.end)) if closes else None


def _strongest(case: Case, said: Sequence[Concept]) -> Concept | None:
    """Of tissues said in a sentence the last; 'shuttle' means a native one only where no other is named."""
    sure = [c for c in said if not case.within("suture-role", c.start, c.end)]
    return next(reversed(sure or list(said)), None)


def _in_name(case: Case, tissue: Concept) -> bool:
    """Whether a tissue is only a part of what the operation is called: 'meniscal allograft transplantation'.

    So it is in 'a segmental allograft', where nothing is said to be done to it.
    """
    if not case.grammar.plain_words("graft-work").isdisjoint(case.words[tissue.end : tissue.end + 1]):
        return True
    named = case.within("operation", max(0, tissue.start - TITLE), tissue.start + 1)
    clause = case.clause(tissue.start)
    handled = any(case.within(name, clause.start, clause.end) for name in HANDLED)
    titles = [c for c in named if c.start < tissue.start < c.end and case.words[c.start - 1] not in POINTING]
    return bool(titles) and not handled


def quadrant_drafts(case: Case, laid: Sequence[Laid]) -> list[FactDraft]:
    """Suture facts of both tissues, the graft's expanded from the native ones where they are 'the same'."""
    drafts: list[FactDraft] = []
    unsaid = _first_of_two(case, laid)
    told = laid_by_sentence(case, laid)
    listed = {number: sorted(p for k in items if k.look for p in k.pieces) for number, items in told.items()}
    for item in laid:
        sentence = case.sentence(item.position.start)
        tissue, place = (
            _trailing(case, item, sentence)
            or _closed_by(case, item, listed[sentence.number], sentence)
            or tissue_at(case, item.position.start, sentence.end)
        )
        tissue = item.tissue or ("native" if item.position.start < unsaid else tissue)
        draft = _draft(case, item, "graft" if tissue == "graft" else "native", place, sentence)
        if case.correction(min(item.pieces)[0]):
            drafts = [d for d in drafts if _where(d) != _where(draft)]
            if drafts and item.look and _looks(drafts[-1]) == _looks(draft):
                drafts.pop()  # 'White superior. I take that back, white inferior.'
        drafts.append(draft)
        if place and item.tissue is None and _with_graft(case, place, item.pieces[0]):
            other = {**draft.fields, "tissue": "native" if draft.fields["tissue"] == "graft" else "graft"}
            drafts.append(FactDraft("sutures", other, draft.spans))
    return with_repeated(case, _merged(drafts))


def _first_of_two(case: Case, laid: Sequence[Laid]) -> int:
    """Up to which token sutures are native though the graft was spoken of before them: '... marked and cut. White ...'.

    Nothing said near them tells which tissue they are in, nothing else is told of the native one, and behind them the
    sutures of the graft are told in so many words. 0 where that is not so.
    """
    told: list[tuple[int, str, bool]] = []
    for item in laid:
        sentence = case.sentence(item.position.start)
        tissue, place = tissue_at(case, item.position.start, sentence.end)
        far = place is None or case.sentence(place[0]).number < sentence.number - 1
        told.append((item.position.start, item.tissue or tissue, far and item.tissue is None))
    if not told or any(tissue != "graft" for _, tissue, _ in told) or not told[0][2]:
        return 0
    named = [start for start, _, far in told if not far]
    same = [c.start for c in case.by_list["same"] if _of_graft(case, c)]
    behind = [at for at in (*named, *same) if at > told[0][0]]
    return min(behind, default=0)


def _of_graft(case: Case, same: Concept) -> bool:
    sentence = case.sentence(same.start)
    return any(c.name == "graft" for c in case.within("tissue", sentence.start, sentence.end))


def _with_graft(case: Case, place: tuple[int, int], told: tuple[int, int]) -> bool:
    """'Native and graft sutures correspond: ...': both tissues were named in one breath, and the list is of both.

    So it is where they close the list, '..., in the native meniscus and in the graft alike', or stand within what is
    `told`: 'posterior superior, native and graft, white'.
    """
    near = [c for c in case.within("tissue", max(0, place[0] - 3), place[1]) if c.name in {"native", "graft"}]
    if len(near) == 2 and near[0].name != near[1].name:
        return {"and"} <= set(case.words[near[0].end : near[1].start]) <= BOTH_TISSUES
    behind = [c for c in case.within("tissue", place[1], place[1] + MOST_BETWEEN) if c.name in {"native", "graft"}]
    if not near or not behind or behind[0].name == near[-1].name:
        return False
    closed = case.words[behind[0].end : behind[0].end + 1]
    joined = {"and"} <= set(case.words[place[1] : behind[0].start]) <= BOTH_TISSUES | IN_IT
    within = told[0] <= place[0] and behind[0].end <= told[1]
    return joined and (within or not closed or closed[0] in {".", "alike", ";", "\n"})


def _merged(drafts: list[FactDraft]) -> list[FactDraft]:
    """The same suture at the same position told twice is one fact; a look left out is the one told."""
    out: list[FactDraft] = []
    for d in drafts:
        for i, old in enumerate(out):
            if _where(d) == _where(old) and all(
                old.fields.get(k) in (None, v) or d.fields.get(k) is None for k, v in d.fields.items()
            ):
                out[i] = FactDraft(d.kind, {**d.fields, **old.fields}, (*old.spans, *d.spans), key=old.key or d.key)
                break
        else:
            out.append(d)
    return out


def _where(draft: FactDraft) -> tuple[object, object, object]:
    return draft.fields["tissue"], draft.fields["region"], draft.fields["surface"]


def _looks(draft: FactDraft) -> tuple[object, ...]:
    return tuple(draft.fields.get(k) for k in ("tissue", "color", "pattern", "form"))


def claim_drafts(case: Case, laid: Sequence[Laid]) -> list[FactDraft]:
    """Numbers of sutures announced before they are told one by one: 'four native sutures'."""
    if not laid:
        return []
    first, last = case.sentence(laid[0].position.start).start - 60, case.sentence(laid[-1].position.start).end
    drafts: dict[tuple[str, int], FactDraft] = {}
    for q in case.note.quantities:
        if not is_count(q) or not first <= q.start < last or not 2 <= int(q.value or 0) <= 12:
            continue
        sentence = case.sentence(q.start)
        if case.within("technique", sentence.start, sentence.end) or case.assertion(q.start).mood != "performed":
            continue
        if not _announces(case, q.end):
            continue
        tissue, _ = tissue_at(case, min(q.end + 4, sentence.end - 1), sentence.end)
        fields = {"what": "sutures", "tissue": "graft" if tissue == "graft" else "native", "count": int(q.value or 0)}
        drafts.setdefault(
            (tissue, int(q.value or 0)), FactDraft("claims", fields, case.spans([(q.start, q.end)], CLAIM))
        )
    return list(drafts.values())


def _announces(case: Case, end: int) -> bool:
    after = case.words[end : end + 5]
    if after[:2] in (["of", "them"], ["of", "these"], ["of", "those"]):
        return True
    for i, word in enumerate(after[:4]):
        if word in {",", ".", "and", "\n"} or case.within("color", end + i, end + i + 1):
            return False
        if case.within("form", end + i, end + i + 1) or case.within("suture-role", end + i, end + i + 1):
            return True
        if word in {"through", "in", "for"} and case.within("tissue", end + i, end + i + 4):
            return True
    return False


def _draft(case: Case, item: Laid, tissue: str, place: tuple[int, int] | None, sentence: Span) -> FactDraft:
    fields: dict[str, object] = {"tissue": tissue, "region": item.position.region, "surface": item.position.surface}
    look = item.look
    if look:
        fields |= {"color": look.color or None, "pattern": look.pattern, "form": look.form, "usp_size": look.usp_size}
        role = case.last("suture-role", sentence.end, floor=max(0, sentence.start - 30))
        if role and (tissue == "native" or _graft_said(case, role)):
            fields["role"] = role.name
    pieces = [*item.pieces, *([place] if place else [])]
    told = {k: v for k, v in fields.items() if v is not None}
    return FactDraft("sutures", told, case.spans(pieces, RULE), key=_key(item))


def _graft_said(case: Case, role: Concept) -> bool:
    """Whether a role was said of the graft's sutures: 'graft shuttles: ...'."""
    sentence = case.sentence(role.start)
    return any(c.name == "graft" for c in case.within("tissue", sentence.start, sentence.end))
