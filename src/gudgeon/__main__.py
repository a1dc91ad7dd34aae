"""``python -m gudgeon`` is the same as ``gudgeon``."""

from gudgeon.cli import main

if __name__ == "__main__":
    main()
