"""The schema of the store, step by step; a step that was released is never changed."""
