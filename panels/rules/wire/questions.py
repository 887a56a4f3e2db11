"""Which questions about conductors can be answered?"""

from panels.rules.wire import ampacity, conductor, drop, grounding

QUESTIONS = (
    conductor.QUESTION,
    ampacity.QUESTION,
    drop.QUESTION,
    grounding.EQUIPMENT_QUESTION,
    grounding.ELECTRODE_QUESTION,
)
