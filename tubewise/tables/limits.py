"""How large a file of paints may be, so that none stops the tool."""

MAX_BYTES = 64 * 2**20
MAX_UNPACKED_BYTES = 512 * 2**20
MAX_PARTS = 2_000
MAX_ROWS = 250_000
MAX_COLUMNS = 200
MAX_CELLS = 25_000_000
MAX_CELL = 10_000
MAX_PROBLEMS = 200
HEADER_WITHIN = 20
