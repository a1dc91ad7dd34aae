"""Sums: a question, its answer in a sentence, a picture, and why."""
