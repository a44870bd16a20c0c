from __future__ import annotations

import pytest

from .builders import Note

FOUR = ("white", "blue", "green", "black")
GOOD = [("posterior-superior", "posterior-inferior"), ("anterior-superior", "anterior-inferior")]
SUTURE_CHECKS = {"suture-unpaired", "suture-color-conflict", "suture-count-mismatch", "tie-mismatch"}


def suture_flags(flags: dict) -> set[str]:
    return SUTURE_CHECKS & set(flags)


def test_a_clean_case(note, flags_of):
    note.sutures("native", *FOUR).sutures("graft", *FOUR).ties(*GOOD)
    note.say("claims", what="sutures", tissue="native", count=4)
    assert not suture_flags(flags_of(note))


def test_a_partner_is_missing_in_the_graft_or_in_the_native_tissue(flags_of):
    flag = flags_of(Note().sutures("native", *FOUR).sutures("graft", *FOUR[:3]))["suture-unpaired"][0]
    assert "native tissue at anterior inferior" in flag.message
    assert flag.facts == ("s4",)
    flag = flags_of(Note().sutures("native", *FOUR[:3]).sutures("graft", *FOUR))["suture-unpaired"][0]
    assert "graft at anterior inferior" in flag.message


def test_graft_sutures_not_described_are_not_asked_for(note, flags_of):
    assert not suture_flags(flags_of(note.sutures("native", *FOUR).ties(*GOOD)))


def test_stitches_that_hold_the_graft_have_no_partner(note, flags_of):
    note.sutures("native", *FOUR).sutures("graft", *FOUR).ties(*GOOD)
    note.say("sutures", tissue="graft", region="middle", technique="all_inside", count=2)
    note.say("sutures", tissue="graft", region="posterior_horn", technique="inside_out", count=1)
    note.say("sutures", tissue="graft", region="posterior_root", color="white", form="tape", role="fixation")
    assert not suture_flags(flags_of(note))


def test_one_look_at_two_positions(flags_of):
    twice = ("white", "blue", "white", "green")
    flags = flags_of(Note().sutures("native", *twice).sutures("graft", *twice))
    assert [f.facts for f in flags["suture-color-conflict"]] == [("s1", "s3", "s5", "s7")]
    assert "posterior superior and anterior superior" in flags["suture-color-conflict"][0].message


@pytest.mark.parametrize(
    ("first", "second", "conflict"),
    [
        ("blue", "striped blue", False),
        ("solid blue", "striped blue", False),
        ("solid blue", "blue", True),
        ("striped blue", "striped blue", True),
    ],
)
def test_solid_and_striped_of_one_color_are_two_looks(flags_of, first, second, conflict):
    note = Note().sutures("native", first, second)
    assert ("suture-color-conflict" in flags_of(note)) == conflict


def test_tape_and_suture_of_one_color_are_two_looks(note, flags_of):
    for surface, form in (("superior", "tape"), ("inferior", None)):
        note.say("sutures", tissue="native", region="posterior", surface=surface, color="blue", form=form)
    assert "suture-color-conflict" not in flags_of(note)


def test_partners_of_two_colors(flags_of):
    swapped = ("blue", "white", "green", "black")
    flags = flags_of(Note().sutures("native", *FOUR).sutures("graft", *swapped))["suture-color-conflict"]
    assert [f.facts for f in flags] == [("s1", "s5"), ("s2", "s6")]


def test_stripes_swapped_between_the_tissues(flags_of):
    native, graft = ("blue", "striped blue"), ("striped blue", "blue")
    assert len(flags_of(Note().sutures("native", *native).sutures("graft", *graft))["suture-color-conflict"]) == 2


def test_a_pattern_that_one_tissue_never_tells_does_not_differ(flags_of):
    note = Note().sutures("native", "solid blue", "white").sutures("graft", "blue", "white")
    assert "suture-color-conflict" not in flags_of(note)


def test_two_looks_at_one_position(note, flags_of):
    for color in ("blue", "white"):
        note.say("sutures", tissue="native", region="posterior", surface="superior", color=color)
    assert flags_of(note)["suture-color-conflict"][0].facts == ("s1", "s2")


def test_announced_and_described_numbers(flags_of):
    def claimed(tissue: str | None, count: int) -> Note:
        return (
            Note()
            .sutures("native", *FOUR)
            .sutures("graft", *FOUR[:3])
            .say("claims", what="sutures", tissue=tissue, count=count)
        )

    assert "suture-count-mismatch" not in flags_of(claimed("native", 4))
    assert "suture-count-mismatch" not in flags_of(claimed(None, 4))
    assert "suture-count-mismatch" not in flags_of(claimed("root", 2)), "none of the root was described"
    assert "4 sutures of the graft" in flags_of(claimed("graft", 4))["suture-count-mismatch"][0].message


def test_a_total_of_alike_stitches(note, flags_of):
    note.say("sutures", technique="inside_out", region="body", surface="superior", count=4)
    note.say("sutures", technique="inside_out", region="body", surface="inferior", count=3)
    assert "suture-count-mismatch" not in flags_of(note.say("claims", what="sutures", count=7))
    assert "suture-count-mismatch" in flags_of(note.say("claims", what="sutures", count=8))


@pytest.mark.parametrize(
    ("ties", "words"),
    [
        ([("posterior-superior", "anterior-inferior"), ("anterior-superior", "posterior-inferior")], "across"),
        ([("posterior-superior", "posterior-inferior")], "no tie takes anterior superior and anterior inferior"),
        ([GOOD[0], ("anterior-superior", "posterior-inferior")], "no tie takes anterior inferior"),
    ],
)
def test_ties_that_cross_or_leave_out(flags_of, ties, words):
    flag = flags_of(Note().sutures("native", *FOUR).ties(*ties))["tie-mismatch"][0]
    assert words in flag.message
    assert flag.severity == "stop"


def test_ties_along_a_surface_are_not_across(flags_of):
    ties = [("posterior-superior", "anterior-superior"), ("posterior-inferior", "anterior-inferior")]
    assert "tie-mismatch" not in flags_of(Note().sutures("native", *FOUR).ties(*ties))


def test_a_tie_where_no_suture_was_described(flags_of):
    note = Note().sutures("native", *FOUR[:3]).sutures("graft", *FOUR[:3]).ties(*GOOD)
    assert "no suture is described at anterior inferior" in flags_of(note)["tie-mismatch"][0].message
    assert "tie-mismatch" not in flags_of(Note().ties(*GOOD))
