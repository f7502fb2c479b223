"""The sheet as a place to learn in: its hands, one hand alone, what it leans on, what changed since the last."""
