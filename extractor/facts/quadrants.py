"""The four-quadrant list: which look went to which position, in the native tissue and in the graft.

Speakers say it position first or look first, with or without pauses; inside one list they keep to one
order. Where each part between pauses holds one of either, they belong together; else the list is read
in the order its first item sets. 'The same on the graft' repeats the native sutures, unless the graft's
are then told one by one.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.positions import Look, Position
from extractor.facts.stitch_heads import is_count
from extractor.language.clauses import Span
from extractor.language.corrections import put_right, taken_back

RULE = "<look> at <position>, in the tissue in hand"
SAME = "the same sutures in the graft"
CLAIM = "<count> sutures, announced"


@dataclass(frozen=True)
class Laid:
    """A look at a position, and the tokens that say so."""

    position: Position
    look: Look | None

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
    waiting: list[Position | Look] = []
    items: list[Position | Look] = [*positions, *looks]
    items.sort(key=lambda i: i.start)
    starts = [i.start for i in items]
    for sentence in case.note.segments.sentences:
        own = items[bisect_left(starts, sentence.start) : bisect_left(starts, sentence.end)]
        kinds = {type(item) for item in own}
        if not own:
            waiting = []
        elif laid and kinds == {Look} and len(own) == 1 and case.correction(own[0].start):
            laid[-1] = Laid(laid[-1].position, own[0]) if isinstance(own[0], Look) else laid[-1]
            waiting = []
        elif len(kinds) == 1 and not waiting:
            waiting = own if len(own) == 1 else []
            if Position in kinds and len(own) > 1:
                laid += [Laid(p, None) for p in own if isinstance(p, Position)]
        elif len(kinds) == 1 and len(own) == 1 and type(waiting[0]) is not type(own[0]):
            laid += _sequence([*waiting, *own])
            waiting = []
        elif len(kinds) == 1:
            waiting = own if len(own) == 1 else []
        else:
            laid += _by_parts(case, sentence, own) or _sequence(_corrected(case, own))
            waiting = []
    return laid


def _by_parts(case: Case, sentence: Span, own: list[Position | Look]) -> list[Laid]:
    """One position and one look in every part between pauses; an empty list where that is not so."""
    level = case.note.segments.level
    parts: list[list[Position | Look]] = [[]]
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


def _corrected(case: Case, own: list[Position | Look]) -> list[Position | Look]:
    """Of two looks, or two positions, in a row with a word of correction between, the last."""
    out: list[Position | Look] = []
    for item in own:
        if out and isinstance(item, Look) and isinstance(out[-1], Look):
            between = (out[-1].end, item.start)
            if taken_back(case.words, *between) or put_right(case.words, *between):
                out[-1] = item
                continue
        if out and isinstance(item, Position) and isinstance(out[-1], Position):
            if put_right(case.words, out[-1].end, item.start):
                out[-1] = item
                continue
        out.append(item)
    return out


def _sequence(own: list[Position | Look]) -> list[Laid]:
    """Read a list in the order its first item sets."""
    p = [i for i in own if isinstance(i, Position)]
    k = [i for i in own if isinstance(i, Look)]
    if len(p) == len(k):
        return [Laid(a, b) for a, b in zip(p, k, strict=True)]
    laid = []
    first_is_position = isinstance(own[0], Position)
    for i, item in enumerate(own):
        if not isinstance(item, Position):
            continue
        other = (
            own[i + 1]
            if first_is_position and i + 1 < len(own)
            else own[i - 1]
            if not first_is_position and i
            else None
        )
        laid.append(Laid(item, other if isinstance(other, Look) else None))
    return laid


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
        draft = _draft(case, item, "graft" if tissue == "graft" else "native", place, sentence)
        if case.correction(min(item.pieces)[0]):
            drafts = [d for d in drafts if _where(d) != _where(draft)]
        drafts.append(draft)
    drafts = _merged(drafts)
    native = [d for d in drafts if d.fields["tissue"] == "native"]
    if native and not any(d.fields["tissue"] == "graft" for d in drafts):
        drafts += _repeated(case, native)
    return drafts


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
