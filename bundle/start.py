"""Where the built program begins: like `python -m game`, and ready to start copies of itself for work on all cores."""

import multiprocessing
import sys

from game.__main__ import main

if __name__ == "__main__":
    multiprocessing.freeze_support()
    sys.exit(main())
