"""Finding a tree in the table by the name people use: common or scientific, a genus, any spelling of hyphens."""

from __future__ import annotations

import difflib
import re
from functools import cache

from bolewright.core.base.errors import BadInput
from bolewright.reference.species import Species, all_species

# Words that mean different trees in different places: the answer would be a guess, so the choice is asked for.
SEVERAL_TREES = {
    "cedar": ("eastern redcedar", "western redcedar", "incense-cedar", "northern white-cedar", "true cedar"),
    "cypress": ("baldcypress", "Leyland cypress", "Lawson cypress", "Italian cypress", "cypress (Cupressus)"),
    "gum": ("sweetgum", "black gum", "eucalyptus"),
    "poplar": ("yellow-poplar", "cottonwood", "aspen", "hybrid poplar", "cottonwood, poplar or aspen"),
    "ironwood": ("hop-hornbeam", "hornbeam", "American hornbeam"),
    "mountainash": ("mountain ash gum", "rowan", "American mountain-ash"),
    "mimosa": ("silk tree", "silver wattle"),
    "whitewood": ("yellow-poplar", "American basswood", "Norway spruce"),
}


def find_species(name: str) -> Species:
    """The row of the species table for a common or scientific name.

    Case, hyphens, spaces and "spp." do not matter. A genus ("oak", "Quercus sp.") gives the average of the genus;
    "unknown broadleaf" and "unknown conifer" give the average of their class. A name with no row raises BadInput
    that offers the closest names, and the genus where the first or last word of the name is one.
    """
    key = _key(name)
    if not key:
        raise BadInput("No species was given: name the tree, or say unknown broadleaf or unknown conifer.")
    if key in SEVERAL_TREES:
        raise BadInput(f'"{name}" can mean more than one tree: say which of {_list(SEVERAL_TREES[key])}.')
    found = _index().get(key)
    if found is None:
        raise BadInput(f'"{name}" is not in the species table.{_offer(name, key)}')
    return found


def _key(name: str) -> str:
    """The name with everything dropped that people write in different ways."""
    plain = re.sub(r"\b(spp?|species)\b\.?", " ", name.casefold())
    plain = re.sub(r"\b(gray)\b", "grey", plain)
    return re.sub(r"[^a-z]", "", plain)


@cache
def _index() -> dict[str, Species]:
    """Names to rows; the earlier of two rows keeps the name, so a regional variant never hides the main row."""
    index: dict[str, Species] = {}
    for take in (_main_names, _other_names):
        for row in all_species():
            for name in take(row):
                index.setdefault(_key(name), row)
    for row in _only_rows_of_a_genus():
        index.setdefault(_key(row.genus), row)
    return index


def _main_names(row: Species) -> tuple[str, ...]:
    return (row.common_name, row.scientific_name)


def _other_names(row: Species) -> tuple[str, ...]:
    without_brackets = re.sub(r"\s*\([^)]*\)", "", row.common_name)
    regional = "grown)" in row.common_name
    return row.also if regional else (*row.also, without_brackets)


def _only_rows_of_a_genus() -> list[Species]:
    rows: dict[str, list[Species]] = {}
    for row in all_species():
        rows.setdefault(row.genus, []).append(row)
    return [found[0] for found in rows.values() if len(found) == 1 and found[0].rank == "species"]


def _offer(name: str, key: str) -> str:
    """A sentence with what may have been meant."""
    index = _index()
    close = difflib.get_close_matches(key, index.keys(), n=4, cutoff=0.72)
    names = list(dict.fromkeys(index[match].common_name for match in close))
    words = name.split()
    for word in (words[0], words[-1]) if words else ():
        row = index.get(_key(word))
        if row is not None and row.rank == "genus" and row.common_name not in names:
            names.append(row.common_name)
    names = names or ["unknown broadleaf", "unknown conifer"]
    return f" Did you mean {_list(tuple(names))}?"


def _list(names: tuple[str, ...]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
