"""What was ready or wanted and then let drop was not done, and near misses of it were.

Deeds and wordings are the project's own words; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

DEEDS = ("outside-in stitch", "all-inside stitch", "fibrin clot", "microfracture", "chondroplasty", "trephination")
DROPPED = (
    "{} was kept in hand for the front and never called for.", "A set for {} on the table, did not open it.",
    "A {} I wanted at the beginning, but the body was quiet, so I let it be.",
    "The set for a {} was on the back table, it went back sealed.",
    "We got everything out for a {}, then saw it was fine and put it all away.",
    "The fellow was itching for a {}, I told him to sit on his hands.",
    "A {} came up in clinic as well but she is past that.", "The {} was up on the board but we skipped it.",
)  # fmt: skip


@pytest.mark.parametrize("said", [said.format(deed) for deed in DEEDS for said in DROPPED])
def test_what_was_let_drop_is_not_told_as_done(said: str) -> None:
    text = f"Left knee arthroscopy. Portals made. Lateral meniscus torn, vertical. {said[0].upper()}{said[1:]} Closed."
    assert {s["code"] for s in facts(text, "steps") if s["status"] == "performed"} <= {"portal-placement", "closure"}
    assert not facts(text, "devices")
    assert {p["code"] for p in facts(text, "procedures") if p["status"] == "performed"} <= {"diagnostic-arthroscopy"}


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("outside-in-stitch", "One outside-in stitch was wanted in front, so I asked for the needles and placed it."),
        ("fibrin-clot", "A fibrin clot was asked for, it was put into the gap, and I left it there."),
        ("all-inside-stitch", "All-inside implants on the table, we opened three, vertical mattress."),
        ("all-inside-stitch", "One all-inside stitch I wanted at the back, and there it is."),
        ("outside-in-stitch", "Two outside-in stitches in front, horizontal, so I left it at that."),
        ("microfracture", "The microfracture awl was handed to me and six holes were made, then it was put away."),
        ("trephination", "We had everything ready for trephination and trephined the rim, then put it all away."),
    ],
)
def test_what_was_ready_and_used_is_told_as_done(code: str, said: str) -> None:
    text = f"Left knee arthroscopy. Portals made. Lateral meniscus torn, vertical. {said} Closed."
    assert code in {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}
