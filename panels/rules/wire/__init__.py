"""Which conductor does a circuit need, what does it carry, and how far does its voltage fall?"""
