"""What the owner keeps: pages, care card, the year."""
