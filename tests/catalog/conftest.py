"""The plan that the checks of this folder share is found beside them."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
