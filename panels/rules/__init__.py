"""What does the code allow, and what does this panel carry?"""

from panels.rules.methods import METHODS, calculate

__all__ = ["METHODS", "calculate"]
