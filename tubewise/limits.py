"""The most that anything from outside may cost, in one place.

What happens beyond each is told in docs/security.md. Limits of the trade (parts that can be
counted, paints that fit on a palette) stand where its rules do; these only keep the tool running.
"""

from __future__ import annotations

from typing import Final

MB: Final = 2**20
GB: Final = 2**30

# Tables of paints, boxes, lists: CSV and workbooks.
MAX_BYTES = 64 * MB  # of a file
MAX_UNPACKED_BYTES = 256 * MB  # of all parts of a workbook, as they really unpack
MAX_PARTS = 2_000  # files within a workbook
MAX_ROWS = 250_000  # that hold anything
MAX_ROW_NUMBER = 1_048_576  # as numbered; no spreadsheet goes further
MAX_COLUMNS = 200  # that hold anything
MAX_COLUMN_NUMBER = 16_384  # as lettered; no spreadsheet goes further
MAX_CELLS = 5_000_000  # of a workbook, empty ones between others too
MAX_MERGED = 20_000  # ranges of merged cells in a workbook
MAX_SHARED_STRINGS = 2_000_000  # texts that a workbook's cells share
MAX_CELL = 10_000  # characters
MAX_PROBLEMS = 200  # faults of one file that are listed
HEADER_WITHIN = 20  # rows
WORKBOOK_SECONDS = 60.0  # for reading one, in a process of its own
WORKBOOK_MEMORY = 3 * GB  # address space of that process, in bytes

# Readings: CGATS, CxF3, JSON, spectral CSV.
MOST_READING_BYTES: Final = 64 * MB
MOST_READINGS: Final = 20_000  # spectra in a file
MOST_DEPTH: Final = 200  # elements within elements

# Pictures.
MOST_PICTURE_BYTES: Final = 40 * MB  # of a file
MOST_PIXELS: Final = 50_000_000  # of a picture; telephones take 12 to 50 million
LEAST_SIDE: Final = 64  # pixels; nothing can be read on less
MOST_MEMORY: Final = 6 * GB  # address space of the process that reads, in bytes
MOST_SECONDS: Final = 150.0  # for one picture; a box of twelve takes some ten on two idle cores

# Requests.
MAX_BODY: Final = 8 * MB
MOST_PHOTOGRAPHS_SENT: Final = 96 * MB  # several come at once; each is bounded again
MAX_ADDRESS: Final = 8_000  # characters

# Connections.
MOST_CONNECTIONS: Final = 512  # open at once
MOST_FROM_ONE_PLACE: Final = 128  # of those, from one address that is not this machine's
HEADER_SECONDS: Final = 10.0  # from a connection's first moment to the end of a request's head
BODY_SECONDS: Final = 20.0  # for a body that hardly comes
BODY_BYTES_A_SECOND: Final = 16_000  # each so many bytes give it a second more
MOST_BODY_SECONDS: Final = 900.0  # for any body
UNREAD_SECONDS: Final = 60.0  # that an answer may wait for its reader to take any of it

# Long questions: recipes, stand-ins, palettes, classes, sheets; and files that are being read.
MOST_ASKED_EACH: Final = 3  # by one visitor and not answered yet
MOST_ASKED_FROM_ONE_PLACE: Final = 12  # from one address that is not this machine's
MOST_ASKED: Final = 24  # in all; equal questions count once
MOST_FILES_READ: Final = 6  # tables and readings sent by visitors, at once, in all
MOST_PHOTOGRAPH_JOBS: Final = 16  # photographs sent, being read or waiting to be confirmed
PHOTOGRAPHS_KEPT_S: Final = 3600.0  # seconds that a reading waits to be confirmed
ANSWER_SECONDS: Final = 300.0  # for one question, then its process is ended
ANSWER_MEMORY: Final = 8 * GB  # address space of that process
WAIT_SECONDS: Final = 20.0  # that a request waits; then the page asks again by itself
