"""What the firm's rows say."""

from contractor.queries.the_firm import firm

__all__ = ["firm"]
