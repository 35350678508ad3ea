"""The nouns of a load: what lies on the deck, what holds it, and what the driver owns.

Every model is frozen and refuses unknown fields, NaN and infinity. `None` always means "not told";
nothing here guesses. Weights are pounds, lengths feet or inches as the field's name says.
"""

from enum import StrEnum

from pydantic import BaseModel, ConfigDict, Field


class Noun(BaseModel):
    """Base of all load models: immutable, closed, finite numbers only."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Eye(StrEnum):
    """Where a coil's bore axis points (49 CFR 393.120 headings)."""

    CROSSWISE = "crosswise"
    LENGTHWISE = "lengthwise"
    VERTICAL = "vertical"


class Row(StrEnum):
    """How several coils stand together: side by side across the deck, or in line along it."""

    TRANSVERSE = "transverse"
    LENGTHWISE = "lengthwise"


class Kind(StrEnum):
    """Kinds of tiedown that 49 CFR 393.108 has a table for."""

    CHAIN = "chain"
    STRAP = "strap"
    WIRE_ROPE = "wire rope"
    ROPE = "rope"
    STEEL_STRAP = "steel strap"


class Path(StrEnum):
    """Course of a tiedown, as 49 CFR 393.106(d) counts it."""

    ACROSS = "across"
    """Over, through or round the article to the other side of the vehicle: counts in full."""
    SAME_SIDE = "same side"
    """Round the article and back to the side it came from: counts half."""
    DIRECT = "direct"
    """From the vehicle to an anchor point on the article: counts half."""


class Pull(StrEnum):
    """The movement a tiedown resists; `OVER` presses down."""

    FORWARD = "forward"
    REARWARD = "rearward"
    OVER = "over"
    LEFT = "left"
    RIGHT = "right"


class Through(StrEnum):
    """What a tiedown passes: the coil's eye, or over its top."""

    EYE = "eye"
    TOP = "top"


class Place(StrEnum):
    """Where along the coil a tiedown over the top lies."""

    FRONT = "front"
    MIDDLE = "middle"
    REAR = "rear"


class Coil(Noun):
    """One or more like metal coils (`weight_lb` is for each)."""

    count: int = Field(default=1, ge=1)
    weight_lb: float | None = Field(default=None, gt=0)
    eye: Eye | None = None
    metal: str | None = None
    width_in: float | None = Field(default=None, gt=0)
    """Width of the strip: the coil's length along its bore."""
    outside_in: float | None = Field(default=None, gt=0)
    bore_in: float | None = Field(default=None, gt=0)


class Article(Noun):
    """One or more like articles that are not coils (weight and length are for each)."""

    name: str = "article"
    count: int = Field(default=1, ge=1)
    weight_lb: float | None = Field(default=None, gt=0)
    length_ft: float | None = Field(default=None, gt=0)
    blocked_forward: bool | None = None


class Tiedown(Noun):
    """One or more like tiedowns, each an assembly from anchor to anchor.

    `grade` is a chain's ("30", "43", "70", "80", "100"); `material` a rope's. `marked_lb` is the maker's WLL,
    `unmarked` records that the driver looked and found none. The `*_lb` parts bound the assembly (393.108(a)).
    """

    kind: Kind
    count: int = Field(default=1, ge=1)
    size_in: float | None = Field(default=None, gt=0)
    thickness_in: float | None = Field(default=None, gt=0)
    grade: str | None = None
    material: str | None = None
    marked_lb: float | None = Field(default=None, gt=0)
    unmarked: bool = False
    binder_lb: float | None = Field(default=None, gt=0)
    hook_lb: float | None = Field(default=None, gt=0)
    winch_lb: float | None = Field(default=None, gt=0)
    anchor_lb: float | None = Field(default=None, gt=0)
    path: Path | None = None
    pulls: Pull | None = None
    through: Through | None = None
    place: Place | None = None
    angle_deg: float | None = Field(default=None, ge=0, le=90)
    """Angle with the deck, seen from the side."""
    breaking_lb: float | None = Field(default=None, gt=0)
    pretension_lb: float | None = Field(default=None, ge=0)
    threads_left: float | None = Field(default=None, ge=0)
    take_up_in: float | None = Field(default=None, ge=0)
    """What the binder can still tighten."""
    lead_in: float | None = Field(default=None, gt=0)
    """Take-up of one thread (one turn of one screw), as the driver measured it."""
    adjustable: bool | None = None
    """It can be tightened on the road (393.112)."""
    edge_protected: bool | None = None
    damaged: bool = False
    """Damaged or knotted: not counted."""
    crossed: bool = False
    """Laid on the diagonals, one each way, so that the pair forms an X seen from above."""
    doubled: bool = False
    """Doubled back on itself, or two laid as one: still one tiedown."""


class Support(Noun):
    """What the coils rest on and what keeps that in place."""

    bunks: int | None = Field(default=None, ge=0)
    some_bunks: bool | None = None
    """Bunks were told of, and not how many."""
    timbers: int | None = Field(default=None, ge=0)
    wedges: int | None = Field(default=None, ge=0)
    """Chocks and wedges, counted together."""
    cradle: bool | None = None
    mats: bool | None = None
    pallet: bool | None = None
    nailed_only: bool | None = None
    """Nails or cleats are the only thing that holds timbers, chocks, wedges or the cradle."""
    blocked_forward: bool | None = None
    blocked_rearward: bool | None = None
    on_deck: bool | None = None
    """The coil touches the deck."""
    held: bool | None = None
    """The cradle, or timbers in bunks, is kept from sliding."""
    bunk_rated_lb: float | None = Field(default=None, gt=0)
    """What each bunk is rated to carry."""
    timber_rated_lb: float | None = Field(default=None, gt=0)
    gap_in: float | None = Field(default=None, gt=0)
    """Between the two edges that a coil with a lying bore rests on."""
    edge_height_in: float | None = Field(default=None, gt=0)
    """Height of those edges above the deck."""
    mats_rated_g: float | None = Field(default=None, gt=0)
    """The maker's marked friction resistance of the mats."""


class Slack(Noun):
    """What would let a tiedown go slack if it gave way, in inches: a lip that folds, a wrap that settles, a timber."""

    lip_in: float | None = Field(default=None, ge=0)
    wrap_in: float | None = Field(default=None, ge=0)
    timber_in: float | None = Field(default=None, ge=0)


class FrontStructure(Noun):
    """The headerboard or bulkhead, where cargo is in contact with it (393.114)."""

    height_ft: float | None = Field(default=None, gt=0)
    rated_lb: float | None = Field(default=None, gt=0)
    damaged: bool | None = None


class Load(Noun):
    """All that was told about one load."""

    coils: tuple[Coil, ...] = ()
    articles: tuple[Article, ...] = ()
    tiedowns: tuple[Tiedown, ...] = ()
    support: Support = Support()
    row: Row | None = None
    seen: tuple[str, ...] = ()
    """Observations, by their names in grammar/vocabulary.toml ("lip", "broken band", "damaged chain", ...)."""
    slack: Slack = Slack()
    front: FrontStructure | None = None
    yard: bool = False
    """A slow move on private ground with tiedowns off, never the road."""

    @property
    def untold(self) -> bool:
        """Whether neither cargo, nor a tiedown, nor anything seen was told: there is nothing to judge."""
        return not (self.coils or self.articles or self.tiedowns or self.seen)


class Gear(Noun):
    """What the driver's tiedowns of one kind are, unless a phrase says otherwise."""

    kind: Kind
    size_in: float | None = Field(default=None, gt=0)
    thickness_in: float | None = Field(default=None, gt=0)
    grade: str | None = None
    material: str | None = None
    marked_lb: float | None = Field(default=None, gt=0)
    unmarked: bool = False
    binder_lb: float | None = Field(default=None, gt=0)


class GearList(Noun):
    """The driver's own gear, one entry a kind; `sample` until the driver speaks or edits their own."""

    items: tuple[Gear, ...] = ()
    sample: bool = False

    def of(self, kind: Kind) -> Gear | None:
        """Return the entry for a kind, or None."""
        return next((item for item in self.items if item.kind is kind), None)


def all_alike(load: Load, kind: str) -> bool:
    """Return whether one answer can be meant for all tiedowns of a kind."""
    makes = {(group.size_in, group.grade, group.marked_lb) for group in load.tiedowns if group.kind == kind}
    return len(makes) <= 1
