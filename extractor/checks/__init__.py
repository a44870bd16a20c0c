"""Checks of a record: doubts in plain sentences, and values that follow from what was said."""

from __future__ import annotations

from extractor.checks.case import CheckConfig, Schedule
from extractor.checks.run import CHECKS, check_file, run_checks

__all__ = ["CHECKS", "CheckConfig", "Schedule", "check_file", "run_checks"]
