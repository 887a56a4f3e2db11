"""Does what is recorded of a panel stand up to the code, rule by rule, and what is not known?"""
