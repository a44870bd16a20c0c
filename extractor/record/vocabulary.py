"""The names the contract fixes. Open lists are examples (packs may add values), closed ones are types."""

from __future__ import annotations

from typing import Literal

Side = Literal["left", "right", "bilateral"]
Severity = Literal["stop", "review", "note"]
Role = Literal["observed", "target", "made", "reference"]
StepStatus = Literal["performed", "planned", "conditional", "declined"]
ProcedureStatus = Literal["performed", "prior", "planned"]
FindingStatus = Literal["present", "absent"]
ReviewState = Literal["unreviewed", "accepted", "edited", "rejected"]
SourceKind = Literal["audio", "text", "transcript"]

COMPARTMENTS = ("medial", "lateral")
PROCEDURES = (
    "meniscus-transplant", "meniscus-repair", "partial-meniscectomy", "root-repair", "acl-reconstruction",
    "pcl-reconstruction", "chondroplasty", "microfracture", "osteochondral-autograft", "osteochondral-allograft",
    "loose-body-removal", "synovectomy", "lysis-of-adhesions", "diagnostic-arthroscopy", "high-tibial-osteotomy",
)  # fmt: skip
STRUCTURES = (
    "medial-meniscus", "lateral-meniscus", "acl", "pcl", "mcl", "lcl", "medial-femoral-condyle",
    "lateral-femoral-condyle", "medial-tibial-plateau", "lateral-tibial-plateau", "trochlea", "patella", "synovium",
    "medial-root", "lateral-root",
)  # fmt: skip
FINDINGS = (
    "tear", "deficiency", "chondral-lesion", "intact", "loose-body", "synovitis", "extrusion", "laxity", "effusion",
    "scar",
)  # fmt: skip
PATTERNS = (
    "vertical", "longitudinal", "radial", "horizontal", "flap", "bucket-handle", "root", "complex", "oblique",
)  # fmt: skip
GRADE_SYSTEMS = ("outerbridge", "icrs")
DIMENSIONS = {
    "defect": ("ap_length", "width", "root_distance", "anterior_root_distance", "depth"),
    "rim": ("width",),
    "graft": ("ap_length", "width", "root_distance", "anterior_root_distance", "thickness", "allowance"),
    "tear": ("length", "rim_distance", "depth_percent"),
    "resection": ("percent", "width"),
    "meniscus": ("ap_length", "width", "extrusion"),
    "plateau": ("ap_length", "ml_width"),
    "lesion": ("length", "width", "depth", "diameter", "area"),
    "plug": ("diameter", "length", "depth"),
    "tunnel": ("diameter", "length", "depth"),
    "ligament_graft": ("diameter", "length"),
    "bone_block": ("length", "width", "depth"),
    "slot": ("length", "width", "depth"),
    "stitch": ("spacing", "bite"),
    "portal": ("length",),
    "incision": ("length",),
    "knee": ("flexion", "extension", "flexion_angle", "hyperextension"),
    "loose_body": ("size", "length", "width"),
    "hole": ("spacing", "depth"),
    "guide": ("angle",),
    "correction": ("angle",),
    "cut": ("angle",),
    "tension": ("force",),
    "tourniquet": ("time", "pressure"),
    "blood_loss": ("volume",),
    "fluid": ("volume",),
}
MEASUREMENTS = tuple(f"{thing}.{dimension}" for thing, dimensions in DIMENSIONS.items() for dimension in dimensions)
UNITS = ("mm", "deg", "min", "mL", "mm[Hg]", "N", "mm2", "%", "wk")
TISSUES = ("native", "graft", "root", "capsule")
REGIONS = (
    "anterior", "posterior", "middle", "anterior_horn", "body", "posterior_horn", "anterior_root", "posterior_root",
)  # fmt: skip
SURFACES = ("superior", "inferior")
SUTURE_PATTERNS = ("solid", "striped", "double", "tiger")
SUTURE_FORMS = ("suture", "tape")
CONFIGURATIONS = (
    "vertical_mattress", "horizontal_mattress", "simple", "cinch", "luggage_tag", "cross", "loop",
)  # fmt: skip
TECHNIQUES = ("inside_out", "outside_in", "all_inside", "transosseous")
SUTURE_ROLES = ("shuttle", "fixation", "traction")
STEPS = (
    "time-out", "exam-under-anesthesia", "positioning", "prep-and-drape", "tourniquet-inflation", "portal-placement",
    "diagnostic-arthroscopy", "partial-meniscectomy", "rim-preparation", "rim-abrasion", "trephination",
    "tear-reduction", "defect-measurement", "root-distance-measurement", "native-suture-passage", "suture-retrieval",
    "cannula-placement", "suture-sorting", "graft-thaw", "graft-marking", "graft-cut", "graft-suture-passage",
    "graft-delivery", "bridge-check", "suture-tying", "all-inside-stitch", "inside-out-stitch", "outside-in-stitch",
    "graft-trimming", "root-tunnel-drilling", "root-fixation", "fibrin-clot", "graft-harvest", "graft-preparation",
    "notch-preparation", "femoral-tunnel-drilling", "tibial-tunnel-drilling", "graft-passage", "femoral-fixation",
    "tibial-fixation", "chondroplasty", "microfracture", "lesion-preparation", "plug-harvest", "plug-implantation",
    "marrow-venting", "loose-body-removal", "synovectomy", "lysis-of-adhesions", "arthrotomy", "slot-preparation",
    "bone-block-preparation", "manipulation", "stability-probing", "range-of-motion-check", "tourniquet-deflation",
    "irrigation", "closure", "dressing", "brace-application",
)  # fmt: skip
DEVICES = (
    "cannula", "anchor", "screw", "button", "all-inside-implant", "drill", "reamer", "guide-pin", "needle", "suture",
)  # fmt: skip
GRAFT_SOURCES = ("allograft", "autograft")
PLAN_ITEMS = (
    "weight-bearing", "weight-bearing-duration", "brace-range", "flexion-limit", "follow-up", "therapy-start",
)  # fmt: skip
ELEMENTS = (
    "surgeon", "assistants", "preoperative_diagnosis", "postoperative_diagnosis", "procedure", "anesthesia",
    "blood_loss", "fluids", "complications", "specimens", "drains", "implants", "condition", "disposition",
    "indication", "findings",
)  # fmt: skip

CHECK_SEVERITY: dict[str, Severity] = {
    "side-missing": "stop",
    "side-conflict": "stop",
    "compartment-conflict": "stop",
    "value-implausible": "stop",
    "value-unusual": "note",
    "unit-missing": "review",
    "unit-suspect": "stop",
    "value-conflict": "stop",
    "number-uncertain": "review",
    "graft-length-mismatch": "stop",
    "graft-width-mismatch": "stop",
    "root-distance-mismatch": "stop",
    "suture-unpaired": "review",
    "suture-color-conflict": "stop",
    "suture-count-mismatch": "review",
    "tie-mismatch": "stop",
    "step-order": "review",
    "step-missing": "note",
    "element-missing": "review",
    "graft-identifier-missing": "review",
    "tourniquet-long": "review",
    "term-uncertain": "review",
    "unread-number": "review",
}
"""Contract, section 7. Element-missing is a note where the element need not be said when there was none."""
