"""What sheets share: frame and title block, tables, words that fit their room."""
