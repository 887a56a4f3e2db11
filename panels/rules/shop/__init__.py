"""What load does a small shop have by the general rules?"""
