"""The desk: a page in the browser, served to this computer alone. It asks the same calls as the commands."""
