"""The list of quadrants: sutures of the native tissue and of the graft.

'The same on the graft' repeats the native sutures, unless the graft's are then told one by one.
"""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft, FlagDraft
from extractor.facts.pairing import Laid
from extractor.facts.positions import landmarks
from extractor.facts.stitch_heads import is_count
from extractor.language.clauses import Span

RULE = "<look> at <position>, in the tissue in hand"
SAME = "the same sutures in the graft"
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


def tissue_at(case: Case, token: int, sentence_end: int) -> tuple[str, tuple[int, int] | None]:
    """The tissue in hand at a token: said in its clause, or last before it; native where none was said."""
    clause = case.clause(token)
    own = case.within("tissue", clause.start, min(clause.end, sentence_end))
    last = case.last("tissue", max(token, clause.start) + 1) or (own[0] if own else None)
    if last is None:
        return "native", None
    return last.name, (last.start, last.end)


def quadrant_drafts(case: Case, laid: Sequence[Laid]) -> list[FactDraft]:
    """Suture facts of both tissues, the graft's expanded from the native ones where they are 'the same'."""
    drafts: list[FactDraft] = []
    for item in laid:
        sentence = case.sentence(item.position.start)
        tissue, place = tissue_at(case, item.position.start, sentence.end)
        tissue = item.tissue or tissue
        draft = _draft(case, item, "graft" if tissue == "graft" else "native", place, sentence)
        if case.correction(min(item.pieces)[0]):
            drafts = [d for d in drafts if _where(d) != _where(draft)]
        drafts.append(draft)
        if place and item.tissue is None and _with_graft(case, place):
            other = {**draft.fields, "tissue": "native" if draft.fields["tissue"] == "graft" else "graft"}
            drafts.append(FactDraft("sutures", other, draft.spans))
    drafts = _merged(drafts)
    native = [d for d in drafts if d.fields["tissue"] == "native"]
    if native and not any(d.fields["tissue"] == "graft" for d in drafts):
        drafts += _repeated(case, native)
    return drafts


def _with_graft(case: Case, place: tuple[int, int]) -> bool:
    """'Native and graft sutures correspond: ...': both tissues were named in one breath, and the list is of both."""
    near = [c for c in case.within("tissue", max(0, place[0] - 3), place[1]) if c.name in {"native", "graft"}]
    if len(near) != 2 or near[0].name == near[1].name:
        return False
    return {"and"} <= set(case.words[near[0].end : near[1].start]) <= {"and", "the", "meniscus", "side"}


def _merged(drafts: list[FactDraft]) -> list[FactDraft]:
    """The same suture at the same position told twice is one fact; a look left out is the one told."""
    out: list[FactDraft] = []
    for d in drafts:
        for i, old in enumerate(out):
            if _where(d) == _where(old) and all(
                old.fields.get(k) in (None, v) or d.fields.get(k) is None for k, v in d.fields.items()
            ):
                out[i] = FactDraft(d.kind, {**d.fields, **old.fields}, (*old.spans, *d.spans))
                break
        else:
            out.append(d)
    return out


def _where(draft: FactDraft) -> tuple[object, object, object]:
    return draft.fields["tissue"], draft.fields["region"], draft.fields["surface"]


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
        fields |= {"color": look.color, "pattern": look.pattern, "form": look.form}
        role = case.last("suture-role", sentence.end, floor=max(0, sentence.start - 30)) if tissue == "native" else None
        if role:
            fields["role"] = role.name
    pieces = [*item.pieces, *([place] if place else [])]
    return FactDraft("sutures", {k: v for k, v in fields.items() if v is not None}, case.spans(pieces, RULE))


def _repeated(case: Case, native: list[FactDraft]) -> list[FactDraft]:
    for same in case.by_list["same"]:
        sentence = case.sentence(same.start)
        graft = [c for c in case.within("tissue", sentence.start, sentence.end) if c.name == "graft"]
        if not graft or case.assertion(same.start).mood != "performed" or case.assertion(same.start).negated:
            continue
        start = case.note.tokens.starts[same.start]
        before = [d for d in native if d.spans[0].start < start]
        if not before:
            continue
        colors = [c.name for c in case.within("color", same.start, sentence.end)]
        said = colors if len(colors) == len(before) else [d.fields.get("color") for d in before]
        spans = case.spans([(same.start, same.end), (graft[0].start, graft[0].end)], SAME)
        out = []
        for draft, color in zip(before, said, strict=True):
            fields = {k: v for k, v in draft.fields.items() if k != "role"} | {"tissue": "graft", "color": color}
            out.append(FactDraft("sutures", fields, (*spans, *draft.spans[:1]), 0.9))
        return out
    return []
