"""Findings and judgements made by hand for the tests of what is said and shown; their figures are invented."""

from hypothesis import strategies as st

from assistant.load.model import Article, Coil, Eye, Kind, Load, Path, Pull, Row, Support, Through, Tiedown
from assistant.securement.finding import Basis, Finding, Judgement, Mark, Rated, Status, Step

CHAINS = Tiedown(kind=Kind.CHAIN, count=3, size_in=0.375, grade="70", path=Path.ACROSS)
LOAD = Load(coils=(Coil(weight_lb=40_000, eye=Eye.CROSSWISE),), tiedowns=(CHAINS,))


def finding(status: Status, topic: str = "aggregate", **told: object) -> Finding:
    """Return a finding; by default one on the half-weight line."""
    usual: dict[str, object] = {
        "rule": "49 CFR 393.106(d)",
        "text": "Half the weight is 20,000 lb; these tiedowns count 19,800 lb.",
        "mark": Mark.READ,
        "trace": (Step(what="share of the weight", value=0.5, ref="49 CFR 393.106(d)", mark=Mark.READ),),
    }
    return Finding.model_validate({**usual, "status": status, "topic": topic, **told})


def sums(status: Status, have: float, need: float = 20_000, **told: object) -> Finding:
    """Return the finding on the half-weight line with its figures."""
    return finding(status, need=need, have=have, unit="lb", **told)


def rated(tiedown: Tiedown = CHAINS, basis: Basis = Basis.TABLE, path: Path = Path.ACROSS) -> Rated:
    """Return a rated group of three at 6,600 lb."""
    return Rated(tiedown=tiedown, wll_lb=6_600, basis=basis, path=path, counts_lb=19_800, governs="chain")


SHORT = Judgement(
    findings=(
        sums(Status.SHORT, 19_800, remedy="Add one chain like those, across to the other side."),
        finding(Status.LOOK, "next look", text="Next stop within 50 miles.", remedy="Stop and look within 50 miles."),
    ),
    rated=(rated(),),
    needed_lb=20_000,
    counted_lb=19_800,
    assumed=("Binders that were not described are taken as no weaker than their chain.",),
)

WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=160) | st.sampled_from(
    ["Half the weight is 20,000 lb; these tiedowns count 19,800 lb.", "Which way does the eye point?", "X" * 200]
)
AMOUNTS = st.none() | st.floats(0, 1_000_000)
COUNTS = st.integers(1, 20)
STEPS = st.builds(
    Step,
    what=WORDS,
    value=st.floats(0, 1e9) | WORDS,
    unit=st.sampled_from(["lb", "", "ft"]),
    ref=st.sampled_from(["49 CFR 393.106(d)", ""]),
    mark=st.none() | st.sampled_from(Mark),
    formula=WORDS,
)
FINDINGS = st.builds(
    Finding,
    rule=st.sampled_from(["49 CFR 393.106(d)", "49 CFR 393.120(b)(1)(iii)", "common practice", "FMCSA-2010-0177"]),
    status=st.sampled_from(Status),
    text=WORDS,
    remedy=WORDS,
    need=AMOUNTS,
    have=AMOUNTS,
    unit=st.sampled_from(["lb", "tiedowns", ""]),
    mark=st.sampled_from(Mark),
    trace=st.lists(STEPS, min_size=1, max_size=3).map(tuple),
    topic=st.sampled_from(["aggregate", "rating", "count", "forward", "rearward", "rolling", "path"]),
)
TIEDOWNS = st.builds(
    Tiedown,
    kind=st.sampled_from(Kind),
    count=COUNTS,
    size_in=st.none() | st.sampled_from([0.3125, 0.375, 1.25, 4.0]),
    grade=st.none() | st.sampled_from(["30", "70"]),
    marked_lb=st.none() | st.floats(1, 50_000),
    path=st.none() | st.sampled_from(Path),
    pulls=st.none() | st.sampled_from(Pull),
    through=st.none() | st.sampled_from(Through),
    unmarked=st.booleans(),
    crossed=st.booleans(),
)
LOADS = st.builds(
    Load,
    coils=st.lists(
        st.builds(
            Coil,
            count=COUNTS,
            weight_lb=st.none() | st.floats(1, 100_000),
            eye=st.none() | st.sampled_from(Eye),
            metal=st.none() | st.sampled_from(["steel", "copper"]),
        ),
        max_size=4,
    ).map(tuple),
    articles=st.lists(
        st.builds(
            Article,
            name=st.text(st.characters(exclude_categories=["Cs"]), max_size=40),
            weight_lb=st.none() | st.floats(1, 100_000),
            length_ft=st.none() | st.floats(0.1, 60),
            blocked_forward=st.none() | st.booleans(),
        ),
        max_size=4,
    ).map(tuple),
    tiedowns=st.lists(TIEDOWNS, max_size=4).map(tuple),
    support=st.builds(Support, bunks=st.none() | st.integers(0, 9), mats=st.none() | st.booleans()),
    row=st.none() | st.sampled_from(Row),
    seen=st.lists(st.sampled_from(["lip", "knot"]), unique=True).map(tuple),
)
RATED = st.builds(
    Rated,
    tiedown=TIEDOWNS,
    wll_lb=st.none() | st.floats(0, 50_000),
    basis=st.sampled_from(Basis),
    path=st.sampled_from(Path),
    counts_lb=st.floats(0, 100_000),
    governs=st.sampled_from(["chain", "binder"]),
    trace=st.lists(STEPS, max_size=2).map(tuple),
)
JUDGEMENTS = st.builds(
    Judgement,
    findings=st.lists(FINDINGS, max_size=4).map(tuple),
    rated=st.lists(RATED, max_size=3).map(tuple),
    needed_lb=AMOUNTS,
    counted_lb=AMOUNTS,
    assumed=st.lists(WORDS, max_size=2).map(tuple),
    asks=st.lists(WORDS, max_size=2).map(tuple),
)
