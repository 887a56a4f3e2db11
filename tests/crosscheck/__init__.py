"""Do other programs, and a second derivation, find the same fault currents?"""
