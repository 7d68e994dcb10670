"""The writers: they know paper and file formats, and nothing of the job."""
