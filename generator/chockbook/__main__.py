"""`python -m chockbook` is the command `chockbook`."""

from .cli import main

raise SystemExit(main())
