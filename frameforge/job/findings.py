"""Findings as programs read them, and the refusal that carries them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from frameforge.errors import FrameforgeError, GeometryError
from frameforge.finding import Finding

__all__ = ["FindingsError", "finding_json"]


class FindingsError(GeometryError):
    """Pieces that could be made and are not, because of what was found in them; ``findings`` tells what."""

    default_code = "findings"

    def __init__(self, say: str, findings: Iterable[Finding] = (), *, where: str = "", code: str = "") -> None:
        super().__init__(say, where=where, code=code)
        self.findings = tuple(findings)

    @classmethod
    def from_many(cls, faults: list[FrameforgeError]) -> FindingsError:
        """Return one refusal that says all ``faults``, a line each, and carries the findings of them all."""
        first = faults[0]
        whole = cls(first.say, where=first.where, code=first.code)
        whole.lines = tuple(line for fault in faults for line in fault.lines)
        whole.findings = tuple(f for fault in faults if isinstance(fault, FindingsError) for f in fault.findings)
        return whole


def finding_json(finding: Finding) -> dict[str, Any]:
    """Return a finding as a table of plain values, in the order of the contract."""
    return {
        "code": finding.code,
        "severity": finding.severity,
        "piece": finding.piece,
        "where": finding.where,
        "x_mm": finding.x_mm,
        "y_mm": finding.y_mm,
        "measured": finding.measured,
        "limit": finding.limit,
        "unit": finding.unit,
        "say": finding.say,
    }
