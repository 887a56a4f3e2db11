"""`python -m contractor.local` is what `make run` runs."""

import sys

from contractor.local.supervisor import main

sys.exit(main())
