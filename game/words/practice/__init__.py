"""Practice in words: moments of play, the film, lessons."""
