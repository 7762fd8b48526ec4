"""Event files and the papers that are made from them."""
