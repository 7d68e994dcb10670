"""The sheets: each knows the job and what its reader needs, and nothing of file formats."""
