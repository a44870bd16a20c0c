"""The shipped limits against the published figures they name, and a wrong file's one clear sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from extractor.errors import GrammarError
from extractor.grammar.limits import Limits, read_limits
from extractor.record.vocabulary import CHECK_SEVERITY, DEVICES, MEASUREMENTS, UNITS

# (measurement, a published mean or reported end, its SD or 0, source). What was measured in people must be possible
# out to two SD. All were read in the abstract or table, none from memory.
PUBLISHED = [
    ("plateau.ml_width", 69.2, 0, "narrowest of 44 plateaus, McDermott, JBJS Br 86-B Supp IV"),
    ("plateau.ml_width", 88.4, 0, "widest of 44 plateaus, McDermott, JBJS Br 86-B Supp IV"),
    ("plateau.ml_width", 78.5, 5.4, "McDermott, JBJS Br 86-B Supp IV"),
    ("meniscus.ap_length", 33.7, 4.3, "lateral, men, AJSM 2011;39:1541-7"),
    ("meniscus.ap_length", 30.8, 2.6, "lateral, women, AJSM 2011;39:1541-7"),
    ("graft.width", 30.7, 3.5, "lateral, men, AJSM 2011;39:1541-7"),
    ("graft.width", 27.0, 2.6, "lateral, women, AJSM 2011;39:1541-7"),
    ("defect.width", 8.88, 0, "anterior radial width, medial, 50 cadaver menisci"),
    ("defect.width", 16.68, 0, "posterior radial width, medial, 50 cadaver menisci"),
    ("meniscus.extrusion", 3.26, 0, "after medial transplantation, Lee, BioMed Res Int 2018:5251910"),
    ("meniscus.extrusion", 1.83, 0, "women, medial, Bloecker, BMC Musculoskelet Disord 2011;12:248"),
    ("rim.width", 3, 0, "ISAKOS, zone 1 to 2, JISAKOS table"),
    ("rim.width", 5, 0, "ISAKOS, zone 2 to 3, JISAKOS table"),
    ("tunnel.length", 42.8, 3.9, "femoral, 50 men, Kerala J Orthop"),
    ("tunnel.length", 50, 0, "longest femoral, 50 men, Kerala J Orthop"),
    ("ligament_graft.diameter", 8.4, 0, "tibial, 1681 hamstring grafts, Ramkumar 2018"),
    ("stitch.spacing", 5, 0, "test protocol, J Exp Orthop 2017 s40634-017-0075-7"),
    ("tourniquet.pressure", 350, 0, "upper end of fixed thigh pressures, secondary page"),
]


@pytest.mark.parametrize(("what", "mean", "sd", "source"), PUBLISHED)
def test_what_was_measured_in_people_is_possible(limits: Limits, what, mean, sd, source):
    low, high = limits.measurements[what].possible
    assert low <= mean - 2 * sd and mean + 2 * sd <= high, source


def test_the_rim_zones_are_usual(limits: Limits):
    # ISAKOS (JISAKOS table read): zone 1 under 3, zone 2 from 3 to 5 mm; a discoid body is over 15 mm wide (Nippon
    # Acta Radiol 1991, abstract read), so no rim is.
    assert limits.measurements["rim.width"].usual == (0, 5)
    assert limits.measurements["rim.width"].possible[1] < 15


def test_tourniquet_pressure_never_above_500(limits: Limits):
    # AST guideline on pneumatic tourniquets, rev. 2018, p. 17 (text read): never above 500 mmHg on a lower limb.
    assert limits.measurements["tourniquet.pressure"].possible[1] == 500


def test_every_measurement_of_the_contract_has_a_limit(limits: Limits):
    assert set(MEASUREMENTS) <= set(limits.measurements)
    assert {limit.unit for limit in limits.measurements.values()} <= set(UNITS)
    assert all(limit.possible for limit in limits.measurements.values())
    devices = [name.split(".")[1] for name in limits.measurements if name.startswith("device.")]
    assert set(devices) <= set(DEVICES)
    assert {limit.check for limit in limits.measurements.values()} - {""} <= set(CHECK_SEVERITY)


def test_no_hard_limit_rests_on_memory_or_hearsay(limits: Limits):
    for limit in limits.measurements.values():
        named = (
            "read)" in limit.why
            or "no source" in limit.why
            or "by arithmetic" in limit.why
            or "by geometry" in limit.why
        )
        assert named, f"{limit.name}: say where the possible limit is from, or that it has no source"
        assert "from memory" not in limit.why and "MEM" not in limit.why


GOOD = '["tear.length"]\ncalled = "length of the tear"\nunit = "mm"\npossible = [1, 70]\nwhy = "no source"\n'
BROKEN = [
    (
        "limits.toml",
        GOOD + "usul = [1, 2]\n",
        "limits.toml:6: 'tear.length': unknown key 'usul', did you mean 'usual'?",
    ),
    ("limits.toml", GOOD + "usual = [1, 2]\n", "has 'usual' but not 'source' and 'verified'"),
    ("limits.toml", GOOD + 'usual = [1, 99]\nsource = "x"\nverified = "ABS"\n', "reaches outside the possible one"),
    (
        "limits.toml",
        GOOD + 'source = "x"\nverified = "READ"\n',
        "limits.toml:7: 'tear.length': 'verified' is one of SRC",
    ),
    ("limits.toml", GOOD.replace("[1, 70]", "[70, 1]"), "limits.toml:4: 'tear.length': 'possible' must be a list"),
    ("limits.toml", GOOD.replace('why = "no source"\n', ""), "has 'possible' but not 'why'"),
    ("limits.toml", GOOD.replace('unit = "mm"\n', ""), "pack/limits.toml:1: 'tear.length' needs 'unit'"),
    ("limits.toml", GOOD.replace('unit = "mm"', "unit = 3"), "limits.toml:3: 'tear.length': 'unit' must be text"),
    ("limits.toml", GOOD + "single = 1\n", "'single' must be true or false"),
    ("limits.toml", GOOD + 'apart = ["site"]\n', "means something only beside 'single = true'"),
    ("limits.toml", GOOD + 'follows = "tear.lenght"\n', "has 'follows' but not 'check' and 'tolerance'"),
    (
        "limits.toml",
        GOOD + 'follows = "tear.lenght"\ncheck = "c"\ntolerance = 1\n',
        "no entry, did you mean 'tear.length'?",
    ),
    ("limits.toml", GOOD + "\n" + GOOD, "pack/limits.toml:7: Cannot declare"),
    ("limits.toml", "unit = 3\n", "pack/limits.toml:1: 'unit' stands outside any entry"),
    ("limits.toml", '["tear"]\nunit = "mm"\n', "'tear' reads neither 'thing.dimension'"),
    ("limits.toml", '["element.surgeon"]\nsource = "x"\n', "'element.surgeon' needs 'said_by'"),
    ("limits.toml", '["constant.share"]\nvalue = 80\nunit = "%"\nsource = "x"\n', "'constant.share' needs 'verified'"),
    ("limits.toml", GOOD + "replaces = true\n", "'replaces', but no earlier pack has 'tear.length'"),
    ("order.toml", '["a beforehand b"]\nwhy = "x"\n', "is neither 'one-step before another-step' nor"),
    ("order.toml", '["a before b"]\nwhy = "x"\n', "pack/order.toml:1: 'a before b' needs 'source'"),
    ("order.toml", '["expected: x"]\nprocedure = "x"\nsteps = []\nsource = "x"\n', "'steps' must be a list of texts"),
    ("order.toml", '["a before b"\nwhy = "x"\n', "pack/order.toml:1: "),
]


def pack(root: Path, name: str, file: str, text: str) -> Path:
    (root / name).mkdir(exist_ok=True)
    (root / name / file).write_text(text, encoding="utf-8")
    return root / name


@pytest.mark.parametrize(("file", "text", "message"), BROKEN)
def test_a_wrong_pack_is_refused_with_file_line_and_reason(tmp_path, file, text, message):
    with pytest.raises(GrammarError) as refused:
        read_limits([pack(tmp_path, "pack", file, text)])
    assert message in str(refused.value)
    assert "\n" not in str(refused.value)


def test_bytes_that_are_no_text(tmp_path):
    pack(tmp_path, "pack", "limits.toml", "")
    (tmp_path / "pack" / "limits.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(GrammarError, match=r"pack/limits.toml:1: cannot be read"):
        read_limits([tmp_path / "pack"])


def test_a_site_replaces_an_entry_only_on_purpose(tmp_path):
    shipped = pack(tmp_path, "shipped", "limits.toml", GOOD)
    own = pack(tmp_path, "own", "limits.toml", GOOD.replace("70", "90"))
    with pytest.raises(GrammarError, match=r"own/limits.toml:1: 'tear.length' stands in shipped/limits.toml:1 already"):
        read_limits([shipped, own])
    pack(tmp_path, "own", "limits.toml", GOOD.replace("70", "90") + "replaces = true\n")
    assert read_limits([shipped, own]).measurements["tear.length"].possible == (1, 90)
