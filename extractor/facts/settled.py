"""Sizes that hold only where nothing measured says otherwise: off a scan, told by a bystander, or only meant."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.draft import FactDraft

SCANNED, MEANT = "scanned", "meant"
"""Roles until the whole note is read: read off a scan or told by others, and meant to be made."""
UNSETTLED = frozenset({SCANNED, MEANT, "reference", "target"})
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
    return [
        replace(d, fields={**d.fields, "role": _role(d, seen if d.fields["role"] == SCANNED else found)})
        if _open(d)
        else d
        for d in drafts
    ]


def _open(d: FactDraft) -> bool:
    return d.fields.get("role") in (SCANNED, MEANT)


def _role(d: FactDraft, seen: dict[str, set[tuple[object, ...]]]) -> str:
    told = seen.get(str(d.fields["what"]), set())
    if d.fields["role"] == SCANNED:
        return "reference" if told else "observed"
    sites = {site for site, *_ in told}
    site = d.fields.get("site")
    alike = site is None or None in sites or site in sites
    return "reference" if told and alike and _value(d)[1:] not in {v[1:] for v in told} else "target"


def _value(d: FactDraft) -> tuple[object, ...]:
    return (d.fields.get("site"), *(d.fields.get(k) for k in VALUES))
