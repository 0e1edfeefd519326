"""The web: HTTP answers and pages. Flask stays in this folder."""
