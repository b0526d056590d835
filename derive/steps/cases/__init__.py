"""Lost and extra cases: under which condition a line holds."""
