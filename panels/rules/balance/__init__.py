"""Where should each breaker sit, so that the legs carry alike and few breakers are moved?

A tandem or a quad is one body and moves whole. Handle-tied single-poles of one multiwire group
move together, keep next to each other in one column, and may change their order. What is locked
stays. Common practice, no source, except where a section is named.
"""

from panels.rules.balance.breakers import Breaker, Move, Proposal
from panels.rules.balance.propose import propose

__all__ = ["Breaker", "Move", "Proposal", "propose"]
