"""`python -m webapp` is the command `platewright`."""

from webapp.cli import main

raise SystemExit(main())
