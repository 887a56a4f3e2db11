"""What load does a small shop have by the general rules (Article 220, Parts II and III)?"""

from __future__ import annotations

from panels.rules.climate import climate_demand
from panels.rules.coincidence import coincident
from panels.rules.demand import Demand, Share, item, shared
from panels.rules.dwelling import Kind
from panels.rules.edition import Edition
from panels.rules.motors import largest, motor_demand, motors
from panels.rules.quantities import va
from panels.rules.question import Question
from panels.rules.report import assemble, section_of
from panels.rules.shop.description import read_shop
from panels.rules.shop.lighting import lighting_piece, sign_piece, track_piece, window_piece
from panels.rules.shop.outlets import kitchen_piece, receptacle_piece, teaching_piece
from panels.rules.shop.pieces import Piece, managed_piece, piece_of
from panels.rules.shop.premises import Shop
from panels.rules.shop.service import neutral_section, service_section
from panels.rules.vehicles import managed_demand, vehicle_demand
from panels.rules.working import Result, line

KEY, TITLE = "shop", "Small shop, general rules"
IN_FULL = (Kind.WATER_HEATER, Kind.APPLIANCE, Kind.MOTOR, Kind.OTHER)


def shop(premises: Shop, edition: Edition) -> Result:
    """The load with its working; continuous loads at 125 % beside it, for the rating only."""
    return coincident(premises, edition, _shop)


def _shop(premises: Shop, edition: Edition) -> Result:
    found = pieces(premises, edition)
    demands = [piece.demand for piece in found]
    sections = [
        *map(section_of, demands),
        neutral_section(demands, premises, edition),
        service_section(found, premises, edition),
    ]
    topics = ["shop", *(["managed"] if premises.managed else [])]
    return assemble(KEY, TITLE, edition, sections, topics=topics)


def pieces(premises: Shop, edition: Edition) -> list[Piece]:
    """Every group of the shop's loads, the largest motor last."""
    found = [
        lighting_piece(premises, edition),
        window_piece(premises, edition),
        track_piece(premises, edition),
        sign_piece(premises, edition),
        receptacle_piece(premises, edition),
        kitchen_piece(premises, edition),
        teaching_piece(premises, edition),
        piece_of(vehicle_demand(premises, edition), edition),
        managed_piece(managed_demand(premises, edition), premises, edition),
        piece_of(_in_full(premises), edition),
    ]
    beside = largest(motors(piece.demand for piece in found))
    found.append(piece_of(climate_demand(premises, edition, beside=beside), edition))
    motor = motor_demand([piece.demand for piece in found], edition)
    return [*found, Piece(demand=motor)]


def _in_full(premises: Shop) -> Demand:
    """Equipment at its nameplate."""
    loads, label = premises.of(*IN_FULL), "Other equipment"
    lines = [item(load) for load in loads]
    if loads:
        lines.append(line("others", label, va(sum(load.all for load in loads)), total=True))
    return shared("others", label, [Share(load=load) for load in loads], lines=lines)


QUESTION = Question(key=KEY, title=TITLE, read=read_shop, answer=shop)
