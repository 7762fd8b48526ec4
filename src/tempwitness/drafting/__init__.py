"""A record written from answers: the answers read, put together and turned into TOML text."""
