"""Thence checks derivations of a first mechanics course, line by line."""

import logging

# Defects are logged with their traceback; nothing is shown unless whoever runs the program asks for the log.
logging.getLogger(__name__).addHandler(logging.NullHandler())
