"""A record's codes and values in plain words, the same in every output."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from extractor.checks.words import number, said, span, with_unit
from extractor.grammar.limits import Limits
from extractor.record.facts import Evidence, Known, Measurement, PlanItem, Procedure, Suture

ABBREVIATIONS = frozenset({"acl", "pcl", "mcl", "lcl", "icrs", "usp"})
"""Parts of codes that are written in capitals."""
QUOTED = 44
"""Characters of a quotation that are shown."""


@dataclass(frozen=True)
class Wording:
    """What measurements are called, as the packs' limits word it."""

    called: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, limits: Limits) -> Wording:
        """Take the names from the limits of the packs in force."""
        return cls({name: limit.called for name, limit in limits.measurements.items()})

    def measurement(self, fact: Measurement) -> str:
        """Name a measurement: 'width of the tunnel (femoral)'."""
        asides = [plain(part) for part in (fact.site, fact.when, fact.purpose) if part]
        name = self.called.get(fact.what) or plain(fact.what.replace(".", " "))
        return f"{name} ({', '.join(asides)})" if asides else name


def plain(code: str) -> str:
    """Write a code as words: 'medial-femoral-condyle' gives 'medial femoral condyle'."""
    words = code.replace("-", " ").replace("_", " ").split()
    return " ".join(word.upper() if word in ABBREVIATIONS else word for word in words)


def measured(fact: Measurement) -> str:
    """Write a measurement's value; a missing unit is said."""
    return said(fact) if fact.unit else f"{said(fact)} (no unit)"


def procedure_words(fact: Procedure) -> str:
    """Name a procedure: 'segmental lateral meniscus transplant'."""
    name = plain(fact.code)
    parts = [fact.extent, None if fact.compartment and fact.compartment in name.split() else fact.compartment]
    return " ".join([*(plain(p) for p in parts if p), name])


def look(suture: Suture) -> str:
    """How a suture looks: 'striped blue tape'; empty where nothing was said of it."""
    form = suture.form if suture.form and suture.form != "suture" else None
    return " ".join(plain(part) for part in (suture.pattern, suture.color, form) if part)


def stitch_words(suture: Suture) -> str:
    """A suture or a set of stitches in one line: '2 all inside vertical mattress, blue, size 2-0'."""
    what = " ".join(plain(part) for part in (suture.technique, suture.configuration) if part) or "suture"
    parts = [f"{suture.count} {what}" if suture.count else what]
    parts += [look(suture)] if look(suture) else []
    parts += [f"size {suture.usp_size}"] if suture.usp_size else []
    parts += [plain(suture.role)] if suture.role else []
    return ", ".join(parts)


def place_words(suture: Suture) -> str:
    """Where a suture sits: 'posterior superior, native'."""
    position = " ".join(plain(part) for part in (suture.region, suture.surface) if part)
    return ", ".join(part for part in (position, plain(suture.tissue) if suture.tissue else "") if part)


def plan_words(item: PlanItem) -> tuple[str, str]:
    """A plan item's name and value."""
    if isinstance(item.value, str):
        return plain(item.item), plain(item.value)
    low, high = (item.value, item.value) if item.value is not None else (item.low, item.high)
    if low is None or high is None:
        bound = f"at least {number(low)}" if low is not None else f"at most {number(high)}" if high is not None else ""
        return plain(item.item), with_unit(bound, item.unit)
    shown = span(low, high, item.unit)
    return plain(item.item), shown[:-1] if low == high == 1 and shown.endswith("s") else shown


def clock(seconds: float) -> str:
    """Seconds as m:ss, or h:mm:ss from an hour on."""
    whole = int(seconds)
    hours, rest = divmod(whole, 3600)
    minutes, left = divmod(rest, 60)
    return f"{hours}:{minutes:02}:{left:02}" if hours else f"{minutes}:{left:02}"


def quoted(text: str, most: int = QUOTED) -> str:
    """The words said, in quotes, shortened in the middle of nowhere but at a word."""
    words = " ".join(text.split())
    if len(words) > most:
        words = words[: most - 3].rsplit(" ", 1)[0] + " ..."
    return f'"{words}"'


def said_at(evidence: Iterable[Evidence], most: int = QUOTED) -> str:
    """Where something was said: the second of the recording, else the words."""
    first = next(iter(evidence), None)
    if first is None:
        return ""
    return clock(first.start_s) if first.start_s is not None else quoted(first.text, most)


def has_sound(facts: Iterable[Known]) -> bool:
    """Whether the evidence has seconds."""
    return any(e.start_s is not None for fact in facts for e in fact.evidence)
