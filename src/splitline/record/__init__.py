"""The record of what was done: append-only, several writers, evidence of later changes.

``journal`` keeps the file, ``entry`` its acts, ``progress`` tells what is open, ``stops`` what holds the work up,
``as_built`` what stands in the dossier.
"""
