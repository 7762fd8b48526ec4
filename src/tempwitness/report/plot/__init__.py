"""What a chart shows, before it is drawn on paper or on a screen."""
