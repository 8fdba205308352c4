"""Cautions: each has a place, a source and a status; every place has one; the forbidden words are in none."""

from __future__ import annotations

import pytest

from bolewright.reference.cautions import PLACES, all_cautions, cautions_for


def test_every_caution_is_complete() -> None:
    """Own id, known places, a source, one or two short sentences."""
    known = all_cautions()
    assert len({caution.id for caution in known}) == len(known)
    for caution in known:
        assert caution.places, caution.id
        assert set(caution.places) <= set(PLACES), caution.id
        assert caution.source, caution.id
        assert len(caution.text) <= 170, caution.id
        assert caution.text.endswith("."), caution.id


def test_every_place_has_a_caution() -> None:
    """No hazard that the product names goes without words."""
    assert all(cautions_for(place) for place in PLACES)


def test_never_safe_never_approved() -> None:
    """The words that no tool may say about a tree."""
    for caution in all_cautions():
        words = caution.text.lower().split()
        assert not {"safe", "safe.", "safely", "approved"} & set(words), caution.id


def test_wire_distance_is_the_published_one() -> None:
    """10 ft to 50 kV and 4 in for every 10 kV above: 29 CFR 1910.333(c)(3)(i)(A)."""
    (caution,) = (c for c in cautions_for("power") if c.id == "wire-distance")
    assert "10 ft" in caution.text
    assert "4 in" in caution.text
    assert "50 kV" in caution.text


def test_each_once_and_in_order() -> None:
    """A caution that belongs to two places asked for is told once, at the first."""
    ids = [caution.id for caution in cautions_for("rope", "crane")]
    assert len(ids) == len(set(ids))
    assert ids[0] == "rope-pull"
    assert ids.count("rated-gear") == 1


def test_unknown_place() -> None:
    """A misspelt hazard cannot silently print nothing."""
    with pytest.raises(ValueError, match="no such place"):
        cautions_for("ruf")
