"""For every test: what makes a committed table again is a program, not a test."""

collect_ignore_glob = ["**/generate_*.py", "**/make_*.py", "**/pictures.py"]
