"""The desk: the job lying open, its state, tries and edits, cures, what is put in and taken out."""
