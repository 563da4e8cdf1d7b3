"""The document tree and the ledger of print characters it points into."""
