"""Start-up checks."""
