"""Sizes that hold only where nothing measured says otherwise: off a scan, told by a bystander, or only meant."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.draft import FactDraft

SCANNED, MEANT, FIRST, TOLD_US = "scanned", "meant", "first", "told-us"
"""Roles until the whole note is read: read off a scan or told by others, meant to be made, and said first of all.

What was said first ('I remembered fifty, the sheet has sixty') yields to whatever else is told of the same thing; what
somebody read out to us, only to what is told behind it: 'sixty minutes, the nurse noted sixty-five' is a conflict.
"""
YIELDING = frozenset({FIRST, TOLD_US})
UNSETTLED = frozenset({SCANNED, MEANT, *YIELDING, "reference", "target"})
VALUES = ("value", "low", "high")


def settled(drafts: Sequence[FactDraft]) -> list[FactDraft]:
    """Drafts with the roles of the record: what was measured or made otherwise leaves the rest a mere reference.

    What was meant stays a target where it was made, if otherwise; of what is only found there is none.
    """
    seen: dict[str, set[tuple[object, ...]]] = defaultdict(set)
    found: dict[str, set[tuple[object, ...]]] = defaultdict(set)
    for d in drafts:
        role, what = d.fields.get("role"), str(d.fields.get("what"))
        if role not in UNSETTLED:
            seen[what].add(_value(d))
        if role in (None, "observed"):
            found[what].add(_value(d))
    return [replace(d, fields={**d.fields, "role": _role(d, drafts, seen, found)}) if _open(d) else d for d in drafts]


def _open(d: FactDraft) -> bool:
    return d.fields.get("role") in (SCANNED, MEANT, *YIELDING)


def _role(
    d: FactDraft,
    drafts: Sequence[FactDraft],
    seen: dict[str, set[tuple[object, ...]]],
    found: dict[str, set[tuple[object, ...]]],
) -> str | None:
    what = str(d.fields["what"])
    if d.fields["role"] in YIELDING:
        return "reference" if _told_otherwise(d, drafts) else None
    if d.fields["role"] == SCANNED:
        return "reference" if seen.get(what) else "observed"
    told = found.get(what, set())
    sites = {site for site, *_ in told}
    site = d.fields.get("site")
    alike = site is None or None in sites or site in sites
    return "reference" if told and alike and _value(d)[1:] not in {v[1:] for v in told} else "target"


def _told_otherwise(first: FactDraft, drafts: Sequence[FactDraft]) -> bool:
    """Whether what was said first yields to another value of the same thing."""
    anywhere = first.fields["role"] == FIRST
    return any(
        d.fields.get("what") == first.fields["what"]
        and d.fields.get("role") not in {*YIELDING, "reference"}
        and (anywhere or d.spans[0].start > first.spans[0].start)
        and _value(d) != _value(first)
        for d in drafts
    )


def _value(d: FactDraft) -> tuple[object, ...]:
    return (d.fields.get("site"), *(d.fields.get(k) for k in VALUES))
