from __future__ import annotations

import itertools

from extractor.grammar.limits import Limits
from extractor.record.vocabulary import PROCEDURES, STEPS

from .builders import Note

TOLD = (
    "rim-preparation",
    "rim-abrasion",
    "defect-measurement",
    "graft-thaw",
    "graft-marking",
    "graft-cut",
    "graft-suture-passage",
    "graft-delivery",
    "suture-tying",
)


def test_told_in_order(note, flags_of):
    assert "step-order" not in flags_of(note.transplant().steps(*TOLD))


def test_a_graft_delivered_before_it_was_cut(note, flags_of):
    early = [*TOLD[:2], "graft-delivery", *[code for code in TOLD[2:] if code != "graft-delivery"]]
    flags = flags_of(note.transplant().steps(*early))["step-order"]
    assert [f.message.partition(",")[0] for f in flags] == ["Graft delivery is told before graft thaw"]
    assert "graft cut" in flags[0].message


def test_every_pair_is_raised_by_its_own_procedure_and_only_there(limits: Limits, flags_of):
    for pair in limits.orders.values():
        note = Note().say("laterality", value="left").steps(pair.after, pair.before)
        assert ("step-order" in flags_of(note)) == (pair.procedure is None)
        note.say("procedures", code=pair.procedure or "chondroplasty", extent=pair.extent)
        assert "step-order" in flags_of(note), pair.name


def test_a_step_done_twice_and_one_not_done(note, flags_of):
    note.transplant().steps("graft-thaw", "graft-cut", "graft-thaw").say(
        "steps", code="graft-marking", status="planned"
    )
    assert "step-order" not in flags_of(note)
    # "Cut it, ... after thawing I cut it": what is told again in its place was not done out of order.
    assert "step-order" not in flags_of(Note().transplant().steps("graft-cut", "graft-thaw", "graft-cut"))
    assert "step-order" in flags_of(Note().transplant().steps("graft-cut", "graft-thaw"))


def test_stitches_of_another_kind_tied_before_the_last_ones(note, flags_of):
    """Five stitches passed and tied, then one more of another kind at the front (common practice, no source)."""
    note.say("procedures", code="meniscus-repair")
    assert "step-order" not in flags_of(note.steps("inside-out-stitch", "suture-tying", "outside-in-stitch"))
    early = Note().say("procedures", code="meniscus-repair").steps("suture-tying", "outside-in-stitch")
    assert "step-order" in flags_of(early)


def test_the_pairs_of_the_packs_hold_no_circle(limits: Limits):
    after: dict[str, set[str]] = {}
    for pair in limits.orders.values():
        after.setdefault(pair.before, set()).add(pair.after)

    def reached(start: str) -> set[str]:
        seen: set[str] = set()
        todo = [start]
        while todo:
            new = after.get(todo.pop(), set()) - seen
            seen |= new
            todo += new
        return seen

    assert not [code for code in after if code in reached(code)]


def test_the_packs_use_the_contract_names(limits: Limits):
    codes = set(itertools.chain.from_iterable((p.before, p.after) for p in limits.orders.values()))
    codes |= set(itertools.chain.from_iterable(e.steps for e in limits.expected.values()))
    assert codes <= set(STEPS)
    assert {e.procedure for e in limits.expected.values()} <= set(PROCEDURES)


def test_expected_steps_not_told_are_a_note(note, flags_of):
    flag = flags_of(note.transplant().steps(*TOLD))["step-missing"][0]
    assert flag.severity == "note"
    assert "root distance measurement" in flag.message and "rim preparation" not in flag.message


def report(*names: str) -> Note:
    note = Note()
    for name in names:
        note.say("elements", name=name, text="as said")
    return note


def test_a_report_without_surgeon_and_blood_loss(flags_of):
    # Joint Commission RC.02.01.03 and FAQ 000002043 (text read): blood loss and specimens need not be said when none.
    flags = flags_of(report("postoperative_diagnosis", "anesthesia", "complications", "procedure"))["element-missing"]
    assert {f.severity: f.message for f in flags}.keys() == {"review", "note"}
    assert "does not say surgeon" in flags[0].message
    assert "blood loss and specimens" in flags[1].message


def test_three_elements_make_no_report(flags_of):
    assert "element-missing" not in flags_of(report("anesthesia", "complications", "procedure"))


def test_blood_loss_measured_is_blood_loss_said(flags_of):
    note = report("postoperative_diagnosis", "anesthesia", "complications", "surgeon", "specimens")
    assert "element-missing" in flags_of(note)
    assert "element-missing" not in flags_of(note.measure("blood_loss.volume", 20, "mL"))


def test_tissue_identifier(flags_of):
    assert "graft-identifier-missing" in flags_of(Note().transplant())
    assert "graft-identifier-missing" not in flags_of(
        Note().transplant().say("grafts", source="allograft", identifier="Q7")
    )
    bare = Note().say("grafts", source="allograft", tissue="achilles")
    assert flags_of(bare)["graft-identifier-missing"][0].facts == ("g1",)
    assert "graft-identifier-missing" not in flags_of(Note().say("grafts", source="autograft"))
    two = Note().say("grafts", source="allograft").say("grafts", source="allograft", tissue="meniscus", identifier="Q7")
    assert "graft-identifier-missing" not in flags_of(two), "one graft told twice"
    other = (
        Note()
        .say("grafts", source="allograft", tissue="achilles")
        .say("grafts", source="allograft", tissue="meniscus", identifier="Q7")
    )
    assert "graft-identifier-missing" in flags_of(other)
