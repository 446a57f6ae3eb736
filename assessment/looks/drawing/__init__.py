"""What a teacher draws over a photo: kept as strokes, the picture itself is never touched."""
