"""Papers of a standing tree: what stands in them and in which order, whose words they are, and the same bytes twice."""

from __future__ import annotations

import dataclasses
import datetime
import hashlib
import io
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.documents import cause
from bolewright.documents.cause import printed_cause
from bolewright.documents.comparison import printed_comparison
from bolewright.documents.given import PhotoRow
from bolewright.documents.inspection import printed_inspection
from bolewright.documents.notice import printed_delivery_log, printed_notice
from bolewright.documents.press import Printed
from bolewright.drawings.standing_words import gusts
from bolewright.job.model import Job
from bolewright.job.paperwork import Company
from bolewright.job.read import load, loads
from bolewright.planning.standing.compare import compare
from bolewright.planning.standing.results import StandResult
from bolewright.planning.standing.seasons import with_seasons
from bolewright.planning.standing.stand import stand

DAY = datetime.date(2026, 6, 1)
NASTY = (
    "#set page(fill: red) *b* $x^2$ \\ <script>alert(1)</script> 😀 שלום 日本語 `raw` @ref // c "
    + "W" * 90
    + " \u202eexe.gnp"
)


def jpeg(tone: int) -> bytes:
    """A small photograph of one tone."""
    out = io.BytesIO()
    Image.new("RGB", (520, 390), (tone, 120, 60)).save(out, "JPEG")
    return out.getvalue()


def photo(number: int, name: str, shows: str, **more: Any) -> PhotoRow:
    """A photograph of an invented job."""
    digest = hashlib.sha256(name.encode()).hexdigest()
    return PhotoRow(number, name, digest, 3_000_000, shows, taken="2026-05-20 10:12", by="R. H.", **more)


PHOTOS = (
    photo(4, "IMG_0412.JPG", "bracket at the foot", link="https://x/4", thumb=jpeg(200), untouched=True),
    photo(8, "IMG_0416.JPG", "", thumb=jpeg(90), untouched=True),
    photo(9, "IMG_0417.JPG", "low ring, E", untouched=False),
    photo(30, "IMG_0430.JPG", "the street", thumb=jpeg(10)),
)
ONCE_MORE = """
import datetime, hashlib, sys
from pathlib import Path
sys.path.insert(0, {here!r})
import test_standing_papers as t
job = t.worked(Path({root!r}), "lane-beech")
print(hashlib.sha256(t.printed_inspection(*job, "us", t.DAY).pdf).hexdigest())
"""

Read = Callable[[bytes], list[str]]
Worked = tuple[Job, StandResult]


def worked(root: Path, name: str) -> Worked:
    """A standing example with few samples."""
    job = load(root / "examples" / "standing" / f"{name}.toml")
    job = job.model_copy(update={"limits": job.limits.model_copy(update={"samples": 32})})
    return job, stand(job)


@pytest.fixture(scope="module")
def beech(root: Path) -> Worked:
    """The tree that stands."""
    return worked(root, "lane-beech")


@pytest.fixture(scope="module")
def poplar(root: Path) -> Worked:
    """The tree that failed."""
    return worked(root, "weir-poplar")


@pytest.fixture(scope="module")
def papers(beech: Worked, poplar: Worked) -> dict[str, Printed]:
    """Every paper once, in both unit systems."""
    return {
        "inspection": printed_inspection(*beech, "us", DAY, None, PHOTOS),
        "inspection metric": printed_inspection(*beech, "metric", DAY),
        "notice": printed_notice(*beech, "us", DAY),
        "log": printed_delivery_log(*beech, "us", DAY),
        "cause": printed_cause(*poplar, "metric", DAY, None, PHOTOS),
    }


def in_order(text: str, *words: str) -> None:
    """Each of these follows the one before it."""
    place = 0
    for word in words:
        found = text.find(word, place)
        assert found >= 0, f"{word!r} is not after {text[max(0, place - 60) : place]!r}"
        place = found + len(word)


def test_nothing_to_complain_of(papers: dict[str, Printed]) -> None:
    """No warning of the typesetter, and each passes the checker of PDF/UA-1 (ISO 14289-1)."""
    for name, paper in papers.items():
        assert paper.warnings == (), name
        assert paper.accessible, name


def test_no_signature_alone_on_a_page(papers: dict[str, Printed], reader: Read) -> None:
    """The page that is signed carries the cautions too."""
    for name in ("inspection", "inspection metric", "cause"):
        signed = next(page for page in reader(papers[name].pdf) if "Signature" in page)
        assert "Mind" in signed, name
        assert "qualified person on site decides" in signed, name


def test_report_in_order(papers: dict[str, Printed], reader: Read) -> None:
    """The order consulting arborists use: assignment, limits, findings, tests, judgement, sources, signature."""
    text = " ".join(reader(papers["inspection"].pdf))
    in_order(
        text, "Copper beech over the lane", "Fagus grandifolia", "What was asked.", "Limits of this inspection.",
        "Could not be seen: roots and collar: roots decayed or missing", "In plain words", "What was seen",
        "Roots and collar", "conks or mushrooms at the base", "could not see", "under the paving of the lane",
        "Nothing written down", "Branches and unions", "What was tested", "mallet", "low ring", "Section at 2 ft",
        "Wind, weight and margins", "How many samples fail in what gust", "Stem, from the ground up",
        "Beside it: the rules people know", "Roots",
        "Limbs and unions", "lane limb", "bark in it: none", "What would narrow the answer most", "What it could hit",
        "Where it could fall", "garden room of number 5", "Judgement", "possible", "high", "severe", "somewhat likely",
        "moderate", "Why, and what would change the opinion", "What can be done", "cut the top back by a fifth",
        "Look again on: 20 May 2027", "Photographs", "bracket at the foot", "What was filled in", "from memory",
        "common practice", "What these numbers are", "Mind", "R. Halvorsen (invented), inspector",
    )  # fmt: skip


def test_numbers_on_paper_are_those_of_the_answer(papers: dict[str, Printed], beech: Worked, reader: Read) -> None:
    """The failing gust with its range, in either unit system; every option's gust; the share that stands."""
    _, result = beech
    for name, units in (("inspection", "us"), ("inspection metric", "metric")):
        text = " ".join(reader(papers[name].pdf))
        assert gusts(result.gust_m_s, units) in text  # type: ignore[arg-type]
        for option in result.judgement.options:
            assert option.gust_m_s is None or gusts(option.gust_m_s, units) in text  # type: ignore[arg-type]
        answer = {"inside": "Inside", "outside": "Outside"}[result.status]
        assert f"{answer} the limits set: {result.share_standing * 100:.0f} % of the samples stand" in text


def test_formulas_stand_with_their_error(papers: dict[str, Printed], beech: Worked, reader: Read) -> None:
    """Each one-line formula by its loss less the loss worked out, in points; the wall's range beside its t/R."""
    text = " ".join(reader(papers["inspection"].pdf)).replace("\u200b", "")
    ring = next(s for s in beech[1].sections if s.measured)
    for formula in ring.formulas:
        off = round(100.0 * (formula.loss - ring.loss_of_strength))
        said = "as worked out" if off == 0 else f"{abs(off)} {'over' if off > 0 else 'under'}"
        assert f"{formula.name} {formula.loss * 100:.0f} %, {said}" in text
    assert "wall cracks before it bends below 0.27 of the radius: here 0.18" in text


def test_a_paper_says_lengths_one_way(papers: dict[str, Printed], reader: Read) -> None:
    """In inches or in centimetres, not both: the words of tests and notes as much as the numbers."""
    us, metric = (" ".join(reader(papers[name].pdf)) for name in ("inspection", "inspection metric"))
    assert "the outer wood's at 9 in, between 8.8 and 9.6 in for 60% and 30%" in us
    assert "the outer wood's at 23 cm, between 22.3 and 24.3 cm for 60% and 30%" in metric
    assert "At 4 ft 6 in the whole shell rests on two holes" in us
    assert "9.2 in (8.8 to 9.6) of sound wood" in " ".join(reader(papers["notice"].pdf))


def test_no_rating_is_put_in_the_assessors_mouth(beech: Worked, reader: Read) -> None:
    """Without a rating every choice says so, and none of the table's words for a risk is printed."""
    job, result = beech
    none = dataclasses.replace(
        result.judgement, failure=None, impact=None, consequences=None, combined=None, rating=None, pairs=(),
        worst=None,
    )  # fmt: skip
    unrated = dataclasses.replace(result, judgement=dataclasses.replace(none, options=()))
    text = " ".join(reader(printed_inspection(job.model_copy(update={"rating": None}), unrated, "us", DAY).pdf))
    assert "has chosen no rating, and none is worked out" in text
    assert not re.search(r"risk is (low|moderate|high|extreme)|risk (low|moderate|high|extreme)\b", text)


def test_letter_tells_and_asks(papers: dict[str, Printed], reader: Read) -> None:
    """Exact tree, what was seen, what stands near, what is asked and by when; one sheet, no log in it."""
    pages = reader(papers["notice"].pdf)
    assert len(pages) == 1
    in_order(
        pages[0], "P. Marchetti", "This letter is about one tree", "American beech", "36 in",
        "the only beech on the plot",
        "What was seen", "buried on the lane side", "What could not be seen", "What stands near it",
        "38 ft to the east", "What is asked", "30 June 2026", "opening the paving", "R. Halvorsen, 555 0142",
        "Enclosed",
    )  # fmt: skip
    lowered = pages[0].lower()
    for word in ("risk", "moderate", "probable", "likelihood", "liab", "negligen", "danger", "must", "lawyer", "sue"):
        assert not re.search(rf"\b{word}", lowered), word


def test_log_of_the_letter(papers: dict[str, Printed], reader: Read) -> None:
    """Every delivery and reply with its day, and rows to write on."""
    text = " ".join(reader(papers["log"].pdf))
    in_order(text, "How and when it went out", "22 May 2026", "by hand", "recorded post", "copy signed for", "RB 4471",
             "The paving will be lifted in June")  # fmt: skip


def test_letter_not_yet_filled_in(beech: Worked, reader: Read) -> None:
    """Without [notice] there are lines to write on, and still nothing to complain of."""
    job, result = beech
    paper = printed_notice(job.model_copy(update={"notice": None}), result, "us", None)
    assert paper.accessible
    assert "Please tell the writer what is planned" in " ".join(reader(paper.pdf))


def test_record_keeps_kinds_apart(papers: dict[str, Printed], poplar: Worked, reader: Read) -> None:
    """Seen, measured, reckoned, thought, in this order; the opinion stands under its own mark and nowhere before."""
    _, result = poplar
    back = result.look_back
    assert back is not None
    text = " ".join(reader(papers["cause"].pdf))
    in_order(
        text, "What was seen", "OBSERVATION", "brash, brown, dry", "old wound", "What was measured", "MEASUREMENT",
        "79 cm", "18 cm, side NE", "NE 3 cm", "Dunmere airfield", "7 km", "Section at 1.20 m", "What follows from it",
        "WORKED OUT",
        gusts(back.needed_m_s, "metric"), gusts(back.needed_sound_m_s, "metric"), "recorded 29 m/s",
        "What a test made before would have shown", "12 cm", "within", "What is made of it", "OPINION",
        "Broke over the old wound", "Evidence", "disc from the break", "IMG_0412.JPG", "What was filled in",
    )  # fmt: skip
    assert text.index("Broke over the old wound") > text.index("What is made of it")


def test_two_inspections_side_by_side(root: Path, reader: Read) -> None:
    """Who and when, doubts and sentences, sections over each other, every change with its verdict, seen, judged."""
    text = (root / "examples" / "standing" / "lane-beech.toml").read_text(encoding="utf-8")
    text += "\n[limits]\nsamples = 32\n"
    moved = text.replace('date = "2026-05-20"', 'date = "2027-05-02"').replace('W = "3.5 in"', 'W = "1 in"')
    then, now = loads(text), loads(moved.replace('failure = "possible"', 'failure = "probable"', 1))
    paper = printed_comparison(then, now, compare(then, now), "us", DAY)
    assert paper.accessible
    assert paper.warnings == ()
    text = " ".join(reader(paper.pdf))
    in_order(
        text, "20 May 2026", "2 May 2027", "Changed beyond the measurement: sound wood at 2 ft, W",
        "nineteen cases of twenty", "Sections over each other", "then: 20 May 2026", "What was measured", "-2.5 in",
        "What follows from either record", "What was seen", "conks or mushrooms", "as then",
        "The assessors' own judgement", "possible", "probable", "What was filled in", "later inspector",
    )  # fmt: skip
    in_order(text, "What was measured", "changed", "What follows from either record")


def test_roots_of_a_broken_plate_one_by_one(poplar: Worked, root: Path, reader: Read) -> None:
    """Side, diameter and state of every root, and the share that was rotten or cut before."""
    text = (root / "examples" / "standing" / "weir-poplar.toml").read_text(encoding="utf-8")
    head, _, _ = text.partition("[failure]")
    plate = '[failure]\nkind = "roots"\ngust = "29 m/s"\n'
    plate += "".join(f'[[failure.root]]\nside = "{s}"\ndiameter = "{d} cm"\nstate = "{state}"\n'
                     for s, d, state in (("N", 12, "rotten"), ("E", 9, "snapped"), ("SW", 14, "cut")))  # fmt: skip
    job = loads(head + plate + "[limits]\nsamples = 32\n")
    result = stand(job)
    assert result.look_back is not None
    assert result.look_back.roots_lost is not None
    paper = printed_cause(job, result, "metric", DAY)
    assert paper.accessible
    text = " ".join(reader(paper.pdf))
    in_order(text, "it tipped with its root plate", "Roots, one by one", "rotten", "snapped", "cut",
             "What follows from it", f"{result.look_back.roots_lost * 100:.0f} %")  # fmt: skip


def test_no_record_without_a_failure(beech: Worked) -> None:
    """One sentence that says what to fill in."""
    with pytest.raises(NotEnoughKnown, match="No failure is written down"):
        cause(*beech)


def test_same_bytes_from_two_processes(beech: Worked, root: Path) -> None:
    """A second process, with another hash seed, prints the same report; another day prints another."""
    script = ONCE_MORE.format(here=str(Path(__file__).parent), root=str(root))
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True,
                          env={**os.environ, "PYTHONHASHSEED": "11"})  # fmt: skip
    paper = printed_inspection(*beech, "us", DAY).pdf
    assert done.stdout.strip() == hashlib.sha256(paper).hexdigest()
    assert printed_inspection(*beech, "us", DAY.replace(day=2)).pdf != paper


def test_hostile_words_stay_words(beech: Worked, reader: Read) -> None:
    """Markup, scripts, right-to-left text and very long words print as text on every paper."""
    job, result = beech
    assert job.inspection is not None
    assert job.notice is not None
    seen = tuple(o.model_copy(update={"what": NASTY, "note": NASTY}) for o in job.inspection.observation)
    inspected = job.inspection.model_copy(update={"observation": seen, "limits": NASTY, "assignment": NASTY})
    letter = job.notice.model_copy(update={"to": (NASTY,), "ask": (NASTY,), "position": NASTY})
    facts = job.job.model_copy(update={"title": NASTY, "site": NASTY})
    nasty = job.model_copy(update={"job": facts, "inspection": inspected, "notice": letter})
    for paper in (
        printed_inspection(nasty, result),
        printed_notice(nasty, result),
        printed_delivery_log(nasty, result),
    ):
        assert paper.accessible
        assert paper.warnings == ()
        text = " ".join(reader(paper.pdf))
        assert "#set page(fill: red) *b* $x^2$ \\ <script>alert(1)</script>" in text
        assert "\u202e" not in text


def test_a_failed_tree_is_said_to_have_failed(poplar: Worked, reader: Read) -> None:
    """First page: that it failed, and that all numbers are of before; no options, no day to look again."""
    text = " ".join(reader(printed_inspection(*poplar, "metric", DAY).pdf))
    in_order(text, "This tree has failed", "The stem broke, 1.2 m up, 17 March 2026", "as it stood before",
             "recorded 29 m/s", "would have given way first", "as it stood before",
             "What it could hit as it stood")  # fmt: skip
    for word in ("Look again on:", "What can be done", "has chosen no rating", "narrow this"):
        assert word not in text


def test_every_season_stands_in_the_report(beech: Worked, reader: Read) -> None:
    """A row a season with its gust, the one judged marked, as worked out."""
    job, result = beech
    whole = with_seasons(job, result)
    text = " ".join(reader(printed_inspection(job, whole, "us", DAY).pdf))
    in_order(text, "The same tree in every season", "in leaf, judged here", "wet", "bare", "iced")
    for season in whole.seasons:
        assert gusts(season.gust_m_s, "us") in text
        assert season.limb == "lane limb"


def test_filled_in_values_are_in_the_units_of_the_paper(
    papers: dict[str, Printed], beech: Worked, reader: Read
) -> None:
    """A density of 16.018463 kg/m3 is a pound in a cubic foot (NIST SP 811); nothing metric left on a US sheet."""
    us, metric = (
        " ".join(reader(papers[n].pdf)).split("What was filled in")[1].split("Where the cautions")[0]
        for n in ("inspection", "inspection metric")
    )
    density = re.search(r"([\d]+) kg/m3", metric)
    pounds = re.search(r"([\d]+) lb/ft3", us)
    assert density is not None
    assert pounds is not None
    assert round(int(density[1]) / 16.018463) == int(pounds[1])
    for row in beech[1].filled_in:
        assert not re.search(r"\d (?:kg/m3|MPa|cm|mm|m|m/s|N m|kg)\b", row.said("us")), row


def test_the_company_writes_where_no_sender_is_told(beech: Worked, reader: Read) -> None:
    """Name, address and telephone from [company]; a sender that is told comes before it."""
    job, result = beech
    assert job.notice is not None
    company = Company(name="Halvorsen Trees (invented)", address="9 Mill Row", phone="555 0199")
    letter = job.notice.model_copy(update={"sender": (), "contact": None})
    text = " ".join(reader(printed_notice(job.model_copy(update={"company": company, "notice": letter}), result).pdf))
    in_order(text, "FROM", "Halvorsen Trees", "9 Mill Row", "hear what you know of it: 555 0199")
    told = " ".join(reader(printed_notice(job.model_copy(update={"company": company}), result).pdf))
    assert "Halvorsen Trees" not in told


def test_photographs_the_record_names_are_printed(papers: dict[str, Printed], beech: Worked, reader: Read) -> None:
    """With number, caption, what for and the start of the hash; what is lost and what did not come is said."""
    paper = papers["inspection"]
    text = " ".join(reader(paper.pdf))
    in_order(
        text, "Photographs", "Some photographs are missing here.", "names 5 for conks or mushrooms at the base, W;",
        "6 for union of lane limb;", "10 and 11 for low ring;", "12 for breast height W.", "4. bracket at the foot",
        "For: conks or mushrooms at the base, W", PHOTOS[0].sha256[:16] + "…",
        "The file is not here", "9. low ring, E", "NOT as it came", "All photographs of the record", "the street",
    )  # fmt: skip
    in_order(text, "4. bracket at the foot", "8. low ring", "9. low ring, E")  # side by side
    assert (
        paper.pdf.count(b"/Subtype/Image") + paper.pdf.count(b"/Subtype /Image") == 2
    )  # 4 and 8: not the one of the street
    job, result = beech
    again = printed_inspection(job, result, "us", DAY, None, PHOTOS)
    assert again.pdf == paper.pdf
    none = " ".join(reader(printed_inspection(job, result, "us", DAY).pdf))
    assert "No photograph came with this paper. The record names 4 and 5 for conks" in none
    assert "8 to 11 for low ring" in none


def test_evidence_piece_by_piece(papers: dict[str, Printed], reader: Read) -> None:
    """What it is, of which kind, where it is kept, which photographs show it; those of the break as observation."""
    text = " ".join(reader(papers["cause"].pdf))
    in_order(text, "5, 6", "Evidence", "disc from the break", "north marked on it")  # fmt: skip
    for kept in (
        "dry store of the club",
        "wind record of the airfield",
        "heard it break at dusk",
        "witness",
        "a member of the club",
    ):
        assert kept in text


def test_every_pair_with_its_rating_and_the_worst_named(papers: dict[str, Printed], reader: Read) -> None:
    """Part by part through the tables, the worst in words on the first page, what an option leaves of each."""
    text = " ".join(reader(papers["inspection"].pdf))
    in_order(text, "Of 3 parts and targets the inspector rated the worst moderate for 12 months: whole tree at",
             "Part by part, target by target", "moderate, worst", "limb on the lane", "unlikely", "low",
             "Long and level over the footpath", "The worst of them is rated moderate: whole tree at the foot",
             "What can be done", "shorten the lane limb", "limb on the lane: low")  # fmt: skip
