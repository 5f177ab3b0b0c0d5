"""`python -m circuit` is the same as `airwright`."""

import sys

from circuit.cli import main

sys.exit(main())
