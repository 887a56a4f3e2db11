"""Will a proposed addition fit on the service there is, and what are the ways out if not?"""
