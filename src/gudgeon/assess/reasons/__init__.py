"""Why a part is proposed as it is: measured, seen, heard, disturbed, run, and what stands beside it."""
