"""Turns Markdown, operator data and calculators into the handbook's pages.

Only ``tools/material`` knows MkDocs; the blocks here are plain Python-Markdown and everything after
the build works on the finished folder, so that another site generator can take its place.
"""
