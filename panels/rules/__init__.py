"""What does the code allow, and what does this panel carry?"""

from panels.rules.methods import METHODS, PARTS, calculate

__all__ = ["METHODS", "PARTS", "calculate"]
