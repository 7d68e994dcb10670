"""The picture sheet, for the client."""
