"""How a sentence is read: its quantities, concepts and clauses, the rules that fired and those that nearly did."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from extractor.facts.draft import FactDraft
from extractor.facts.engine import read_facts
from extractor.facts.reading import Reading
from extractor.grammar.packs import ABOUT, Grammar
from extractor.grammar.rules import Rule
from extractor.language.annotate import Note, annotate
from extractor.language.quantities import Quantity
from extractor.outputs.nearly import Nearly, nearly_fired


@dataclass(frozen=True)
class Fired:
    """A rule that read a fact: the fact, and the characters it was read from."""

    name: str
    rule: Rule | None
    draft: FactDraft
    start: int
    end: int


@dataclass(frozen=True)
class Explanation:
    """Everything seen in a sentence. `assumed` is the word that was added to make it part of a note, if one was."""

    text: str
    note: Note
    fired: tuple[Fired, ...]
    nearly: tuple[Nearly, ...]
    doubts: tuple[str, ...]
    assumed: str | None = None


def explain(text: str, grammar: Grammar) -> Explanation:
    """Read a sentence as part of a note, and say how.

    A sentence that does not say what the note is about ("the tear was fourteen millimeters") is read as if the
    note had said it elsewhere: a word of the `about` list is put behind it, and nothing said there is shown.
    """
    note = annotate(text, grammar)
    assumed = None if any(c.list == ABOUT for c in note.concepts) else _about(grammar)
    read = annotate(f"{text}\n{assumed}", grammar) if assumed else note
    reading = read_facts(read)
    fired = tuple(_fired(reading, len(text)))
    names = {(f.name, f.draft.spans[0].start) for f in fired}
    nearly = nearly_fired(reading.case, {name for name, _ in names}, len(text))
    doubts = tuple(f.message for f in reading.flags if all(s.start < len(text) for s in f.spans))
    return Explanation(text, note, fired, nearly, doubts, assumed)


def _about(grammar: Grammar) -> str | None:
    """A word of what the packs are about; of several subjects that of the last pack, which is a site's own."""
    last = grammar.subjects[-1] if grammar.subjects else grammar
    entries = [entry for name, entry in last.words if name == ABOUT]
    return entries[0].spoken[0].strip("~") if entries else None


def _fired(reading: Reading, size: int) -> Iterator[Fired]:
    rules = {rule.name: rule for rule in reading.case.grammar.rules}
    for draft in reading.drafts:
        own = [span for span in draft.spans if span.start < size]
        for name in dict.fromkeys(span.rule for span in own):
            spans = [span for span in own if span.rule == name]
            start, end = min(s.start for s in spans), min(size, max(s.end for s in spans))
            yield Fired(name, rules.get(name), draft, start, end)


def as_json(found: Explanation) -> dict[str, Any]:
    """Give an explanation as plain data, positions in characters of the sentence."""
    note = found.note
    return {
        "text": found.text,
        "quantities": [_quantity(note, q) for q in note.quantities],
        "concepts": [
            {"list": c.list, "name": c.name, **_span(note, c.start, c.end)} for c in note.concepts
        ],
        "clauses": [
            {**_span(note, clause.start, clause.end), "mood": a.mood, "negated": a.negated or a.ahead is not None}
            for clause, a in zip(note.segments.clauses, note.assertions, strict=True)
            if clause.end > clause.start
        ],
        "rules": {"fired": [_rule(f) for f in found.fired], "nearly": [_near(n) for n in found.nearly]},
        "repairs": [asdict(r) for r in note.repairs],
        "doubts": list(found.doubts),
        "assumed": found.assumed,
    }  # fmt: skip


def _span(note: Note, start: int, end: int) -> dict[str, Any]:
    first, last = note.tokens.starts[start], note.tokens.ends[end - 1]
    return {"start": first, "end": last, "text": note.tokens.text[first:last]}


def _quantity(note: Note, q: Quantity) -> dict[str, Any]:
    out = {
        "value": q.value, "low": q.low, "high": q.high, "unit": q.unit, **_span(note, q.start, q.end),
        "kind": q.kind, "dimension": q.dimension, "said_unit": q.said_unit, "approximate": q.approximate,
        "earlier_values": [*q.earlier, *q.counted], "rivals": list(q.rivals), "written": q.text,
    }  # fmt: skip
    return {key: _whole(value) for key, value in out.items()}


def _whole(value: Any) -> Any:
    """Write 19.0 as 19."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _rule(fired: Fired) -> dict[str, Any]:
    rule = fired.rule
    return {
        "rule": fired.name, "where": rule.where if rule else "built in", "kind": fired.draft.kind,
        "fact": {k: v for k, v in fired.draft.fields.items() if v not in (None, [], ())},
        "certainty": fired.draft.certainty, "start": fired.start, "end": fired.end,
    }  # fmt: skip


def _near(near: Nearly) -> dict[str, Any]:
    return {
        "rule": near.rule.name, "where": near.rule.where, "gives": f"{near.rule.kind} {near.rule.value}",
        "why_not": near.why, "start": near.start, "end": near.end,
    }  # fmt: skip


def as_text(found: Explanation) -> str:
    """Write an explanation for reading, plain."""
    data = as_json(found)
    out = []
    if found.assumed:
        out.append(f"Read as part of a note about the {found.assumed}; the sentence does not say what it is about.\n")
    out += _block("Quantities", [_quantity_line(q) for q in data["quantities"]])
    out += _block("Concepts", [f'{c["list"]}:{c["name"]}  "{c["text"]}"' for c in data["concepts"]])
    out += _block("Clauses", [f'{_mood(c)}  "{" ".join(c["text"].split())}"' for c in data["clauses"]])
    out += _block("Rules that fired", [_fired_line(r) for r in data["rules"]["fired"]])
    out += _block("Rules that nearly fired", [_near_line(n, found.text) for n in data["rules"]["nearly"]])
    out += _block("Misheard and put right", [_repair_line(r) for r in data["repairs"]]) if data["repairs"] else []
    out += _block("Doubts", data["doubts"]) if data["doubts"] else []
    return "\n".join(out)


def _block(title: str, lines: Sequence[str]) -> list[str]:
    return [title, *(f"  {line}" for line in (lines or ["none"])), ""]


def _quantity_line(q: dict[str, Any]) -> str:
    if q["value"] is None and q["low"] is None and q["high"] is None:
        value = q["written"] or "?"
    elif q["value"] is not None:
        value = str(q["value"])
    else:
        value = f"{'' if q['low'] is None else q['low']}..{'' if q['high'] is None else q['high']}"
    extras = [q["kind"]] if q["kind"] != "quantity" else []
    extras += ["about"] if q["approximate"] else []
    extras += [f"after {', '.join(f'{e:g}' for e in q['earlier_values'])}"] if q["earlier_values"] else []
    extras += [f"or {', '.join(f'{e:g}' for e in q['rivals'])}"] if q["rivals"] else []
    return f'{value} {q["unit"] or "(no unit)"}  "{q["text"]}"' + (f"  {'; '.join(extras)}" if extras else "")


def _mood(clause: dict[str, Any]) -> str:
    return f"{clause['mood']}{', denied' if clause['negated'] else ''}"


def _repair_line(repair: dict[str, Any]) -> str:
    settled = "" if repair["settled"] else " (not settled)"
    return f'"{repair["heard"]}" read as "{repair["read_as"]}": {repair["why"]}{settled}'


def _near_line(near: dict[str, Any], text: str) -> str:
    words = " ".join(text[near["start"] : near["end"]].split())
    return f'{near["rule"]} ({near["gives"]}): {near["why_not"]}; in "{words}"  [{near["where"]}]'


def _fired_line(rule: dict[str, Any]) -> str:
    fact = ", ".join(f"{k}={_whole(v)}" for k, v in rule["fact"].items())
    return f"{rule['rule']}: {rule['kind']} {fact}  [{rule['where']}]"
