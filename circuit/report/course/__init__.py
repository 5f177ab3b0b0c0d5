"""The course: ten lessons, as pages and as papers."""
