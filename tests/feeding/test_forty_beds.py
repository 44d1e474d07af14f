"""Forty beds of ten soils and crops from one shed: the money is proven, the limits are kept."""

import importlib
from pathlib import Path

import pytest
from garden_checker import faults_of

from bedwright.feeding.shared import WholeBlend, whole_blend
from bedwright.planning import garden_blend
from bedwright.reference import Library
from bedwright.season.blend import assessments

BENCHMARKS = Path(__file__).parents[2] / "benchmarks"
LIBRARY = Library()


@pytest.mark.parametrize(("most", "seed"), [(6, 0), (4, 0), (3, 3)])
def test_the_money_is_proven_within_one_per_cent_however_few_materials_a_recipe_may_hold(
    most: int, seed: int, monkeypatch: pytest.MonkeyPatch
):
    blends: list[WholeBlend | None] = []

    def kept(*garden, **wishes):
        blends.append(whole_blend(*garden, **wishes))
        return blends[-1]

    monkeypatch.setattr(garden_blend, "whole_blend", kept)
    monkeypatch.syspath_prepend(str(BENCHMARKS))
    invented = importlib.import_module("document_gardens")
    document = invented.garden_document(seed, invented.KINDS[2], LIBRARY, most=most)
    beds, own = assessments(document, LIBRARY, invented.AS_OF)
    prepared = garden_blend.garden_blend(document, beds, own, aims=("money",)).prepared

    assert (len(beds), len(prepared.whole)) == (40, 10)
    (found,) = blends
    assert found is not None
    assert found.gap <= 0.01
    assert faults_of(prepared.whole, prepared.shed, prepared.p2o5, found) == []
