"""Which way the load can still move, in words for the ear and lines for the eye."""

from assistant.conversation import Conversation
from assistant.judging import judge
from assistant.kit import Kit
from assistant.say.answer import Answer
from assistant.say.lines import section, wrapped
from assistant.say.screen import CAUTION
from assistant.say.spell import spell
from assistant.securement.statics import PLENTY_G, Statics, Way, can_look, look_at_movement
from assistant.talk import plain


def answer_movement(utterance: str, conversation: Conversation, kit: Kit) -> Answer:
    """Answer "which way can it move": the weak way, what gives first there, and what does nothing."""
    load = conversation.load
    judgement = judge(conversation, kit)
    open_fact = can_look(load, tables=kit.tables, on=kit.on)
    if open_fact:
        answer = plain(utterance, "movement", conversation, open_fact)
        asks = (open_fact,) if open_fact.endswith("?") else ()
        return answer.model_copy(update={"judgement": judgement, "asks": asks})
    statics = look_at_movement(load, judgement.rated, tables=kit.tables, on=kit.on)
    judgement = judgement.model_copy(
        update={
            "findings": (*judgement.findings, statics.finding),
            "assumed": tuple(dict.fromkeys((*judgement.assumed, *statics.assumed))),
        }
    )
    answer = plain(utterance, "movement", conversation, statics.sentence, show=_shown(statics))
    return answer.model_copy(update={"judgement": judgement, "say": _said(statics)})


def _said(statics: Statics) -> str:
    """Return the weak way, what does nothing there, and that tiedowns were shared out or geometry was assumed."""
    first, _, second = statics.sentence.partition(". ")
    assumed = "" if second else "The geometry is assumed; see the screen."
    return spell(" ".join(part for part in (f"{first.rstrip('.')}.", second, statics.shared or assumed) if part))


def _shown(statics: Statics) -> str:
    lines = [*wrapped(statics.sentence), "", f"{'movement':<20}{'holds':>8}{'asked':>8}   at breaking strength"]
    several = len({way.piece for way in statics.ways}) > 1
    lines += [_row(way) + (f"   {way.piece}" if several else "") for way in statics.ways]
    source = f"{statics.finding.rule} and (a)(1), ({statics.finding.mark}): a rigid-body bound with assumed geometry."
    lines += ["", *wrapped(f"{source} The verdict rests on the clauses.")]
    lines += section("Assumed", statics.assumed, mark="-")
    return "\n".join([*lines, "", *wrapped(CAUTION)]) + "\n"


def _row(way: Way) -> str:
    breaking = f"{_g(way.at_break)} of {way.need_break:g} g" if way.at_break is not None and way.need_break else ""
    asked = f"{way.need_limit:g} g" if way.need_limit else ""
    return f"{way.name:<20}{_g(way.at_limit):>8}{asked:>8}   {breaking}".rstrip()


def _g(value: float) -> str:
    return f"{value:.2f} g" if value < PLENTY_G else "more"
