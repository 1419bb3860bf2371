"""All that knows the site generator and its theme: the room to change when another takes its place."""
