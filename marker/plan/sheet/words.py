"""The sheet's words on pieces, garments and safety."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from marker.lay import Mode
from marker.piece import Grain, Piece
from marker.plan.words.figures import Figures
from marker.plan.words.sizes import cut_size, edge_sizes
from marker.plan.words.wishes import wish_words
from marker.record import WITH_FLOUNCES, Garment, Record
from marker.units import set_fractions

GRAIN = {
    Grain.ALONG: "along the warp",
    Grain.ACROSS: "across",
    Grain.EITHER: "either way",
    Grain.BIAS: "on the bias",
}

BLADES = "Blades: {}, and put shears down closed."
TEARING = (
    "Tear only after snipping. Torn strips narrower than about 4 cm (1½ in) stretch and curl.",
    "Print is not always on grain: tear a short way and look before going on.",
)
SKIRTS = (
    "Long full skirts: keep away from open flame, lift them on stairs, and tie them back "
    "near machinery."
)
CAUTIONS = (
    "On a stage or at a public event follow the venue's fire rules, and the local code for "
    "treated cloth.",
    "Where the law asks for licensed practice, such as flame treatment, ask someone who "
    "holds the licence.",
)


def cautions(record: Record) -> tuple[str, ...]:
    """What to mind, of tearing only where something is torn, of skirts where there are any."""
    torn = any(lay.mode is Mode.TEAR for lay in record.lays)
    verb = "snip" if torn else "cut"
    blades = BLADES.format(f"{verb} away from the hand that holds the cloth")
    skirts = not record.garments or any(garment.round_hem for garment in record.garments)
    return (blades, *(TEARING if torn else ()), *((SKIRTS,) if skirts else ()), *CAUTIONS)


def piece_words(piece: Piece, cloth: str, garment: str, figures: Figures) -> dict[str, str]:
    """One row of the piece list; what a shaped piece has to tell besides stands under it."""
    edges, asks = set_fractions(edge_sizes(piece, figures.units)), ", ".join(_asks(piece))
    under = [f"edges: {edges}"] if edges else []
    if piece.outline is not None and asks:
        under.append(asks)
    return {
        "letter": piece.letter,
        "name": piece.name,
        "asks": asks if piece.outline is None else "",
        "under": "; ".join(under),
        "count": str(piece.count),
        "size": figures.size(*cut_size(piece)),
        "grain": GRAIN[piece.grain],
        "cloth": cloth,
        "whose": ", ".join(part for part in (_wearer(piece.wearer, garment), garment) if part),
    }


def _asks(piece: Piece) -> Iterator[str]:
    """What a piece asks besides its grain, each in a few words."""
    if piece.mirrored:
        told = f"{piece.mirrored} of these" if piece.mirrored < piece.count else "all"
        yield f"{told} turned over"
    if not piece.torn and piece.outline is None:
        yield "not to be torn"
    if wish := wish_words(piece):
        yield wish
    if piece.matches:
        yield "matched to the repeat"


def _wearer(wearer: str, garment: str) -> str:
    """The wearer, unless the garment's own name says whose it is."""
    return "" if wearer in garment else wearer


def _flounced(garment: Garment) -> bool:
    return any(item.name == WITH_FLOUNCES for item in garment.figures)


def garment_words(garment: Garment, figures: Figures) -> dict[str, Any]:
    """A garment's facts, its turn-downs and the advice on it."""
    facts = []
    if garment.panels:
        facts.append(("panels", str(garment.panels)))
    if garment.cut_length:
        facts.append(("cut length of a panel", figures.up(garment.cut_length)))
    if garment.round_hem:
        facts.append(("round the hem", figures.near(garment.round_hem)))
    if garment.round_hem and garment.drawn:
        pressed = garment.pleating and not garment.pleating.method.stitched
        into = "pleated into" if pressed else "drawn up to"
        facts.append((into, figures.near(garment.drawn)))
        facts.append(("fulness", f"{garment.fulness:.1f} to 1"))
    if garment.opening:
        facts.append(("opening", figures.near(garment.opening)))
    facts += [(item.name, figures.near(item.length)) for item in garment.figures]
    return {
        "name": garment.name,
        "wearer": _wearer(garment.wearer, garment.name),
        "facts": facts,
        "reach": "to the flounce" if _flounced(garment) else "finished length",
        "turns": [
            {
                "place": turn.place,
                "finished": figures.near(turn.finished),
                "depth": figures.near(turn.depth),
            }
            for turn in garment.turn_downs
        ],
        "advice": [set_fractions(sentence) for sentence in garment.advice],
    }
