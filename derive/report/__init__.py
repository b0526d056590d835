"""Saying what was found: on a terminal, as data, in words shared by both.

This room turns a finished `Check` into something a person or a program reads. It decides nothing.
"""
