"""A press of its own: ``python -m gudgeon.report.press FOLDER`` sets the paper of one folder and ends."""

import sys
from pathlib import Path

from gudgeon.report.typesetting import PaperError, press

if __name__ == "__main__":
    try:
        press(Path(sys.argv[1]))
    except PaperError as fault:
        sys.exit(str(fault))
