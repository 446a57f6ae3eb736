"""Roster files of a school office: read, held against who is known, run whole, and undone.

reading → fields → lines and closures → grouping → matching → planning → applying → undoing: each
step is a file, and only `known`, `applying` and `undoing` touch the database.
"""
