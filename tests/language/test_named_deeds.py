"""Deeds that a clause only names, beside the same deeds told. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

KNEE = "Left knee, torn medial meniscus, worn medial femoral condyle. "


def done(text: str, grammar: Grammar) -> set[str]:
    return {s.code for s in extract(Transcript(text=KNEE + text), grammar).steps if s.status == "performed"}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("With outside-in you risk the nerve, so I stayed with inside-out.", "outside-in-stitch"),
        ("I showed them how an outside-in is passed.", "outside-in-stitch"),
        ("In front, where I was thinking outside-in, the horn was intact.", "outside-in-stitch"),
        ("The outside-in we spared ourselves.", "outside-in-stitch"),
        ("The alternative, outside-in, takes longer.", "outside-in-stitch"),
        ("Outside-in, that was what my old chief did.", "outside-in-stitch"),
        ("Compared with all-inside the needles are cheap.", "all-inside-stitch"),
        ("Being an inside-out man myself I still left the tear alone.", "inside-out-stitch"),
        ("Inside-out needles give me nightmares back there.", "inside-out-stitch"),
        ("The crater begged for microfracture, but the shoulders were rotten.", "microfracture"),
        ("The awls for a microfracture remained on the tray.", "microfracture"),
        ("The report suggests microfracture; the cartilage was whole.", "microfracture"),
        ("Everybody expected a clot, nobody got one.", "fibrin-clot"),
        ("Where others resect, I sew.", "partial-meniscectomy"),
        ("Partial meniscectomy is quick and regretted later, so I sewed it.", "partial-meniscectomy"),
        ("The rim looked as if somebody had rasped it already.", "rim-abrasion"),
        ("A chondroplasty seemed excessive for that.", "chondroplasty"),
        ("Venting the notch was the fellow's idea.", "marrow-venting"),
        ("I had looked forward to an adhesiolysis, but the pouch was wide.", "lysis-of-adhesions"),
        ("The tear is too short for all-inside.", "all-inside-stitch"),
        ("I wanted to rasp but the rasp was dirty, so no rasping.", "rim-abrasion"),
        ("The rasp broke.", "rim-abrasion"),
        ("The probe was bent.", "stability-probing"),
        ("I kept my hands off the chondroplasty.", "chondroplasty"),
        ("In smokers I add a fibrin clot, this one runs marathons.", "fibrin-clot"),
        ("Trephination, so the paper says, doubles the healing rate.", "trephination"),
        ("Chief says microfracture, I say wait.", "microfracture"),
        ("Knot tying is what the fellow must learn, on the bench.", "suture-tying"),
        ("The wand for a chondroplasty was plugged in and unplugged.", "chondroplasty"),
        ("Shaving the cartilage only creates more debris, I kept my hands off.", "chondroplasty"),
        ("The notch was wide enough to spare us a notchplasty.", "notch-preparation"),
        ("What holds me back from all-inside is the artery.", "all-inside-stitch"),
        ("In the old unit we did these inside-out.", "inside-out-stitch"),
        ("I toyed for a minute with inside-out and then looked at the clock.", "inside-out-stitch"),
        ("Microfracture needs six weeks on crutches, and he has to work.", "microfracture"),
        ("To microfracture or not was the question, the answer was not.", "microfracture"),
        ("Harvesting a plug from the trochlea hurts for a year.", "plug-harvest"),
        ("A spinal needle was passed outside-in to localize the portal.", "outside-in-stitch"),
        ("The tear stopped short of where one goes outside-in.", "outside-in-stitch"),
        ("Old outside-in knots were felt at the capsule.", "outside-in-stitch"),
        ("Rather inside-out than outside-in there.", "outside-in-stitch"),
        ("Inside-out, where others go outside-in.", "outside-in-stitch"),
        ("I kept outside-in for the case that the front opened.", "outside-in-stitch"),
        ("As a fallback there was outside-in.", "outside-in-stitch"),
        ("For lack of a needle outside-in was off the table.", "outside-in-stitch"),
        ("The front third can be done outside-in.", "outside-in-stitch"),
        ("Typically this is closed outside-in.", "outside-in-stitch"),
        ("Outside-in makes little sense with a horn this short.", "outside-in-stitch"),
        ("Almost went outside-in.", "outside-in-stitch"),
        ("Too far back to go outside-in.", "outside-in-stitch"),
        ("We were one step away from an outside-in.", "outside-in-stitch"),
        ("The outside-in stitches of the first operation had pulled through.", "outside-in-stitch"),
        ("Outside-in had been set up, then the front looked fine.", "outside-in-stitch"),
    ],
)
def test_what_a_clause_only_names_was_not_done(text: str, code: str, grammar: Grammar) -> None:
    assert code not in done(text, grammar)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Outside-in anterior horn with 2-0.", "outside-in-stitch"),
        ("The front third was closed outside-in.", "outside-in-stitch"),
        ("For the front portion an outside-in with PDS.", "outside-in-stitch"),
        ("A spinal needle was passed outside-in through the meniscus and the suture retrieved.", "outside-in-stitch"),
        ("An outside-in suture secures the anterior horn.", "outside-in-stitch"),
        ("I had to go outside-in for the front.", "outside-in-stitch"),
        ("Front: outside-in, one.", "outside-in-stitch"),
        ("I like outside-in in front, two sutures of PDS.", "outside-in-stitch"),
        ("I like an outside-in in front, so two of those went in.", "outside-in-stitch"),
        ("I thought of one outside-in but in the end put two.", "outside-in-stitch"),
        ("In front I had to resort to an outside-in, which held nicely.", "outside-in-stitch"),
        ("Against my habit, outside-in for the whole front half, four sutures.", "outside-in-stitch"),
        ("All-inside cost us two misfires, but three are in.", "all-inside-stitch"),
        ("As for the front, outside-in, two.", "outside-in-stitch"),
        ("The fibrin clot is in and sits in the tear.", "fibrin-clot"),
        ("Microfracture is done, six holes.", "microfracture"),
        ("Microfracture as discussed with the patient.", "microfracture"),
        ("As I expected, all-inside reached the corner, three implants.", "all-inside-stitch"),
        ("I believe two all-insides were enough back there.", "all-inside-stitch"),
        ("We talked about trephination and then did it.", "trephination"),
        ("The inside-out part was a struggle but all six are tied.", "inside-out-stitch"),
        ("The outside-in was easier than I feared.", "outside-in-stitch"),
        ("Rasping the rim brings blood now.", "rim-abrasion"),
        ("I talked the resident through six inside-out sutures in the body.", "inside-out-stitch"),
        ("The view demanded a synovectomy, done with the shaver.", "synovectomy"),
        ("Microfracture, which he had asked for, was done with the awl.", "microfracture"),
        ("I would call that a partial meniscectomy, ten percent.", "partial-meniscectomy"),
        ("The rasp was used on both faces.", "rim-abrasion"),
        ("The rasp was enough.", "rim-abrasion"),
        ("The rasp went along the rim.", "rim-abrasion"),
    ],
)
def test_what_a_clause_or_its_neighbor_tells_was_done(text: str, code: str, grammar: Grammar) -> None:
    assert code in done(text, grammar)
