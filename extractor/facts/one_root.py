"""Root stitches whose place is left out: 'First suture in the posterior root, white. Second suture, blue tape'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.draft import FactDraft

ROOT = "root"


def in_one_root(stitches: Sequence[FactDraft]) -> list[FactDraft]:
    """The stitches, those of a root that say no end of it put at the one end that the others say."""
    of_root = [d for d in stitches if d.fields.get("tissue") == ROOT]
    regions = {d.fields["region"] for d in of_root if d.fields.get("region")}
    if len(regions) != 1:
        return list(stitches)
    (region,) = regions
    unsaid = [d for d in of_root if not d.fields.get("region")]
    return [replace(d, fields={**d.fields, "region": region}) if d in unsaid else d for d in stitches]
