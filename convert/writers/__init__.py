"""Finished books to files: cell files, the report, the proof, the trace."""
