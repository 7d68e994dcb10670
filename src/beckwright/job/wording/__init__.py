"""Problems told in plain words, with the line of the file they stand on."""
