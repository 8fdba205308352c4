"""Numbers that cannot be a tree are refused with the path of the value."""

from __future__ import annotations

from dataclasses import replace
from math import inf, nan

import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.tree.assembly import build_assembly
from bolewright.core.tree.spec import Hollow, Limb, Plate, Station, TreeSpec

STEM = (Station(0.0, 0.8, 0.5), Station(5.0, 0.7, 0.7), Station(10.0, 0.4, 1.0))
LIMB = Limb("L1", "stem", 4.0, 3.0, 1.0, 5.0, 0.2, 0.05, "leaf")
HOLLOW = Hollow("stem", 0.0, 2.0, ((12.0, 0.1),))
GOOD = TreeSpec(STEM, (LIMB,), (HOLLOW,), Plate(3.0, 0.8, 1700.0), wood_density=900.0)


def limbs(*changes: dict[str, object]) -> TreeSpec:
    return replace(GOOD, limbs=tuple(replace(LIMB, **change) for change in changes))  # type: ignore[arg-type]


def station(i: int, **change: float) -> TreeSpec:
    return replace(GOOD, stations=tuple(replace(s, **change) if j == i else s for j, s in enumerate(STEM)))


def hollow(**change: object) -> TreeSpec:
    return replace(GOOD, hollows=(replace(HOLLOW, **change),))  # type: ignore[arg-type]


BAD = [
    (replace(GOOD, wood_density=1301.0), "tree.density"),
    (replace(GOOD, wood_density=0.0), "tree.density"),
    (replace(GOOD, wood_density=nan), "tree.density"),
    (replace(GOOD, decayed_share=1.5), "tree.decayed_share"),
    (replace(GOOD, small_wood_per_area=-1.0), "tree.small_wood_per_area"),
    (replace(GOOD, stem_foliage="green"), "tree.stem_foliage"),
    (replace(GOOD, longest=0.0), "longest"),
    (replace(GOOD, stations=STEM[:1]), "tree.stem"),
    (station(0, at=0.5), "tree.stem[0].at"),
    (station(1, at=-5.0), "tree.stem[1].at"),
    (station(2, at=4.0), "tree.stem[2].at"),
    (station(1, diameter=-0.5), "tree.stem[1].diameter"),
    (station(1, diameter=0.0), "tree.stem[1].diameter"),
    (station(1, diameter=40.0), "tree.stem[1].diameter"),
    (station(1, height=inf), "tree.stem[1].height"),
    (station(2, height=9.0), "tree.stem[2].height"),
    (station(2, offset=nan), "tree.stem[2].offset"),
    (limbs({"id": "stem"}), "tree.limb[0].id"),
    (limbs({"id": "S2"}), "tree.limb[0].id"),
    (limbs({}, {}), "tree.limb[1].id"),
    (limbs({}, {"id": "L2", "on": "L9"}), "tree.limb[1].on"),
    (limbs({"on": "L1"}), "tree.limb[0].on"),
    (limbs({"on": "L2"}, {"id": "L2", "on": "L3"}, {"id": "L3", "on": "L1"}), "tree.limb[0].on"),
    (limbs({"at": 11.0}), "tree.limb[0].at"),
    (limbs({"at": 0.0}), "tree.limb[0].at"),
    (limbs({"clock": 13.0}), "tree.limb[0].clock"),
    (limbs({"angle_rad": 3.2}), "tree.limb[0].angle"),
    (limbs({"angle_rad": nan}), "tree.limb[0].angle"),
    (limbs({"length": -1.0}), "tree.limb[0].length"),
    (limbs({"length": 0.1}), "tree.limb[0].length"),
    (limbs({"diameter": 0.0}), "tree.limb[0].diameter"),
    (limbs({"tip_diameter": 0.3}), "tree.limb[0].tip_diameter"),
    (limbs({"foliage": "wet"}), "tree.limb[0].foliage"),
    (hollow(member="L7"), "tree.decay[0].member"),
    (hollow(start=3.0), "tree.decay[0].to"),
    (hollow(end=12.0), "tree.decay[0].to"),
    (hollow(shell=()), "tree.decay[0].shell"),
    (hollow(shell=((12.0, 0.0),)), "tree.decay[0].shell"),
    (hollow(shell=((12.0, -0.1), (3.0, 0.1))), "tree.decay[0].shell"),
    (hollow(shell=((12.0, 0.1), (0.0, 0.2))), "tree.decay[0].readings"),
    (replace(GOOD, hollows=(HOLLOW, replace(HOLLOW, start=1.0))), "tree.decay[1]"),
    (replace(GOOD, plate=Plate(-3.0, 0.8, 1700.0)), "tree.root_plate.diameter"),
    (replace(GOOD, plate=Plate(3.0, 0.0, 1700.0)), "tree.root_plate.thickness"),
    (replace(GOOD, plate=Plate(3.0, 0.8, 9000.0)), "tree.root_plate.density"),
    (replace(GOOD, split_at=(("L4", 1.0),)), "split_at[0].member"),
    (replace(GOOD, split_at=(("L1", 1.0), ("stem", 20.0))), "split_at[1].at"),
]


def test_the_good_one_is_taken() -> None:
    assert build_assembly(GOOD).members == ("stem", "L1")


@pytest.mark.parametrize(("spec", "path"), BAD, ids=[f"{i} {path}" for i, (_, path) in enumerate(BAD)])
def test_refused_with_path_and_one_sentence(spec: TreeSpec, path: str) -> None:
    with pytest.raises(BadInput) as error:
        build_assembly(spec)
    assert error.value.path == path
    assert error.value.sentence.endswith(".")
    assert "\n" not in error.value.sentence
