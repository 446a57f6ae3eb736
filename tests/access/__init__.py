"""Who gets what answer from every address of the portal."""
