"""Lead and arsenic against published screening values."""

from __future__ import annotations

from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import ACT, NOTE, Finding, finding
from bedwright.reference import Library
from bedwright.units import to_si

_TOTAL = ("total_acid", "xrf", "")  # screening values speak of total metal


def screening(evidence: Evidence, library: Library) -> tuple[Finding, ...]:
    """What the screening values say of a bed's lead and arsenic, if the report holds them."""
    found: list[Finding] = []
    for (analyte, extractant), measurement in evidence.measured.items():
        if analyte not in ("lead", "arsenic"):
            continue
        if extractant not in _TOTAL:
            found.append(
                finding(
                    "metal_not_total",
                    "doubt",
                    analyte=analyte,
                    extractant=extractant,
                    value=measurement.figure,
                )
            )
            continue
        for row in library.rows("screening_levels"):
            if row["analyte"] != analyte or not row.used:
                continue
            lower, upper = row.number("lower") or 0.0, row.number("upper")
            per_ppm = to_si(1.0, row["unit"], "fraction") / 1e-6
            value = measurement.figure.value / per_ppm
            if value >= lower and (upper is None or value < upper):
                weight = NOTE if row["action"] == "none" else ACT
                found.append(
                    finding(
                        f"screening_{row['action']}",
                        weight,
                        analyte=analyte,
                        value=measurement.figure,
                        sources=(row.source,),
                    )
                )
    return tuple(found)
